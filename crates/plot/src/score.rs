//! Scores: one line of a walk-through, and what a later line makes of an earlier one.

use std::sync::Arc;

use crate::{ScoreId, TraitId, TraitIx, TreeId, TreeIx, When};

/// A score as a file or a thumb gives it, not yet part of a plot.
#[derive(Clone, Debug, PartialEq)]
pub struct ScoreDraft {
    /// Unique for ever.
    pub id: ScoreId,
    /// Which tree.
    pub tree: TreeId,
    /// Which trait.
    pub trait_id: TraitId,
    /// The value; none: looked for but could not be scored.
    pub value: Option<f64>,
    /// When.
    pub scored_on: When,
    /// Name or number of the walk-through.
    pub round: Option<Arc<str>>,
    /// Who.
    pub scorer: Option<Arc<str>>,
    /// Free words; the reason where there is no value.
    pub note: Option<Arc<str>>,
    /// The score that this one corrects; without a value it withdraws it.
    pub replaces: Option<ScoreId>,
}

/// A score of a plot: tree and trait exist, the value lies on the scale.
#[derive(Clone, Debug, PartialEq)]
pub struct Score {
    /// Unique for ever.
    pub id: ScoreId,
    /// Which tree.
    pub tree: TreeIx,
    /// Which trait.
    pub trait_ix: TraitIx,
    /// The value; none: looked for but could not be scored.
    pub value: Option<f64>,
    /// When.
    pub scored_on: When,
    /// Name or number of the walk-through.
    pub round: Option<Arc<str>>,
    /// Who.
    pub scorer: Option<Arc<str>>,
    /// Free words; the reason where there is no value.
    pub note: Option<Arc<str>>,
    /// The score that this one corrects; without a value it withdraws it.
    pub replaces: Option<ScoreId>,
}

impl Score {
    /// Whether this line only takes an earlier one back.
    pub fn is_withdrawal(&self) -> bool {
        self.value.is_none() && self.replaces.is_some()
    }
}

/// What a score says about a disease: never mixed up with one another.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Reading {
    /// Looked at, and clean.
    Clean,
    /// Infected, with the share of tissue affected (above 0, up to 1).
    Infected(f64),
    /// Looked for but could not be scored, or a value that only says so.
    Unseen,
}
