//! A new plot: rows, places and spacings give a tree for every place.

use leptos::prelude::*;
use plot::{Head, Layout, Plot, Refusal, Trait, TreeDraft, TreeId, WhereGiven, scales};

use crate::state::app;

/// Most trees that a new plot may begin with.
const TREES: u32 = 100_000;

/// The form that makes a plot.
#[component]
pub fn NewPlotForm() -> impl IntoView {
    let app = app();
    let name = RwSignal::new(String::new());
    let rows = RwSignal::new("10".to_owned());
    let places = RwSignal::new("40".to_owned());
    let row_spacing_m = RwSignal::new("3.0".to_owned());
    let place_spacing_m = RwSignal::new("0.75".to_owned());
    let traits: Vec<(Trait, RwSignal<bool>)> =
        scales::starters().into_iter().map(|one| (one, RwSignal::new(true))).collect();
    let traits = StoredValue::new(traits);
    let refused = RwSignal::new(None::<Refusal>);

    let make = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        let wanted = traits.with_value(|traits| {
            let wanted = traits.iter().filter(|(_, wanted)| wanted.get_untracked());
            wanted.map(|(one, _)| one.clone()).collect::<Vec<Trait>>()
        });
        let made = size(&rows.get_untracked(), "rows").and_then(|rows| {
            let new = NewPlot {
                name: name.get_untracked().trim().to_owned(),
                rows,
                places: size(&places.get_untracked(), "places")?,
                row_spacing_m: metres(&row_spacing_m.get_untracked(), "row_spacing_m")?,
                place_spacing_m: metres(&place_spacing_m.get_untracked(), "place_spacing_m")?,
                traits: wanted,
            };
            new.make()
        });
        match made {
            Ok(plot) => app.open_new(plot),
            Err(refusal) => refused.set(Some(refusal)),
        }
    };
    let trait_box = move |(one, wanted): (Trait, RwSignal<bool>)| {
        view! {
            <label class="check">
                <input type="checkbox" bind:checked=wanted />
                {one.label}
            </label>
        }
    };
    view! {
        <form class="new-plot" on:submit=make>
            <label class="field field-wide">
                <span>"Name of the plot"</span>
                <input type="text" required maxlength="120" bind:value=name />
            </label>
            <label class="field">
                <span>"Rows"</span>
                <input type="text" inputmode="numeric" required bind:value=rows />
            </label>
            <label class="field">
                <span>"Places in a row"</span>
                <input type="text" inputmode="numeric" required bind:value=places />
            </label>
            <label class="field">
                <span>"Metres between rows"</span>
                <input type="text" inputmode="decimal" required bind:value=row_spacing_m />
            </label>
            <label class="field">
                <span>"Metres between places"</span>
                <input type="text" inputmode="decimal" required bind:value=place_spacing_m />
            </label>
            <fieldset class="field-wide">
                <legend>"What will be scored"</legend>
                {traits.get_value().into_iter().map(trait_box).collect_view()}
            </fieldset>
            {move || {
                refused.get().map(|refusal| {
                    view! {
                        <p class="fault field-wide" role="alert">
                            {format!(
                                "{}: {}; expected {}.",
                                field_name(refusal.column), refusal.found, refusal.expected
                            )}
                        </p>
                    }
                })
            }}
            <button class="button button-first field-wide" type="submit">"Plant it"</button>
        </form>
    }
}

struct NewPlot {
    name: String,
    rows: i32,
    places: i32,
    row_spacing_m: f64,
    place_spacing_m: f64,
    traits: Vec<Trait>,
}

impl NewPlot {
    /// A tree at every place, named by row and place.
    fn make(self) -> Result<Plot, Refusal> {
        if i64::from(self.rows) * i64::from(self.places) > i64::from(TREES) {
            let found = format!("{} rows of {} places", self.rows, self.places);
            return Err(Refusal::new("rows", found, format!("at most {TREES} trees")));
        }
        if self.traits.is_empty() {
            return Err(Refusal::new("traits", "nothing ticked", "at least one thing to score"));
        }
        let mut plot = Plot::new(Head {
            name: self.name,
            layout: Layout {
                row_spacing_m: self.row_spacing_m,
                place_spacing_m: self.place_spacing_m,
                first_row: 1,
                first_place: 1,
            },
            origin: None,
            season_starts_month: 1,
            traits: self.traits,
            crosses: Vec::new(),
        })?;
        for row in 1..=self.rows {
            for place in 1..=self.places {
                let mut tree = TreeDraft::new(TreeId::new(format!("{row}-{place}")));
                tree.location =
                    WhereGiven { row: Some(row), place: Some(place), ..WhereGiven::default() };
                plot.add_tree(tree)?;
            }
        }
        Ok(plot)
    }
}

/// A count that a person typed.
fn size(text: &str, column: &'static str) -> Result<i32, Refusal> {
    match text.trim().parse() {
        Ok(number @ 1..=9999) => Ok(number),
        _ => Err(Refusal::new(column, found(text), "a whole number from 1 to 9999")),
    }
}

/// Metres that a person typed, with a dot or a comma.
fn metres(text: &str, column: &'static str) -> Result<f64, Refusal> {
    let number = text.trim().replace(',', ".").parse();
    number.map_err(|_| Refusal::new(column, found(text), "metres, such as 0.75"))
}

fn found(text: &str) -> String {
    match text.trim() {
        "" => "nothing".to_owned(),
        text => format!("\"{text}\""),
    }
}

fn field_name(column: &str) -> &str {
    match column {
        "rows" => "Rows",
        "places" => "Places in a row",
        "layout.row_spacing_m" | "row_spacing_m" => "Metres between rows",
        "layout.place_spacing_m" | "place_spacing_m" => "Metres between places",
        "traits" => "What will be scored",
        other => other,
    }
}
