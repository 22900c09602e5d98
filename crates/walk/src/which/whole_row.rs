//! A whole row walked from one end to the other: what stands, laid along what was planted, and where
//! the two differ.

mod proposals;

use language::say;
use plot::{Plot, TreeIx};

use super::list::{ListedRow, Stand};
use super::odds::Step;
use super::path::{Laid, Paths};
use super::{PlantingList, Seen};
use crate::End;
use crate::find::folded_tag;
use crate::place_words::stands;

/// Trees of one row taken in at most.
pub const TREES_AT_MOST: usize = 2_000;

/// What a row shows beside what is written of it.
#[derive(Clone, Debug, PartialEq)]
pub struct RowChecked {
    /// Trees that stand where they are written, with their tag or with none as written.
    pub as_written: usize,
    /// Where ground and list differ, by rising place.
    pub differences: Vec<Difference>,
}

/// One difference.
#[derive(Clone, Debug, PartialEq)]
pub struct Difference {
    /// What it is.
    pub what: Differs,
    /// The step that shows it; none: a tree that is not there.
    pub step: Option<usize>,
    /// How probable it is that the step belongs there, or that nothing stands there; 0 to 1.
    pub probability: f64,
}

/// How ground and list differ.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Differs {
    /// Written as alive, and not met.
    Missing(TreeIx),
    /// Its tag is not there, or cannot be read.
    NoTag(TreeIx),
    /// Another tag than the one written.
    OtherTag(TreeIx, String),
    /// Written without a tag, and has one.
    NewTag(TreeIx, String),
    /// Written as dead, taken out or empty, and something stands there; with what its tag says.
    Stands(TreeIx, Option<String>),
    /// A tree that nobody wrote down.
    NotListed {
        /// The tree of the place before it; none: the row begins.
        after: Option<TreeIx>,
        /// The tree of the place behind it; none: the row ends.
        before: Option<TreeIx>,
        /// What its tag says.
        tag: Option<String>,
    },
}

/// Why a row cannot be checked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum CannotCheck {
    /// The plot has no such row.
    #[error("{}", say!("there is no row {row}", row = .0))]
    NoSuchRow(i32),
    /// Too many trees.
    #[error(
        "{}",
        say!("{trees} trees are too many for a row: {most} at most", trees = .0, most = TREES_AT_MOST)
    )]
    TooMany(usize),
}

impl PlantingList {
    /// Lays what was read along a row, begun at an end of it. `whole`: the row was walked to its
    /// other end; else what lies behind the last tree is not missed.
    ///
    /// # Errors
    /// [`CannotCheck`].
    pub fn check_row(
        &self,
        plot: &Plot,
        row: i32,
        begun_at: End,
        steps: &[Seen],
        whole: bool,
    ) -> Result<RowChecked, CannotCheck> {
        let listed = self.rows.iter().find(|listed| listed.number == row);
        let listed = listed.ok_or(CannotCheck::NoSuchRow(row))?;
        if steps.len().max(listed.places.len()) > TREES_AT_MOST {
            return Err(CannotCheck::TooMany(steps.len().max(listed.places.len())));
        }
        let turned = begun_at == End::High;
        let seen: Vec<Step> = steps.iter().map(|seen| Step::new(self, seen)).collect();
        let places = in_sense(listed.places.iter().collect(), turned);
        let paths = Paths::new(&seen, &places, whole);
        let laid = in_sense(paths.best(), turned);
        let mut checked = RowChecked { as_written: 0, differences: Vec::new() };
        let mut passed = 0;
        for one in laid {
            let (what, step) = match one {
                Laid::Unwalked => (None, None),
                Laid::Passed(_) => {
                    let place = &listed.places[passed];
                    (missing(plot, place), None)
                }
                Laid::On(step, _) => {
                    (differs(plot, &listed.places[passed], &steps[step]), Some(step))
                }
                Laid::Between(step) => (Some(not_listed(listed, passed, &steps[step])), Some(step)),
            };
            passed += usize::from(!matches!(one, Laid::Between(_)));
            match what {
                Some(what) => {
                    let probability = paths.probability(one);
                    checked.differences.push(Difference { what, step, probability });
                }
                None => checked.as_written += usize::from(step.is_some()),
            }
        }
        Ok(checked)
    }

    /// Tags that come next in a row, begun at an end, behind the tag that was read last; the first
    /// ones where none was.
    pub fn next_tags(&self, row: i32, begun_at: End, steps: &[Seen], limit: usize) -> Vec<String> {
        let Some(listed) = self.rows.iter().find(|listed| listed.number == row) else {
            return Vec::new();
        };
        let places = in_sense(listed.places.iter().collect(), begun_at == End::High);
        let read = |seen: &Seen| match seen {
            Seen::Tag(tag) => Some(folded_tag(tag)),
            Seen::NoTag | Seen::This => None,
        };
        let is_at = |tag: &String| places.iter().position(|place| place.has_now(tag));
        // Trees without a tag behind the last one read have been passed, too.
        let mut without = 0;
        let mut last = None;
        for seen in steps.iter().rev() {
            match read(seen).as_ref().and_then(is_at) {
                Some(at) => {
                    last = Some(at + 1);
                    break;
                }
                None => without += 1,
            }
        }
        let from = last.unwrap_or(0) + without;
        let ahead = places.iter().skip(from).filter_map(|place| place.tag_now());
        ahead.take(limit).map(str::to_owned).collect()
    }
}

fn in_sense<T>(mut all: Vec<T>, turned: bool) -> Vec<T> {
    if turned {
        all.reverse();
    }
    all
}

/// What was written as gone is rightly not met.
fn missing(plot: &Plot, place: &Stand) -> Option<Differs> {
    stands(plot, place.tree).then_some(Differs::Missing(place.tree))
}

fn differs(plot: &Plot, place: &Stand, seen: &Seen) -> Option<Differs> {
    let tree = place.tree;
    let read = tag_of(seen);
    if !stands(plot, tree) {
        return Some(Differs::Stands(tree, read));
    }
    match (read, place.tag_now()) {
        (None, None) => None,
        (None, Some(_)) => Some(Differs::NoTag(tree)),
        (Some(read), None) => Some(Differs::NewTag(tree, read)),
        (Some(read), Some(_)) => {
            (!place.has_now(&folded_tag(&read))).then_some(Differs::OtherTag(tree, read))
        }
    }
}

fn not_listed(row: &ListedRow, passed: usize, seen: &Seen) -> Differs {
    let tree = |at: Option<usize>| Some(row.places.get(at?)?.tree);
    Differs::NotListed {
        after: tree(passed.checked_sub(1)),
        before: tree(Some(passed)),
        tag: tag_of(seen),
    }
}

fn tag_of(seen: &Seen) -> Option<String> {
    match seen {
        Seen::Tag(tag) => Some(tag.trim().to_owned()),
        Seen::NoTag | Seen::This => None,
    }
}

#[cfg(test)]
mod tests;
