//! Where a copy would be tested soonest: the places where disease presses hardest.

use std::sync::Arc;

use language::say;
use leptos::prelude::*;
use proof::{BusyPlace, Report};
use scene::words;
use walk::Whereabouts;

use crate::route::Route;
use crate::state::app;

/// The busiest places, each leading to its tree on the map; nothing without a fit.
#[component]
pub fn BusyPlaces(report: Arc<Report>) -> impl IntoView {
    let places = app().look_up(|plot, look| {
        let said = |busy: &BusyPlace| {
            let tree = plot.tree(busy.tree);
            let place = Whereabouts::of(plot, &look.rows, busy.tree).sentence(plot, &look.ends);
            let dose = words::number((busy.season_dose * 10.0).round() / 10.0);
            (tree.name(), Route::Tree { id: tree.id().to_string() }.address(), place, dose)
        };
        report.busy_places.iter().map(said).collect::<Vec<_>>()
    });
    let line = |(name, address, place, dose): (String, String, String, String)| {
        view! {
            <li>
                <a href=address>{name}</a>
                {say!(": {place} {dose} infections expected.")}
            </li>
        }
    };
    places.filter(|places| !places.is_empty()).map(|places| {
        view! {
            <section aria-labelledby="proof-busy">
                <h2 id="proof-busy">{say!("Where a copy would be tested soonest")}</h2>
                <p class="hint">
                    {say!("The places where disease presses hardest, by the infections expected of a \
                     typical susceptible seedling in an ordinary season. A graft of a clean tree \
                     that stays clean there tells more than one in a quiet corner.")}
                </p>
                <ul class="busy-places">{places.into_iter().map(line).collect_view()}</ul>
            </section>
        }
    })
}
