//! How hard each season tested, said before any verdict.

use std::sync::Arc;

use leptos::prelude::*;
use proof::{Report, SeasonStrength};
use scene::words::{self, Strength};

use crate::state::app;

/// A sentence for each season, with the share of susceptible checks that took the disease.
#[component]
pub fn Seasons(report: Arc<Report>) -> impl IntoView {
    let lines = app().plot_now(|plot| {
        let said = |season: &SeasonStrength| {
            (words::season(plot, &report.disease, season), bar(season), weak(season))
        };
        report.seasons.iter().map(said).collect::<Vec<_>>()
    });
    let line = |(words, bar, weak): (String, AnyView, bool)| {
        view! { <li class:season-weak=weak>{bar}<span>{words}</span></li> }
    };
    view! {
        <section aria-labelledby="proof-seasons">
            <h2 id="proof-seasons">"How hard the seasons tested"</h2>
            <ul class="season-list">{lines.unwrap_or_default().into_iter().map(line).collect_view()}</ul>
        </section>
    }
}

fn weak(season: &SeasonStrength) -> bool {
    matches!(words::strength(season), Strength::Nothing | Strength::Little | Strength::Unknown)
}

/// One box for each check, full where it took the disease: twelve at most, then in proportion.
fn bar(season: &SeasonStrength) -> AnyView {
    const BOXES: usize = 12;
    let all = season.checks_scored.min(BOXES);
    let full = if season.checks_scored <= BOXES {
        season.checks_infected
    } else {
        (season.checks_infected * BOXES).div_ceil(season.checks_scored)
    };
    let boxes = (0..all).map(|nth| view! { <span class:box-full=nth < full></span> });
    view! { <span class="season-boxes" aria-hidden="true">{boxes.collect_view()}</span> }.into_any()
}
