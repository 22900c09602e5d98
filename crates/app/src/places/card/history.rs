//! All scores of the tree and the events of its row, by season, the latest first; and how diseases
//! went on in each season.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use language::say;
use leptos::prelude::*;
use plot::{Event, Plot, Reading, Score, Season, TreeIx};
use scene::words;
use season::TreeProgress;
use time::Date;

use crate::parts::lean::{changing, element, said};
use crate::state::App;

/// The history, the latest season open.
pub fn history(app: App, tree: TreeIx) -> AnyView {
    let seasons = move || app.plot(|plot| seasons(plot, tree)).unwrap_or_default().into_any();
    element(
        "section",
        "history",
        vec![said("h3", "", say!("Scores and events")), changing(seasons)],
    )
}

/// What one season holds.
#[derive(Default)]
struct Held<'a> {
    scores: Vec<&'a Score>,
    events: Vec<&'a Event>,
}

fn seasons(plot: &Plot, tree: TreeIx) -> Vec<AnyView> {
    let mut seasons: BTreeMap<Reverse<Season>, Held<'_>> = BTreeMap::new();
    for (_, score) in plot.scores_of(tree) {
        seasons.entry(Reverse(plot.season_of(score))).or_default().scores.push(score);
    }
    let never = seasons.is_empty();
    for event in events(plot, tree) {
        let season = plot.season_on(event.from);
        seasons.entry(Reverse(season)).or_default().events.push(event);
    }
    let mut parts = Vec::new();
    if never {
        parts.push(said("p", "hint", say!("Never scored. The walk takes scores.")));
    }
    let sprayed = seasons.values().any(|held| held.events.iter().any(|event| event.is_spray()));
    let curves = curves(plot, tree);
    parts.extend(seasons.into_iter().enumerate().map(|(nth, (Reverse(season), held))| {
        let of_season = curves.iter().filter(|(_, curve)| curve.season == season);
        of_one(plot, season, nth == 0, held, of_season)
    }));
    if sprayed {
        parts.push(said("p", "caution", words::cautions::sprays()));
    }
    parts
}

/// Events of its row while it stood there.
fn events(plot: &Plot, tree: TreeIx) -> impl Iterator<Item = &Event> {
    let one = plot.tree(tree);
    let (planted, removed) = (one.draft().planted_on, one.draft().removed_on);
    plot.events().iter().filter(move |event| {
        event.concerns(one.row())
            && planted.is_none_or(|planted| event.to >= planted)
            && removed.is_none_or(|removed| event.from <= removed)
    })
}

/// How each trait of a disease went on, with the trait's name.
fn curves(plot: &Plot, tree: TreeIx) -> Vec<(&str, TreeProgress)> {
    let diseases = plot.diseases().into_iter();
    let traits = diseases.flat_map(|disease| plot.traits_of_disease(disease));
    let of_trait = |ix| {
        let label = plot.trait_of(ix).label.as_str();
        season::progress_of_tree(plot, ix, tree).into_iter().map(move |curve| (label, curve))
    };
    traits.flat_map(of_trait).collect()
}

fn of_one<'a>(
    plot: &Plot,
    season: Season,
    open: bool,
    held: Held<'_>,
    curves: impl Iterator<Item = &'a (&'a str, TreeProgress)>,
) -> AnyView {
    let name = say!("Season {season}", season = words::season_name(plot, season));
    let mut lines: Vec<(Date, AnyView)> = Vec::new();
    let mut scores = held.scores;
    scores.sort_by(|a, b| b.scored_on.cmp_in_time(&a.scored_on));
    lines.extend(scores.iter().map(|score| (score.scored_on.date(), line(plot, score))));
    lines.extend(held.events.iter().map(|event| (event.from, happened(event))));
    lines.sort_by_key(|(day, _)| Reverse(*day));
    let lines: Vec<AnyView> = lines.into_iter().map(|(_, line)| line).collect();
    let area = |(label, curve): &(&str, TreeProgress)| {
        let told = words::progress(curve)?;
        Some(said("p", "hint history-progress", format!("{label}: {told}.")))
    };
    let areas: Vec<AnyView> = curves.filter_map(area).collect();
    view! { <details open=open><summary>{name}</summary><ul>{lines}</ul>{areas}</details> }
        .into_any()
}

/// An event among the scores.
fn happened(event: &Event) -> AnyView {
    let day = said("span", "history-day", words::day(event.from));
    element("li", "history-event", vec![day, said("span", "", words::event(event))])
}

fn line(plot: &Plot, score: &Score) -> AnyView {
    let one = plot.trait_of(score.trait_ix);
    let mut day = vec![words::when(score.scored_on).into_any()];
    if let Some(round) = &score.round {
        day.push(said("span", "hint", say!("round {round}")));
    }
    let mut words = vec![
        said("span", "history-label", format!("{} ", one.label)),
        said("span", "history-score", words::score(one, score.value)),
    ];
    words.extend(score.note.as_ref().map(|note| said("span", "hint", note.to_string())));
    let class = match plot.reading(score) {
        Some(Reading::Infected(_)) => "history-infected",
        Some(Reading::Clean) => "history-clean",
        _ => "history-other",
    };
    element("li", class, vec![element("span", "history-day", day), element("span", "", words)])
}
