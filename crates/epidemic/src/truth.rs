//! The truth behind a made-up plot.

use plot::{Plot, TreeIx};
use time::Date;

/// A made-up plot and the truth behind it.
#[derive(Clone, Debug)]
pub struct MadeUp {
    /// The plot, as one who only looked would have written it down.
    pub plot: Plot,
    /// The truth, disease by disease, in the order of the recipe.
    pub truth: Vec<DiseaseTruth>,
}

impl MadeUp {
    /// The truth of a disease.
    pub fn truth_of(&self, disease: &str) -> Option<&DiseaseTruth> {
        self.truth.iter().find(|truth| truth.disease == disease)
    }
}

/// The truth of one disease.
#[derive(Clone, Debug, PartialEq)]
pub struct DiseaseTruth {
    /// Its name in traits.
    pub disease: String,
    /// Tree by tree, by [`TreeIx`].
    pub trees: Vec<TreeTruth>,
    /// What someone could know of a genotype before looking at it, by [`TreeIx`]: the index of
    /// its prior in `priors`.
    pub prior_of: Vec<usize>,
    /// Distributions of susceptibility, one for each recorded cross and kind of check.
    pub priors: Vec<Prior>,
    /// Share of looks at an infected tree that miss it.
    pub false_negative: f64,
    /// Share of looks at a clean tree that see something.
    pub false_positive: f64,
}

impl DiseaseTruth {
    /// A tree's truth.
    pub fn tree(&self, tree: TreeIx) -> &TreeTruth {
        &self.trees[tree.get()]
    }
    /// What could be known of a tree's genotype before looking.
    pub fn prior(&self, tree: TreeIx) -> &Prior {
        &self.priors[self.prior_of[tree.get()]]
    }
}

/// A discrete distribution of susceptibility.
#[derive(Clone, Debug, PartialEq)]
pub struct Prior {
    /// Weight, susceptibility, and whether that counts as resistant; the weights sum to 1.
    pub nodes: Vec<(f64, f64, bool)>,
}

/// The truth of one tree.
#[derive(Clone, Debug, PartialEq)]
pub struct TreeTruth {
    /// Whether it resists.
    pub resistant: bool,
    /// What multiplies the force at its place: frailty, times the leak if it resists.
    pub susceptibility: f64,
    /// Its genotype's frailty.
    pub frailty: f64,
    /// Infections that a typical susceptible tree would have been expected to take at its place,
    /// with its vigour and its blossom, over the time that its scores cover.
    pub dose: f64,
    /// The day of its first infection, season by season.
    pub infected_on: Vec<Option<Date>>,
    /// What was looked at: one strand for each season and part with a look.
    pub strands: Vec<Strand>,
}

/// The looks at one part of one tree in one season, in time.
#[derive(Clone, Debug, PartialEq)]
pub struct Strand {
    /// The season, counted from 0.
    pub season: usize,
    /// The looks.
    pub looks: Vec<Look>,
}

/// A score that was really taken.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Look {
    /// Dose that became visible since the look before, or since the season's start.
    pub dose: f64,
    /// Whether symptoms were written down.
    pub seen: bool,
}
