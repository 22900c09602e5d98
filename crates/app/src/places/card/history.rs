//! All scores of the tree, by season and round, the latest first.

use leptos::prelude::*;
use plot::{Plot, Reading, Score, TreeIx};
use scene::words;

use crate::parts::lean::{changing, element, said};
use crate::state::App;

/// The history, the latest season open.
pub fn history(app: App, tree: TreeIx) -> AnyView {
    let seasons = move || app.plot(|plot| seasons(plot, tree)).unwrap_or_default().into_any();
    element("section", "history", vec![said("h3", "", "Scores"), changing(seasons)])
}

fn seasons(plot: &Plot, tree: TreeIx) -> Vec<AnyView> {
    let mut scores: Vec<&Score> = plot.scores_of(tree).map(|(_, score)| score).collect();
    scores.sort_by(|a, b| b.scored_on.cmp_in_time(&a.scored_on));
    if scores.is_empty() {
        return vec![said("p", "hint", "Never scored. The walk takes scores.")];
    }
    let seasons = scores.chunk_by(|a, b| plot.season_of(a) == plot.season_of(b));
    seasons.enumerate().map(|(nth, scores)| season(plot, nth == 0, scores)).collect()
}

fn season(plot: &Plot, open: bool, scores: &[&Score]) -> AnyView {
    let name = format!("Season {}", words::season_name(plot, plot.season_of(scores[0])));
    let lines: Vec<AnyView> = scores.iter().map(|score| line(plot, score)).collect();
    view! { <details open=open><summary>{name}</summary><ul>{lines}</ul></details> }.into_any()
}

fn line(plot: &Plot, score: &Score) -> AnyView {
    let one = plot.trait_of(score.trait_ix);
    let mut day = vec![words::when(score.scored_on).into_any()];
    if let Some(round) = &score.round {
        day.push(said("span", "hint", format!("round {round}")));
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
