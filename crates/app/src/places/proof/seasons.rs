//! How hard each season tested, said before any verdict.

use std::sync::Arc;

use language::say;
use leptos::prelude::*;
use proof::{Report, SeasonStrength};
use scene::words;
use season::Strength;

use crate::state::app;

/// For each season how hard it tested, why one thinks so, and the share of susceptible checks that
/// took the disease.
#[component]
pub fn Seasons(report: Arc<Report>) -> impl IntoView {
    let lines = app().book_now(|book| {
        let line = |seen: &SeasonStrength| {
            let plot = book.plot();
            let test = words::season_test(plot, book.weather(), &report.disease, seen);
            let said = words::season(plot, &report.disease, seen, &test);
            (test.tested.strength, words::season_name(plot, seen.season), bar(seen), said)
        };
        report.seasons.iter().map(line).collect::<Vec<_>>()
    });
    let line = |(strength, name, bar, said): (Strength, String, AnyView, Vec<String>)| {
        let mut said = said.into_iter();
        let first = said.next();
        view! {
            <li class:season-weak=strength < Strength::Fair>
                <h3>{name} ": " {words::strength(strength)}</h3>
                {bar}
                <p>{first}</p>
                {said.map(|words| view! { <p class="hint">{words}</p> }).collect_view()}
            </li>
        }
    };
    view! {
        <section aria-labelledby="proof-seasons">
            <h2 id="proof-seasons">{say!("How hard the seasons tested")}</h2>
            <ul class="season-list">{lines.unwrap_or_default().into_iter().map(line).collect_view()}</ul>
        </section>
    }
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
