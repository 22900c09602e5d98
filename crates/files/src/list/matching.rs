//! Which tree of the plot a line of a list is about.

use std::collections::HashMap;

use language::say;
use plot::{Plot, Status, TreeDraft, TreeField as F, TreeIx};

use super::{Columns, Target};

/// By what a line is known to be about a tree that is there already.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MatchBy {
    /// The tree's own name.
    TreeId,
    /// Row and place: the tree that stands there.
    Place,
    /// What the tag says.
    Tag,
    /// Nothing: every line is a new tree.
    Nothing,
}

impl MatchBy {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::TreeId, Self::Place, Self::Tag, Self::Nothing];

    /// Whether the columns hold what it needs.
    pub fn is_possible(self, columns: &Columns) -> bool {
        match self {
            Self::TreeId => columns.of(Target::TreeId).is_some(),
            Self::Place => {
                columns.of(Target::RowPlace).is_some()
                    || columns.has(F::Row) && columns.has(F::Place)
            }
            Self::Tag => columns.has(F::Tag),
            Self::Nothing => true,
        }
    }

    /// The first that the columns hold; nothing for a plot without trees.
    pub fn guess(columns: &Columns, plot: &Plot) -> Self {
        let possible = Self::ALL.into_iter().find(|by| by.is_possible(columns));
        possible.filter(|_| !plot.trees().is_empty()).unwrap_or(Self::Nothing)
    }
}

/// The trees of a plot by what lines are matched by.
#[derive(Debug)]
pub(super) struct Index {
    by: MatchBy,
    places: HashMap<(i32, i32), Vec<TreeIx>>,
    tags: HashMap<Box<str>, Vec<TreeIx>>,
}

/// What was found for a line.
#[derive(Debug, PartialEq)]
pub(super) enum Match {
    None,
    One(TreeIx),
    Several(&'static str, String),
}

impl Index {
    pub(super) fn of(plot: &Plot, by: MatchBy) -> Self {
        let mut index = Self { by, places: HashMap::new(), tags: HashMap::new() };
        for (ix, tree) in plot.trees_ix() {
            // A graft has no place of its own.
            if let (Some(row), Some(place), None) = (tree.row(), tree.place(), tree.carrier()) {
                index.places.entry((row, place)).or_default().push(ix);
            }
            if let Some(tag) = tree.tag_to_read() {
                index.tags.entry(tag.into()).or_default().push(ix);
            }
        }
        index
    }

    /// The tree that a line's words are about.
    pub(super) fn find(&self, said: &TreeDraft, plot: &Plot) -> Match {
        match self.by {
            MatchBy::Nothing => Match::None,
            MatchBy::TreeId => plot.tree_ix(said.id.as_str()).map_or(Match::None, Match::One),
            MatchBy::Place => {
                let (Some(row), Some(place)) = (said.location.row, said.location.place) else {
                    return Match::None;
                };
                self.standing(row, place, said.status, plot)
            }
            MatchBy::Tag => {
                let Some(tag) = said.tag.as_deref() else { return Match::None };
                let all = self.tags.get(tag).map_or(&[][..], Vec::as_slice);
                let alive = |ix: &&TreeIx| plot.tree(**ix).status() == Status::Alive;
                let living: Vec<TreeIx> = all.iter().filter(alive).copied().collect();
                one_of(if living.is_empty() { all } else { &living }, || {
                    ("tag", say!("\"{tag}\", which several trees of the plot have"))
                })
            }
        }
    }

    /// The tree that stands in a place: a living one, else a dead one that still stands. One that
    /// is gone, or a place with nothing in it, only where the line says the same.
    pub(super) fn standing(&self, row: i32, place: i32, said: Status, plot: &Plot) -> Match {
        let here = self.places.get(&(row, place)).map_or(&[][..], Vec::as_slice);
        for status in [Status::Alive, Status::Dead, said] {
            let of: Vec<TreeIx> =
                here.iter().copied().filter(|&ix| plot.tree(ix).status() == status).collect();
            if !of.is_empty() {
                return one_of(&of, || {
                    ("place", say!("row {row} place {place}, where several trees stand"))
                });
            }
        }
        Match::None
    }

    /// A living tree of a tag.
    pub(super) fn tagged(&self, tag: &str, plot: &Plot) -> Option<TreeIx> {
        let all = self.tags.get(tag)?;
        all.iter().copied().find(|&ix| plot.tree(ix).status() == Status::Alive)
    }

    /// A living tree of a place.
    pub(super) fn in_place(&self, row: i32, place: i32, plot: &Plot) -> Option<TreeIx> {
        let all = self.places.get(&(row, place))?;
        all.iter().copied().find(|&ix| plot.tree(ix).status() == Status::Alive)
    }
}

fn one_of(all: &[TreeIx], found: impl FnOnce() -> (&'static str, String)) -> Match {
    match all {
        [] => Match::None,
        [only] => Match::One(*only),
        _ => {
            let (column, found) = found();
            Match::Several(column, found)
        }
    }
}
