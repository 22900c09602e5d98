//! Facts of a tree that one sees on a walk: no scores, and never to be taken for one.

use std::sync::Arc;

use plot::{Plot, Status, TreeCell, TreeIx, When};

/// A fact of the tree at which one stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fact {
    /// It is dead.
    Dead,
    /// Nothing is in its place.
    NothingHere,
    /// It stands, whatever was said before.
    Stands,
    /// Two trees stand where the plot has one.
    TwoTrees,
    /// It carries no tag.
    NoTag,
}

impl Fact {
    /// The cell that tells it, and what the cell is to say then; none when it says so already.
    ///
    /// A word joins the tree's note behind what stands there, with its day: `2031-06-14: no tag`.
    pub(super) fn on(self, plot: &Plot, tree: TreeIx, when: When) -> Option<(TreeCell, Arc<str>)> {
        let status = |status: Status| {
            let text = if status == Status::Alive { "" } else { status.as_str() };
            (plot.tree(tree).status() != status).then(|| (TreeCell::Status, text.into()))
        };
        let words = match self {
            Self::Dead => return status(Status::Dead),
            Self::NothingHere => return status(Status::Empty),
            Self::Stands => return status(Status::Alive),
            Self::TwoTrees => "two trees here",
            Self::NoTag => "no tag",
        };
        let said = format!("{}: {words}", when.date());
        let note = plot.cell_of(tree, TreeCell::Note);
        if note.split("; ").any(|piece| piece == said) {
            return None;
        }
        let parts: Vec<&str> = [note, &said].into_iter().filter(|part| !part.is_empty()).collect();
        Some((TreeCell::Note, parts.join("; ").into()))
    }
}
