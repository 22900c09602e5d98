//! The edits of a plot in their order: which of them stand, and which is undone or done again next.

use std::collections::HashMap;

use super::{Edit, EditPart, TreeField};
use crate::{EditId, TreeId};

/// Every edit that was made, the oldest first, with those that take another one back.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Edits {
    all: Vec<Edit>,
}

impl Edits {
    /// Adds what was made.
    pub fn push(&mut self, edit: Edit) {
        self.all.push(edit);
    }

    /// All, the oldest first.
    pub fn all(&self) -> &[Edit] {
        &self.all
    }

    /// The edit of a name.
    pub fn get(&self, id: &EditId) -> Option<&Edit> {
        self.all.iter().find(|edit| edit.id == *id)
    }

    /// What a person made, the newest first, and whether it stands: those that take another one
    /// back are not listed, they show in what they took back.
    pub fn made(&self) -> impl Iterator<Item = (&Edit, bool)> {
        let standing = self.standing();
        let made = self.all.iter().zip(standing).rev();
        made.filter(|(edit, _)| edit.undoes.is_none())
    }

    /// What *undo* takes back: of all that stands, what was made or done again last.
    pub fn to_undo(&self) -> Option<&Edit> {
        self.stacks()[0].last().map(|&nth| &self.all[nth])
    }

    /// What *redo* does again: what was taken back last, as long as nothing new was made.
    pub fn to_redo(&self) -> Option<&Edit> {
        self.stacks()[1].last().map(|&nth| &self.all[nth])
    }

    /// The last link of what was made, undone, done again: its inverse turns the edit over.
    pub fn last_link(&self, id: &EditId) -> Option<&Edit> {
        let mut link = self.get(id)?;
        for edit in &self.all {
            if edit.undoes.as_ref() == Some(&link.id) {
                link = edit;
            }
        }
        Some(link)
    }

    /// The first edit after this one that stands and touches the same line, or the same cell of it
    /// (`field`), or has a graft on that tree.
    pub fn later(&self, than: &EditId, tree: &TreeId, field: Option<TreeField>) -> Option<&Edit> {
        let standing = self.standing();
        let after = self.all.iter().zip(standing).skip_while(|(edit, _)| edit.id != *than).skip(1);
        after.filter(|(_, stands)| *stands).map(|(edit, _)| edit).find(|edit| {
            edit.parts.iter().any(|part| match (part, field) {
                (EditPart::Set { tree: of, field: this, .. }, Some(field)) => {
                    of == tree && *this == field
                }
                (_, Some(_)) => false,
                (EditPart::Add(line), None) => {
                    line.id == *tree || line.cell(TreeField::GraftedOn) == tree.as_str()
                }
                (part, None) => part.tree() == tree,
            })
        })
    }

    /// By edit: whether nothing that stands takes it back.
    fn standing(&self) -> Vec<bool> {
        let at: HashMap<&EditId, usize> =
            self.all.iter().enumerate().map(|(nth, edit)| (&edit.id, nth)).collect();
        let mut standing = vec![true; self.all.len()];
        for nth in (0..self.all.len()).rev() {
            if standing[nth]
                && let Some(&undone) = self.all[nth].undoes.as_ref().and_then(|id| at.get(id))
            {
                standing[undone] = false;
            }
        }
        standing
    }

    /// What was made, by place: what stands, and what was taken back since the last new edit; both
    /// in the order in which that happened.
    fn stacks(&self) -> [Vec<usize>; 2] {
        let (mut stand, mut undone) = (Vec::new(), Vec::new());
        // By id: which edit it goes back to, and whether it is that or does it again.
        let mut roots: HashMap<&EditId, (usize, bool)> = HashMap::new();
        for (nth, edit) in self.all.iter().enumerate() {
            let root = edit.undoes.as_ref().and_then(|id| roots.get(id).copied());
            let (root, stands) = match root {
                Some((root, stood)) => (root, !stood),
                None => (nth, true),
            };
            if root == nth {
                undone.clear();
            }
            let (from, to) = match stands {
                true => (&mut undone, &mut stand),
                false => (&mut stand, &mut undone),
            };
            from.retain(|&other| other != root);
            to.push(root);
            roots.insert(&edit.id, (root, stands));
        }
        [stand, undone]
    }
}
