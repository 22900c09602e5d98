//! Where to begin: the plot as a small picture with its four corners to tap, and the way drawn in.

use language::say;
use leptos::prelude::*;
use walk::{End, Way, Wish};

use crate::state::app;

/// Rows drawn in the picture, however many there are.
const DRAWN: usize = 5;

/// The four corners.
#[component]
pub fn CornerChoice(wish: RwSignal<Wish>) -> impl IntoView {
    let names = app()
        .look_up(|_, look| {
            let rows = look.rows.all();
            let row = |row: Option<&walk::Row>| row.map_or(0, |row| row.number);
            (
                row(rows.first()),
                row(rows.last()),
                look.ends.name(End::Low).to_owned(),
                look.ends.name(End::High).to_owned(),
            )
        })
        .unwrap_or_default();
    let corner = move |first_row: End, first_place: End| {
        let (row, end) = (
            if first_row == End::Low { names.0 } else { names.1 },
            if first_place == End::Low { names.2.clone() } else { names.3.clone() },
        );
        let is = move || {
            wish.with(|wish| (wish.first_row, wish.first_place) == (first_row, first_place))
        };
        view! {
            <label class="corner">
                <input
                    type="radio"
                    name="walk-corner"
                    prop:checked=is
                    on:change=move |_| wish.update(|wish| {
                        (wish.first_row, wish.first_place) = (first_row, first_place);
                    })
                />
                <span>{say!("Row {row}")} <br/> {end}</span>
            </label>
        }
    };
    view! {
        <fieldset class="corners">
            <legend>{say!("Begin at")}</legend>
            {corner.clone()(End::High, End::Low)}
            {corner.clone()(End::High, End::High)}
            <svg class="corner-way" viewBox="0 0 320 84" role="img" aria-label=say!("How the walk goes")>
                <polyline points=move || wish.with(way_drawn) />
                <polygon points=move || wish.with(arrow_drawn) />
                <circle r="6" cx=move || wish.with(|wish| end_x(wish.first_place)) cy=move || wish.with(|wish| row_y(wish, 0)) />
            </svg>
            {corner.clone()(End::Low, End::Low)}
            {corner(End::Low, End::High)}
        </fieldset>
    }
}

fn way_drawn(wish: &Wish) -> String {
    let mut from = wish.first_place;
    let mut points = Vec::new();
    for nth in 0..DRAWN {
        let y = row_y(wish, nth);
        points.push(format!("{},{y} {},{y}", end_x(from), end_x(from.other())));
        if wish.way == Way::Serpentine {
            from = from.other();
        }
    }
    points.join(" ")
}

/// The tip of the first row shows which way it is walked.
fn arrow_drawn(wish: &Wish) -> String {
    let (y, tip) = (row_y(wish, 0), end_x(wish.first_place.other()));
    let back = if wish.first_place == End::Low { tip - 12 } else { tip + 12 };
    format!("{tip},{y} {back},{} {back},{}", y - 6, y + 6)
}

/// Row 1 lies below, as on the map.
fn row_y(wish: &Wish, nth: usize) -> usize {
    let nth = if wish.first_row == End::Low { DRAWN - 1 - nth } else { nth };
    10 + nth * 64 / (DRAWN - 1)
}

fn end_x(end: End) -> usize {
    match end {
        End::Low => 10,
        End::High => 310,
    }
}
