//! What this browser remembers of a walk beside its scores: how it was set up and where one stood.
//!
//! Scores are not kept here: they are the keeper's. Losing this costs a few taps.

use std::sync::Arc;

use plot::{Plot, Season, TraitIx};
use serde::{Deserialize, Serialize};
use walk::{Bookmark, Setup, Wish};

use crate::work::kept::{For, keep, kept};

/// The name under which it is kept.
const NAME: &str = "walk";

/// A walk of one plot.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Remembered {
    /// Whether it is being walked now.
    pub on_the_way: bool,
    /// Season in which it is walked.
    pub season: Season,
    /// Name of the round.
    pub round: String,
    /// Traits by id.
    pub traits: Vec<String>,
    /// The route.
    pub wish: Wish,
    /// Who scores.
    pub scorer: Option<String>,
    /// Whether earlier scores are hidden.
    #[serde(default)]
    pub blind: bool,
    /// Where one stood.
    pub bookmark: Bookmark,
}

impl Remembered {
    /// What is remembered of a plot, by its name.
    pub fn of(plot: &Plot) -> Option<Self> {
        kept(For::Browser, plot, NAME)
    }

    /// Remembers it.
    pub fn keep(&self, plot: &Plot) {
        keep(For::Browser, plot, NAME, self);
    }

    /// A walk as it is to be remembered.
    pub fn from(plot: &Plot, walk: &walk::Walk, on_the_way: bool) -> Self {
        let setup = walk.setup();
        Self {
            on_the_way,
            season: setup.season,
            round: setup.round.to_string(),
            traits: setup.traits.iter().map(|&ix| plot.trait_of(ix).id.to_string()).collect(),
            wish: setup.wish.clone(),
            scorer: setup.scorer.as_deref().map(str::to_owned),
            blind: setup.blind,
            bookmark: walk.bookmark(),
        }
    }

    /// The setup on a plot; none when the plot no longer has one of its traits.
    pub fn setup(&self, plot: &Plot) -> Option<Setup> {
        let traits: Option<Vec<TraitIx>> = self.traits.iter().map(|id| plot.trait_ix(id)).collect();
        Some(Setup {
            season: self.season,
            round: self.round.as_str().into(),
            traits: traits?,
            wish: self.wish.clone(),
            scorer: self.scorer.as_deref().map(Arc::from),
            blind: self.blind,
        })
    }
}
