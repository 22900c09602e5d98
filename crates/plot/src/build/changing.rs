//! What is changed of a tree that stands in the plot: one cell at a time, each change kept.

use language::say;

use super::Plot;
use crate::{Refusal, Season, Status, TreeCell, TreeChange, TreeId, TreeIx};

impl Plot {
    /// Makes a cell of a tree say something else, and keeps the change. A cell that says so already
    /// stays as it is: the same changes may be taken twice.
    ///
    /// # Errors
    /// No such tree; a status that is none; a cell that says neither what the change comes from nor
    /// what it leads to.
    pub fn change_tree(&mut self, change: TreeChange) -> Result<(), Refusal> {
        let tree = change.tree.as_str();
        let ix = self.tree_ix(tree).ok_or_else(|| Refusal::no_tree(tree))?;
        let status = change.status()?;
        change.check(self.cell_of(ix, change.cell))?;
        let draft = &mut self.trees[ix.get()].draft;
        match status {
            Some(status) => draft.status = status,
            None => draft.note = (!change.to.is_empty()).then(|| change.to.clone()),
        }
        self.remember_change(change)
    }

    /// Keeps a change that the trees show already.
    ///
    /// # Errors
    /// A status that is none; nothing is kept then.
    pub fn remember_change(&mut self, mut change: TreeChange) -> Result<(), Refusal> {
        change.status()?;
        self.intern(&mut change.round);
        self.intern(&mut change.scorer);
        self.changes.push(change);
        Ok(())
    }

    /// Takes the trees of another plot in place of its own, each with the scores that it has here
    /// (scores go by tree id), and where that plot lies.
    ///
    /// # Errors
    /// A tree that was scored or decided on is not among them; nothing is changed then.
    pub fn take_trees_of(&mut self, other: Plot) -> Result<(), Refusal> {
        let mut now = Vec::with_capacity(self.trees.len());
        for (nth, tree) in self.trees.iter().enumerate() {
            let ix = other.tree_ix(tree.id().as_str());
            let lines = if ix.is_none() { self.lines_of(TreeIx::new(nth)) } else { 0 };
            if lines > 0 {
                let found = say!("{lines} scores and decisions of tree \"{id}\"", id = tree.id());
                return Err(Refusal::new("tree_id", found, say!("none, since its line is to go")));
            }
            now.push(ix);
        }
        let is_same = now.len() == other.trees.len()
            && now.iter().enumerate().all(|(nth, ix)| ix.is_some_and(|ix| ix.get() == nth));
        self.order += u64::from(!is_same);
        let mut scores_of = vec![Vec::new(); other.trees.len()];
        for (before, scores) in std::mem::take(&mut self.scores_of).into_iter().enumerate() {
            if let Some(ix) = now[before] {
                for score in &scores {
                    self.scores[score.get()].tree = ix;
                }
                scores_of[ix.get()] = scores;
            }
        }
        self.scores_of = scores_of;
        self.greatest_serial = self.greatest_serial.max(other.greatest_serial);
        self.words.extend(other.words);
        (self.trees, self.tree_by_id) = (other.trees, other.tree_by_id);
        self.head.origin = other.head.origin;
        Ok(())
    }

    /// Another number whenever a [`TreeIx`] of before may be that of another tree, or of none.
    pub fn order(&self) -> u64 {
        self.order
    }

    /// Keeps in mind that an id was given, so that [`next_tree_id`](Self::next_tree_id) never gives
    /// it again.
    pub fn never_give_again(&mut self, id: &TreeId) {
        self.greatest_serial = self.greatest_serial.max(id.serial().unwrap_or(0));
    }

    /// The greatest number of an id of our own form; 0 where there is none.
    pub(crate) fn greatest_serial(&self) -> u32 {
        self.greatest_serial
    }

    /// What a cell of a tree says; empty for a tree that stands, or without a note.
    pub fn cell_of(&self, tree: TreeIx, cell: TreeCell) -> &str {
        let draft = self.tree(tree).draft();
        match cell {
            TreeCell::Status if draft.status == Status::Alive => "",
            TreeCell::Status => draft.status.as_str(),
            TreeCell::Note => draft.note.as_deref().unwrap_or_default(),
        }
    }

    /// Every change of a tree's cell that was taken in, in this order.
    pub fn changes(&self) -> &[TreeChange] {
        &self.changes
    }

    /// The season of a change.
    pub fn season_of_change(&self, change: &TreeChange) -> Season {
        self.season_on(change.changed_on.date())
    }
}
