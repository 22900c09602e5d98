//! Which tree is this? Reads of a few tags in order along a row, laid along the planting list in all
//! ways at once, tell who an untagged tree must be and how sure that is.
//!
//! Method, costs and measured figures: `docs/which-tree.md`.

mod align;
mod list;
mod odds;
mod path;
#[cfg(test)]
mod tests;
mod whole_row;

use language::say;
use plot::TreeIx;
use serde::{Deserialize, Serialize};
use thiserror::Error;

use crate::End;
use align::{Along, Sense};
pub use list::PlantingList;
use odds::Step;
pub use whole_row::{CannotCheck, Difference, Differs, RowChecked, TREES_AT_MOST};

/// Steps taken in at most; beyond, the odds would leave the range of numbers.
pub const STEPS_AT_MOST: usize = 40;
/// Guesses given at most.
const GUESSES: usize = 5;
/// How far a row that was named is believed.
const ROW_IS_RIGHT: f64 = 0.95;

/// What one sees at one tree, walking along a row.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Seen {
    /// A tag that says this.
    Tag(String),
    /// A tree without a tag, or one that cannot be read.
    NoTag,
    /// The tree in question; it has no tag.
    This,
}

/// An end of what was read, in walking order.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Side {
    /// Before the first step.
    Before,
    /// After the last step.
    After,
}

/// Who the tree may be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Who {
    /// This tree of the list; where the list says that it is gone, what stands in its place.
    Listed(TreeIx),
    /// A tree that nobody wrote down, most likely between these two, the lower number first.
    NotListed {
        /// Place before it; none: the row begins.
        after: Option<TreeIx>,
        /// Place behind it; none: the row ends.
        before: Option<TreeIx>,
    },
}

/// One guess.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Guess {
    /// Who it is.
    pub who: Who,
    /// How probable that is, given all that was read; 0 to 1.
    pub probability: f64,
}

/// How sure a guess is, for words.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Sure {
    /// Below 0.5: it cannot be told.
    CannotTell,
    /// From 0.5.
    Perhaps,
    /// From 0.8.
    Likely,
    /// From 0.95.
    NearlyCertain,
}

/// The answer.
#[derive(Clone, Debug, PartialEq)]
pub struct WhichTree {
    /// The most likely guesses, best first, never empty; all that are not listed are one.
    pub guesses: Vec<Guess>,
    /// How probable it is that place numbers rise in the order of reading.
    pub rising: f64,
    /// At which end one more tag tells most: where none was read, else where it is further off.
    pub read_on: Side,
}

/// Why there is no answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum CannotTell {
    /// No step is the tree in question.
    #[error("say which of the trees is this one")]
    NoThis,
    /// More than one step is the tree in question.
    #[error("only one of the trees can be this one")]
    ThisTwice,
    /// No tag was read.
    #[error("read at least one tag near it")]
    NothingRead,
    /// Too many steps.
    #[error("{found} trees are too many: {STEPS_AT_MOST} at most")]
    TooMany {
        /// Steps given.
        found: usize,
    },
    /// No tree of the plot has a row and a place.
    #[error("no tree of this plot has a row and a place")]
    NoRows,
    /// The plot has no such row.
    #[error("there is no row {row}")]
    NoSuchRow {
        /// Asked for.
        row: i32,
    },
}

impl Sure {
    /// In which class a probability is.
    pub fn of(probability: f64) -> Self {
        match probability {
            it if it >= 0.95 => Self::NearlyCertain,
            it if it >= 0.8 => Self::Likely,
            it if it >= 0.5 => Self::Perhaps,
            _ => Self::CannotTell,
        }
    }
}

impl WhichTree {
    /// Towards which end of the row one read, where that is nearly certain.
    pub fn towards(&self) -> Option<End> {
        match Sure::of(self.rising.max(1.0 - self.rising)) {
            Sure::NearlyCertain if self.rising > 0.5 => Some(End::High),
            Sure::NearlyCertain => Some(End::Low),
            _ => None,
        }
    }
}

/// A probability as it is said: `87 %`, `over 99 %`, `under 1 %`.
pub fn percent(probability: f64) -> String {
    match probability * 100.0 {
        it if it > 99.0 => say!("over 99 %"; "a chance").to_owned(),
        it if it < 1.0 => say!("under 1 %"; "a chance").to_owned(),
        it => format!("{it:.0} %"),
    }
}

