//! What is changed of a tree that stands in the plot: one cell at a time, each change kept.

use super::Plot;
use crate::{Refusal, Season, Status, TreeCell, TreeChange, TreeIx};

impl Plot {
    /// Makes a cell of a tree say something else, and keeps the change. A cell that says so already
    /// stays as it is: the same changes may be taken twice.
    ///
    /// # Errors
    /// No such tree; a status that is none; a cell that says neither what the change comes from nor
    /// what it leads to.
    pub fn change_tree(&mut self, mut change: TreeChange) -> Result<(), Refusal> {
        let ix = self.tree_ix(change.tree.as_str()).ok_or_else(|| {
            Refusal::new("tree_id", format!("\"{}\"", change.tree), "a tree_id of trees.csv")
        })?;
        let status = change.status()?;
        let now = self.cell_of(ix, change.cell);
        if !change.cell.says_the_same(now, &change.from)
            && !change.cell.says_the_same(now, &change.to)
        {
            let expected = format!("\"{}\", as the tree had when it was changed", change.from);
            return Err(Refusal::new(change.cell.as_str(), format!("\"{now}\""), expected));
        }
        self.intern(&mut change.round);
        self.intern(&mut change.scorer);
        let draft = &mut self.trees[ix.get()].draft;
        match status {
            Some(status) => draft.status = status,
            None => draft.note = (!change.to.is_empty()).then(|| change.to.clone()),
        }
        self.changes.push(change);
        Ok(())
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
        Season::of(change.changed_on.date(), self.head.season_starts_month)
    }
}
