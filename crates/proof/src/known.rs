//! What was known of one tree's disease up to a moment.

use std::sync::Arc;

use plot::{Plot, Score, TraitIx, TreeIx, When};

use crate::Span;

/// What was known of a tree's disease.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Known {
    /// Its worst score, the earliest of several: trait, value as written, and when. None: never
    /// usably scored.
    pub worst: Option<(TraitIx, f64, When)>,
    /// Severity of that score, 0 to 1; 0 is clean.
    pub severity: Option<f64>,
    /// When it was first seen infected.
    pub infected: Option<Look>,
    /// When it was last usably looked at.
    pub looked: Option<Look>,
}

/// A look at a tree.
#[derive(Clone, Debug, PartialEq)]
pub struct Look {
    /// When.
    pub on: When,
    /// Name or number of the walk-through, where it has one.
    pub round: Option<Arc<str>>,
}

impl Known {
    /// Of a tree, from the scores of a disease's traits up to a moment.
    pub fn of(plot: &Plot, tree: TreeIx, disease: &str, span: Span) -> Self {
        let mut known = Self::default();
        for (_, score) in plot.scores_of(tree) {
            let is_of_it = plot.trait_of(score.trait_ix).disease.as_deref() == Some(disease);
            if !is_of_it || !span.counts(plot, score) {
                continue;
            }
            if let (Some(severity), Some(value)) = (plot.shown_severity(score), score.value) {
                known.add(score, value, severity);
            }
        }
        known
    }

    /// Whether it was seen infected.
    pub fn is_infected(&self) -> bool {
        self.infected.is_some()
    }

    fn add(&mut self, score: &Score, value: f64, severity: f64) {
        let on = score.scored_on;
        let earlier = |than: When| on.cmp_in_time(&than).is_lt();
        let look = || Look { on, round: score.round.clone() };
        let beats = match (self.worst, self.severity) {
            (Some((_, _, when)), Some(worst)) => {
                severity > worst || (severity == worst && earlier(when))
            }
            _ => true,
        };
        if beats {
            self.worst = Some((score.trait_ix, value, on));
            self.severity = Some(severity);
        }
        if severity > 0.0 && self.infected.as_ref().is_none_or(|first| earlier(first.on)) {
            self.infected = Some(look());
        }
        if self.looked.as_ref().is_none_or(|last| !earlier(last.on)) {
            self.looked = Some(look());
        }
    }
}