impl PlantingList {
    /// Who the tree in question is, from the steps in walking order, in whichever direction. A row
    /// that is named is believed, yet not blindly: tags that belong elsewhere outweigh it.
    ///
    /// # Errors
    /// [`CannotTell`]: not exactly one step is [`Seen::This`], none is a tag, there are more than
    /// [`STEPS_AT_MOST`], no tree has a row and a place, or `row` is not a row of the plot.
    pub fn which(&self, steps: &[Seen], row: Option<i32>) -> Result<WhichTree, CannotTell> {
        let this = self.check(steps, row)?;
        let all = self.posterior(steps, this, row);
        let listed = all.places.iter().zip(&self.rows).flat_map(|(weights, row)| {
            let guess = |(&probability, place): (&f64, &list::Stand)| Guess {
                who: Who::Listed(place.tree),
                probability,
            };
            weights.iter().zip(&row.places).map(guess)
        });
        let mut guesses: Vec<Guess> = listed.filter(|guess| guess.probability > 0.0).collect();
        guesses.push(self.not_listed(&all));
        // The sort is stable: ties stay in the order of rows and places.
        guesses.sort_by(|a, b| b.probability.total_cmp(&a.probability));
        guesses.truncate(GUESSES);
        Ok(WhichTree { guesses, rising: all.rising, read_on: read_on(steps, this) })
    }

    fn check(&self, steps: &[Seen], row: Option<i32>) -> Result<usize, CannotTell> {
        let mut these = (0..steps.len()).filter(|&at| steps[at] == Seen::This);
        let this = these.next().ok_or(CannotTell::NoThis)?;
        if these.next().is_some() {
            return Err(CannotTell::ThisTwice);
        }
        if !steps.iter().any(|seen| matches!(seen, Seen::Tag(_))) {
            return Err(CannotTell::NothingRead);
        }
        if steps.len() > STEPS_AT_MOST {
            return Err(CannotTell::TooMany { found: steps.len() });
        }
        if self.rows.is_empty() {
            return Err(CannotTell::NoRows);
        }
        match row {
            Some(row) if !self.rows.iter().any(|listed| listed.number == row) => {
                Err(CannotTell::NoSuchRow { row })
            }
            _ => Ok(this),
        }
    }

    /// How probable each place and each gap is for the step `this`; adds up to 1.
    fn posterior(&self, steps: &[Seen], this: usize, row: Option<i32>) -> Posterior {
        let steps: Vec<Step> = steps.iter().map(|seen| Step::new(self, seen)).collect();
        let places = |row: &list::ListedRow| row.places.len() as f64;
        let named = self.rows.iter().find(|listed| Some(listed.number) == row).map_or(0.0, places);
        let others = self.rows.iter().map(places).sum::<f64>() - named;
        // How probable it is to begin at a place of a row, before anything is read.
        let prior = |listed: &list::ListedRow, row: Option<i32>| match row {
            None => 1.0,
            Some(row) if row == listed.number => ROW_IS_RIGHT / named,
            Some(_) => (1.0 - ROW_IS_RIGHT) / others,
        };
        let mut all = Posterior::default();
        let mut rising = 0.0;
        for listed in &self.rows {
            let along = Along {
                at: steps
                    .iter()
                    .map(|step| listed.places.iter().map(|place| step.at(place)).collect())
                    .collect(),
                unlisted: steps.iter().map(Step::on_unlisted).collect(),
                stands: listed.places.iter().map(|place| place.stands).collect(),
            };
            let prior = prior(listed, row);
            let up = along.weights(this, Sense::Rising);
            let down = along.weights(this, Sense::Falling);
            rising += prior * up.places.iter().chain(&up.gaps).sum::<f64>();
            let both = |(up, down): (&f64, &f64)| prior * (up + down);
            all.places.push(up.places.iter().zip(&down.places).map(both).collect());
            all.gaps.push(up.gaps.iter().zip(&down.gaps).map(both).collect());
        }
        let total: f64 = all.places.iter().chain(&all.gaps).flatten().sum();
        all.places.iter_mut().chain(&mut all.gaps).flatten().for_each(|weight| *weight /= total);
        all.rising = rising / total;
        all
    }

    fn not_listed(&self, all: &Posterior) -> Guess {
        let mut best = (0.0, Who::NotListed { after: None, before: None });
        for (gaps, row) in all.gaps.iter().zip(&self.rows) {
            for (at, &probability) in gaps.iter().enumerate() {
                if probability > best.0 {
                    let tree = |at: Option<usize>| Some(row.places.get(at?)?.tree);
                    let (after, before) = (tree(at.checked_sub(1)), tree(Some(at)));
                    best = (probability, Who::NotListed { after, before });
                }
            }
        }
        Guess { who: best.1, probability: all.gaps.iter().flatten().sum() }
    }
}

/// By row as they are listed: each place, and each gap.
#[derive(Default)]
struct Posterior {
    places: Vec<Vec<f64>>,
    gaps: Vec<Vec<f64>>,
    rising: f64,
}

fn read_on(steps: &[Seen], this: usize) -> Side {
    let is_tag = |seen: &Seen| matches!(seen, Seen::Tag(_));
    let far = usize::MAX;
    let before = steps[..this].iter().rev().position(is_tag).unwrap_or(far);
    let after = steps[this + 1..].iter().position(is_tag).unwrap_or(far);
    if before > after { Side::Before } else { Side::After }
}
