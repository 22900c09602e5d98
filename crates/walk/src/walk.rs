//! A walk: which tree is next, what was said of it, and taking back and again without end.

mod fact;
mod ledger;
mod plan;
mod progress;
mod summary;
mod taken_up;

#[cfg(test)]
mod tests;

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use plot::{
    Plot, RoundKey, ScoreDraft, ScoreId, Season, TraitId, TraitIx, TreeCell, TreeId, TreeIx, When,
};
use serde::{Deserialize, Serialize};

use crate::{Route, Rows, Wish, caution};
use ledger::{Act, Ledger};

pub use fact::Fact;
pub use ledger::Content;
pub use plan::{Command, Stamp, Step, Unable};
pub use progress::{LegProgress, Looked, Tally};
pub use summary::{Jump, Summary};

/// What makes a walk; the same setup on the same plot is the same walk.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Setup {
    /// Season in which it is walked.
    pub season: Season,
    /// Name of the round.
    pub round: Arc<str>,
    /// What is scored at each tree, in this order; at least one.
    pub traits: Vec<TraitIx>,
    /// The route.
    pub wish: Wish,
    /// Who scores.
    pub scorer: Option<Arc<str>>,
    /// Scores of other scorers and of earlier rounds are not to be seen: a second scorer's word is
    /// worth something only when the first one's is not known.
    pub blind: bool,
}

/// One trait at one stop.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Cursor {
    /// Which stop of the route.
    pub stop: usize,
    /// Which of the walk's traits.
    pub slot: usize,
}

/// What *undo* would take back.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum TakenBack<'a> {
    /// What a cell says now.
    Said(Cursor, &'a Content),
    /// What a cell of the tree itself says now, at a stop.
    Told(usize, TreeCell, &'a str),
    /// A skip of the tree at which the walker stood there.
    Skip(Cursor),
}

/// What is to be kept beside the scores so that a walk goes on exactly where it stopped.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Bookmark {
    /// The tree at which the walker stands; none: the walk is at its end.
    pub tree: Option<TreeId>,
    /// The trait that is asked for there; none: its first open one.
    #[serde(default)]
    pub trait_id: Option<TraitId>,
    /// Lines and changes that the walk had made of the plot when this was put down. Where the plot
    /// holds others, this is not its last word, and the walk stands where its last line led.
    #[serde(default)]
    pub lines: usize,
    /// Trees that were left for later, by hand.
    #[serde(default)]
    pub skipped: Vec<TreeId>,
    /// Notes that wait for their tree's next score.
    pub notes: Vec<(TreeId, String)>,
}

/// A walk on its way. It holds no borrow of the plot: drafts go out, and the walk takes a step when
/// they have been taken in.
#[derive(Clone, Debug, PartialEq)]
pub struct Walk {
    setup: Setup,
    route: Route,
    tree_ids: Vec<TreeId>,
    trait_ids: Vec<TraitId>,
    ledger: Ledger,
    cursor: Option<Cursor>,
    /// Lines and changes of the round that it knows.
    lines: usize,
    /// Notes that wait for a score, by stop.
    notes: BTreeMap<usize, String>,
}

