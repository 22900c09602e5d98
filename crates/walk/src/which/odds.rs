//! What a step of reading tells of a place: the odds of seeing it there.

use super::list::{Stand, TagOf};
use super::{PlantingList, Seen};
use crate::find::{How, Shape, Typed, folded_tag};

/// A listed tag is not on its tree any more, or cannot be read. *Common practice, no source:* a
/// plot that asks this question has lost a fifth of its tags.
const TAG_MISSING: f64 = 0.2;
/// A tree that is listed without a tag shows none.
const STAYED_BARE: f64 = 0.95;
/// A read is not what the list says. *Common practice, no source.*
const MISREAD: f64 = 0.03;
/// Of the misreads, those by a slip or a part left out; the others hang on the wrong tree.
const BY_A_SLIP: f64 = 2.0 / 3.0;
/// Letters and digits that one may be taken for.
const OTHER_LETTERS: f64 = 35.0;
/// A tree that nobody wrote down shows a tag.
const UNLISTED_HAS_TAG: f64 = 0.5;
/// A tag that is on no list is one of so many at least.
const TAGS_AT_LEAST: usize = 1_000;

/// One step made ready to be looked for at many places. Odds of reads are over those of the same
/// read on a tree that nobody knows, so that long walks stay within the range of numbers.
pub(super) enum Step {
    /// No tag: also where the tree in question stands.
    Bare,
    /// A read tag.
    Read {
        typed: Typed,
        /// How probable this very read is on a tree of which nothing is known.
        by_chance: f64,
    },
}

impl Step {
    pub(super) fn new(list: &PlantingList, seen: &Seen) -> Self {
        let Seen::Tag(tag) = seen else { return Self::Bare };
        let folded = folded_tag(tag);
        if folded.is_empty() {
            return Self::Bare;
        }
        let tags = list.tags().len();
        let of = if list.has_folded(&folded) { tags } else { tags.max(TAGS_AT_LEAST) };
        Self::Read { typed: Typed::new(&folded), by_chance: 1.0 / of.max(1) as f64 }
    }

    /// The odds of seeing it on a tree that is not on the list.
    pub(super) fn on_unlisted(&self) -> f64 {
        match self {
            Self::Bare => 1.0 - UNLISTED_HAS_TAG,
            Self::Read { .. } => UNLISTED_HAS_TAG,
        }
    }

    /// The odds of seeing it on the tree of a place, if one stands there.
    pub(super) fn at(&self, place: &Stand) -> f64 {
        match (self, place.tags.is_empty()) {
            (Self::Bare, true) => STAYED_BARE,
            (Self::Bare, false) => TAG_MISSING,
            (Self::Read { .. }, true) => 1.0 - STAYED_BARE,
            (Self::Read { typed, by_chance }, false) => {
                let shown = |tag: &TagOf| tag.share * read_as(typed, tag, *by_chance);
                (1.0 - TAG_MISSING) * place.tags.iter().map(shown).sum::<f64>()
            }
        }
    }
}

/// The odds of reading a tag so.
fn read_as(typed: &Typed, tag: &TagOf, by_chance: f64) -> f64 {
    let elsewhere = MISREAD * (1.0 - BY_A_SLIP);
    let shape = Shape::of(&tag.folded);
    let likeness = typed.may_match(shape).then(|| typed.compare(&tag.folded, shape)).flatten();
    match likeness.map(|likeness| likeness.how) {
        Some(How::Same) => (1.0 - MISREAD) / by_chance + elsewhere,
        Some(How::Begins | How::Contains | How::Close) => {
            let ways_to_slip = OTHER_LETTERS * tag.folded.chars().count().max(1) as f64;
            MISREAD * BY_A_SLIP / ways_to_slip / by_chance + elsewhere
        }
        None => elsewhere,
    }
}
