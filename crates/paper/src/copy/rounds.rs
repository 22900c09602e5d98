//! The scores of a tree by trait and season, in the order of the rounds, and when those were.

use std::fmt::Write as _;

use language::say;
use plot::{Plot, Round, TraitIx, TreeIx};
use scene::{escaped, words};

use crate::html::table;
use crate::{Column, Table};

/// Rounds of each trait, in time.
pub(super) struct Rounds {
    rounds: Vec<Vec<Round>>,
    /// By tree: trait, round and value of each score that stands.
    scores: Vec<Vec<(u32, u32, Option<f64>)>>,
}

impl Rounds {
    pub(super) fn of(plot: &Plot) -> Self {
        let mut rounds = Vec::new();
        let mut scores: Vec<Vec<(u32, u32, Option<f64>)>> = vec![Vec::new(); plot.trees().len()];
        for nth in 0..plot.head().traits.len() {
            let (own, by_round) = plot.by_round(|score| score.trait_ix == TraitIx::new(nth));
            for (ix, round) in by_round {
                let score = plot.score(ix);
                scores[score.tree.get()].push((nth as u32, round as u32, score.value));
            }
            rounds.push(own);
        }
        // Stable: of one round those taken in later come later.
        scores.iter_mut().for_each(|own| own.sort_by_key(|&(of, round, _)| (of, round)));
        Self { rounds, scores }
    }

    /// `Scab on leaves 2029: 1 2 – 6; 2030: 1 1`: a value for each round of a season, a dash where
    /// there is none, `x` where it could not be scored.
    pub(super) fn history(&self, out: &mut String, plot: &Plot, tree: TreeIx) {
        for own in self.scores[tree.get()].chunk_by(|a, b| a.0 == b.0) {
            let nth = own[0].0 as usize;
            let _ = write!(out, "<p>{}", escaped(&plot.head().traits[nth].label));
            let rounds = &self.rounds[nth];
            let mut first = 0;
            for season in rounds.chunk_by(|a, b| a.season == b.season) {
                let span = first as u32..(first + season.len()) as u32;
                first += season.len();
                if !own.iter().any(|(_, round, _)| span.contains(round)) {
                    continue;
                }
                let _ = write!(out, " · {}:", words::season_name(plot, season[0].season));
                for round in span {
                    let values = own.iter().filter(|it| it.1 == round).map(|it| it.2);
                    let told: Vec<String> = values
                        .map(|value| value.map_or_else(|| "x".to_owned(), words::number))
                        .collect();
                    let _ = write!(
                        out,
                        " {}",
                        if told.is_empty() { "–".to_owned() } else { told.join("/") }
                    );
                }
            }
            out.push_str("</p>\n");
        }
    }

    /// When the rounds were, and how the history is read.
    pub(super) fn html(&self, plot: &Plot) -> String {
        let mut rows = Vec::new();
        for (one, rounds) in plot.head().traits.iter().zip(&self.rounds) {
            for season in rounds.chunk_by(|a, b| a.season == b.season) {
                let days: Vec<String> = season.iter().map(|it| words::day(it.first_day)).collect();
                rows.push(vec![
                    one.label.clone(),
                    words::season_name(plot, season[0].season),
                    days.join("; "),
                ]);
            }
        }
        if rows.is_empty() {
            return String::new();
        }
        let columns =
            [say!("Trait"), say!("Season"), say!("Rounds began on")].map(Column::words).to_vec();
        let caption = say!(
            "A card has the scores of a season in the order of these rounds: – where there is none, \
             x where it could not be scored."
        )
        .to_owned();
        let scales = plot.head().traits.iter().filter_map(|one| match &one.kind {
            plot::Kind::Ordinal(scale) => {
                let step = |it: &plot::Step| format!("{} {}", words::number(it.value), it.label);
                let steps: Vec<String> = scale.steps().iter().map(step).collect();
                Some(format!("<li>{}: {}</li>\n", escaped(&one.label), escaped(&steps.join("; "))))
            }
            plot::Kind::Number { .. } => None,
        });
        let scales: String = scales.collect();
        format!(
            "<h2>{}</h2>\n{}<ul>\n{scales}</ul>\n",
            say!("Rounds and scales"),
            table(&Table { caption, columns, rows })
        )
    }
}