impl Walk {
    /// Plans the route and takes up what the plot already holds of the round: the same walk as if
    /// it had never been left. Without a bookmark it stands where its last score led.
    ///
    /// # Errors
    /// [`Unable::NothingToScore`] for a setup without traits, [`Unable::BlindWithoutName`] for a
    /// blind one without scorer, [`Unable::NobodyStands`] when no standing tree is on the route.
    pub fn begin(
        plot: &Plot,
        rows: &Rows,
        setup: Setup,
        bookmark: Option<&Bookmark>,
    ) -> Result<Self, Unable> {
        if setup.traits.is_empty() {
            return Err(Unable::NothingToScore);
        }
        if setup.blind && setup.scorer.is_none() {
            return Err(Unable::BlindWithoutName);
        }
        let key = (setup.season, RoundKey::Named(setup.round.clone()));
        // This round's own findings must not change its route.
        let sick =
            caution::seen_infected(plot, &setup.traits, |score| plot.round_key_of(score) != key);
        let mut wish = setup.wish.clone();
        // An order by earlier findings would tell them.
        wish.sick_last &= !setup.blind;
        // A tree that died during this walk keeps its stop: it can be taken back.
        let told: BTreeSet<TreeIx> = plot
            .changes()
            .iter()
            .filter(|change| taken_up::is_of(plot, change, &key))
            .filter_map(|change| plot.tree_ix(change.tree.as_str()))
            .collect();
        let stood = |tree| told.contains(&tree);
        let route = Route::plan(plot, rows, &wish, caution::asked(&sick), stood);
        if route.stops.is_empty() {
            return Err(Unable::NobodyStands);
        }
        let tree_ids = route.stops.iter().map(|&tree| plot.tree(tree).id().clone()).collect();
        let trait_ids = setup.traits.iter().map(|&ix| plot.trait_of(ix).id.clone()).collect();
        let ledger = Ledger::new(route.stops.len(), setup.traits.len(), setup.blind);
        let mut walk = Self {
            setup,
            route,
            tree_ids,
            trait_ids,
            ledger,
            cursor: Some(Cursor { stop: 0, slot: 0 }),
            lines: 0,
            notes: BTreeMap::new(),
        };
        walk.read_lines(plot, &key);
        if let Some(bookmark) = bookmark {
            walk.turn_to(bookmark);
        }
        Ok(walk)
    }

    /// What made it.
    pub fn setup(&self) -> &Setup {
        &self.setup
    }
    /// Its route.
    pub fn route(&self) -> &Route {
        &self.route
    }
    /// Where the walker stands; none: behind the last tree.
    pub fn cursor(&self) -> Option<Cursor> {
        self.cursor
    }
    /// The tree at which the walker stands.
    pub fn tree(&self) -> Option<TreeIx> {
        self.cursor.map(|cursor| self.route.stops[cursor.stop])
    }
    /// The tree that comes after this one as things stand: the next with an open cell.
    pub fn next_tree(&self) -> Option<TreeIx> {
        let here = self.cursor?;
        self.ledger.open_from(here.stop + 1).map(|next| self.route.stops[next.stop])
    }
    /// The trait that is asked for.
    pub fn asked(&self) -> Option<TraitIx> {
        self.cursor.map(|cursor| self.setup.traits[cursor.slot])
    }
    /// What was said at a stop of one of the walk's traits.
    pub fn content(&self, at: Cursor) -> &Content {
        self.ledger.content(at)
    }
    /// The note that waits for the next score at this stop.
    pub fn waiting_note(&self, stop: usize) -> Option<&str> {
        self.notes.get(&stop).map(String::as_str)
    }
    /// The stop of a tree.
    pub fn stop_of(&self, tree: TreeIx) -> Option<usize> {
        self.route.stops.iter().position(|&stop| stop == tree)
    }
    /// What *undo* would take back; none: nothing.
    pub fn undo_takes_back(&self) -> Option<TakenBack<'_>> {
        Some(match self.ledger.undo()? {
            Act::Said { at, .. } => TakenBack::Said(at, self.ledger.own(at)),
            Act::Told { stop, cell, .. } => {
                TakenBack::Told(stop, cell, self.ledger.told(stop, cell))
            }
            Act::Skipped(at) => TakenBack::Skip(at),
        })
    }
    /// Whether *redo* has something to bring again.
    pub fn can_redo(&self) -> bool {
        self.ledger.redo().is_some()
    }

    /// What to keep beside the scores.
    pub fn bookmark(&self) -> Bookmark {
        let id = |stop: usize| self.tree_ids[stop].clone();
        Bookmark {
            tree: self.cursor.map(|cursor| id(cursor.stop)),
            trait_id: self.cursor.map(|cursor| self.trait_ids[cursor.slot].clone()),
            lines: self.lines,
            skipped: self.ledger.skipped.iter().map(|&stop| id(stop)).collect(),
            notes: self.notes.iter().map(|(&stop, note)| (id(stop), note.clone())).collect(),
        }
    }

    fn draft(&self, at: Cursor, id: ScoreId, when: When) -> ScoreDraft {
        ScoreDraft {
            id,
            tree: self.tree_ids[at.stop].clone(),
            trait_id: self.trait_ids[at.slot].clone(),
            value: None,
            scored_on: when,
            round: Some(self.setup.round.clone()),
            scorer: self.setup.scorer.clone(),
            note: None,
            replaces: None,
        }
    }
}
