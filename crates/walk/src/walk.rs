//! A walk: which tree is next, what was said of it, and taking back and again without end.

mod fact;
mod ledger;
mod plan;
mod progress;
mod summary;

#[cfg(test)]
mod tests;

use std::collections::{BTreeMap, BTreeSet, HashMap};
use std::sync::Arc;

use plot::{
    Plot, RoundKey, ScoreDraft, ScoreId, Season, TraitId, TraitIx, TreeCell, TreeChange, TreeId,
    TreeIx, When,
};
use serde::{Deserialize, Serialize};

use crate::{Route, Rows, Wish, caution};
use ledger::{Act, Ledger, Line, Told};

pub use fact::Fact;
pub use ledger::Content;
pub use plan::{Command, Stamp, Step, Unable};
pub use progress::{LegProgress, Tally};
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
            .filter(|change| is_of(plot, change, &key))
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
            skipped: self.ledger.skipped.iter().map(|&stop| id(stop)).collect(),
            notes: self.notes.iter().map(|(&stop, note)| (id(stop), note.clone())).collect(),
        }
    }

    fn turn_to(&mut self, bookmark: &Bookmark) {
        let stops: HashMap<&TreeId, usize> =
            self.tree_ids.iter().enumerate().map(|(stop, id)| (id, stop)).collect();
        let stop_of = |id: &TreeId| stops.get(id).copied();
        let slot = bookmark
            .trait_id
            .as_ref()
            .and_then(|id| self.trait_ids.iter().position(|known| known == id));
        let cursor = match bookmark.tree.as_ref().map(stop_of) {
            None => None,
            // The tree is no longer on the route: stay where the scores lead.
            Some(None) => self.cursor,
            Some(Some(stop)) => Some(match slot {
                Some(slot) => Cursor { stop, slot },
                None => self.ledger.first_slot(stop),
            }),
        };
        let notes =
            bookmark.notes.iter().filter_map(|(id, note)| Some((stop_of(id)?, note.clone())));
        let (notes, skipped) =
            (notes.collect(), bookmark.skipped.iter().filter_map(stop_of).collect());
        (self.cursor, self.notes) = (cursor, notes);
        self.ledger.skipped = skipped;
    }

    /// Runs through the round's lines and changes as if they were taken just now.
    fn read_lines(&mut self, plot: &Plot, key: &(Season, RoundKey)) {
        let stops: HashMap<TreeIx, usize> =
            self.route.stops.iter().enumerate().map(|(stop, &tree)| (tree, stop)).collect();
        let told = |change: &TreeChange| {
            let stop = *stops.get(&plot.tree_ix(change.tree.as_str())?)?;
            let (from, to) = (change.from.clone(), change.to.clone());
            let own = change.scorer == self.setup.scorer;
            Some(Told { stop, cell: change.cell, from, to, own }.in_one_word())
        };
        // What was told, by how many lines stood then.
        let mut changes: Vec<(usize, Told)> = plot
            .changes()
            .iter()
            .filter(|change| is_of(plot, change, key))
            .filter_map(|change| {
                let after = change.after.as_ref();
                let ix = after.map(|id| plot.score_ix(id.as_str()));
                let lines = match ix {
                    None => 0,
                    // A line that is not here came from elsewhere, and counts as the last.
                    Some(None) => plot.scores().len(),
                    Some(Some(ix)) => ix.get() + 1,
                };
                Some((lines, told(change)?))
            })
            .collect();
        changes.sort_by_key(|(lines, _)| *lines);
        let mut changes = changes.into_iter().peekable();
        let mut pieces: Vec<(Vec<Line>, Option<Told>)> = vec![(Vec::new(), None)];
        for (nth, score) in plot.scores().iter().enumerate() {
            while let Some((_, told)) = changes.next_if(|(lines, _)| *lines <= nth) {
                pieces.push((Vec::new(), Some(told)));
            }
            if plot.round_key_of(score) != *key {
                continue;
            }
            let slot = self.setup.traits.iter().position(|&ix| ix == score.trait_ix);
            if let (Some(&stop), Some(slot), Some((lines, _))) =
                (stops.get(&score.tree), slot, pieces.last_mut())
            {
                lines.push(Line {
                    at: Cursor { stop, slot },
                    id: score.id.clone(),
                    value: score.value,
                    note: score.note.clone(),
                    replaces: score.replaces.clone(),
                    when: score.scored_on,
                    own: score.scorer == self.setup.scorer,
                });
            }
        }
        pieces.extend(changes.map(|(_, told)| (Vec::new(), Some(told))));
        for (lines, told) in pieces {
            if let Some(led) = told.and_then(|told| self.ledger.take_told(told)) {
                self.follow(led);
            }
            for entry in ledger::entries(&lines) {
                if let Some(led) = self.ledger.take(entry) {
                    self.follow(led);
                }
            }
        }
    }

    /// Goes where a change of a cell leads.
    fn follow(&mut self, led: ledger::Led) {
        self.cursor = match led {
            ledger::Led::Back(at) => Some(at),
            ledger::Led::On(at) => self.ledger.open_after(at),
            ledger::Led::To(stop) => match self.cursor {
                Some(at) if at.stop == stop => Some(at),
                _ => Some(self.ledger.first_slot(stop)),
            },
            ledger::Led::Past(stop) => self.ledger.open_from(stop + 1),
        };
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

/// Whether a change was seen in a round.
fn is_of(plot: &Plot, change: &TreeChange, (season, round): &(Season, RoundKey)) -> bool {
    let named = change.round.clone().map(RoundKey::Named);
    named.as_ref() == Some(round) && plot.season_of_change(change) == *season
}
