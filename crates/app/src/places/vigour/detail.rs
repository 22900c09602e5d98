//! One tree over the seasons: what was measured, its growth, the trend and the adjusted number.

use std::sync::Arc;

use judge::Grown;
use language::say;
use leptos::prelude::*;
use plot::{Plot, TreeIx};
use scene::words;
use vigour::Line;
use walk::Whereabouts;

use super::{signed, two};
use crate::parts::lean::{element, said};
use crate::route::Route;
use crate::state::app;

/// What is known of the chosen tree.
#[component]
pub fn Detail(
    grown: Arc<Grown>,
    tree: TreeIx,
    /// Of the number that is adjusted, with a space before it.
    unit: String,
    close: impl Fn() + 'static,
) -> impl IntoView {
    let told = app().look_up(|plot, look| {
        let one = plot.tree(tree);
        let place = Whereabouts::of(plot, &look.rows, tree).sentence(plot, &look.ends);
        let lines = grown.vigour.lines.iter().filter(|line| line.measured.tree == tree);
        let rows: Vec<AnyView> = lines.map(|line| season(plot, line)).collect();
        let address = Route::Tree { id: one.id().to_string() }.address();
        (one.name(), words::parentage(one), place, rows, address)
    });
    let Some((name, parents, place, rows, address)) = told else { return ().into_any() };
    let caption = match unit.as_str() {
        "" => say!("Season by season").to_owned(),
        unit => say!("Season by season, in{unit}, with the 90\u{a0}% interval"),
    };
    let rows = match rows.is_empty() {
        true => said("p", "", say!("It was never measured.")),
        false => view! {
            <div class="scroll">
                <table class="vigour-history">
                    <caption>{caption}</caption>
                    <thead><tr>
                        <th scope="col">{say!("season")}</th>
                        <th scope="col" class="number">{say!("measured")}</th>
                        <th scope="col" class="number">{say!("growth")}</th>
                        <th scope="col" class="number">{say!("place")}</th>
                        <th scope="col" class="number">{say!("adjusted")}</th>
                    </tr></thead>
                    <tbody>{rows}</tbody>
                </table>
            </div>
        }
        .into_any(),
    };
    view! {
        <article class="proof-detail" aria-labelledby="vigour-detail">
            <header>
                <h2 id="vigour-detail">{name}</h2>
                <button class="button button-small proof-close" on:click=move |_| close()>{say!("Close")}</button>
            </header>
            {parents.map(|parents| said("p", "hint", parents))}
            <p>{place}</p>
            {rows}
            <p class="row"><a class="button button-first" href=address>{say!("See it on the map")}</a></p>
        </article>
    }
    .into_any()
}

fn season(plot: &Plot, line: &Line) -> AnyView {
    let measured = &line.measured;
    let none = || "–".to_owned();
    let number = measured.number().map_or_else(|| say!("could not be").to_owned(), two);
    let growth = measured.growth.map_or_else(none, |growth| signed(growth.area_cm2));
    let adjusted = line.adjusted;
    let place = adjusted.map_or_else(none, |value| signed(value.trend));
    let interval = adjusted.map(|value| {
        let (low, high) = value.interval_90();
        said("span", "hint", say!("{low} to {high}", low = two(low), high = two(high)))
    });
    let adjusted = adjusted.map_or_else(none, |value| two(value.adjusted)).into_any();
    let name = words::season_name(plot, measured.season);
    let mut cells = vec![view! { <th scope="row">{name}</th> }.into_any()];
    cells.extend([number, growth, place].map(|words| said("td", "number", words)));
    cells.push(element("td", "number", vec![adjusted, interval.into_any()]));
    element("tr", "", cells)
}
