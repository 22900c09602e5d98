//! The edits of a plot in their order: which of them stand, and which is undone or done again next.

use std::collections::HashMap;

use super::{Edit, EditPart, TreeField};
use crate::{EditId, TreeId};

/// Every edit that was made, the oldest first, with those that take another one back.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Edits {
    all: Vec<Edit>,
}

/// The edits that came to stand after another one.
#[derive(Debug, Default)]
pub struct Later<'a> {
    of_tree: HashMap<&'a TreeId, &'a Edit>,
    of_cell: HashMap<(&'a TreeId, TreeField), &'a Edit>,
    of_origin: Option<&'a Edit>,
}

impl<'a> Later<'a> {
    /// The first that touched a tree's line.
    pub fn of_tree(&self, tree: &TreeId) -> Option<&'a Edit> {
        self.of_tree.get(tree).copied()
    }

    /// The first that made a cell say something else.
    pub fn of_cell(&self, tree: &TreeId, field: TreeField) -> Option<&'a Edit> {
        self.of_cell.get(&(tree, field)).copied()
    }

    /// The first that said where the plot lies.
    pub fn of_origin(&self) -> Option<&'a Edit> {
        self.of_origin
    }
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

    /// Whether what a link of a chain began with stands; no link of ours: no.
    pub fn stands(&self, link: &EditId) -> bool {
        let nth = self.all.iter().position(|edit| edit.id == *link);
        nth.is_some_and(|nth| self.standing()[self.roots()[nth]])
    }

    /// What came to stand after this edit, by what it touched.
    pub fn later(&self, than: &EditId) -> Later<'_> {
        let mut later = Later::default();
        for edit in self.standing_after(than) {
            for part in &edit.parts {
                match part.tree() {
                    Some(tree) => _ = later.of_tree.entry(tree).or_insert(edit),
                    None => _ = later.of_origin.get_or_insert(edit),
                }
                if let EditPart::Set { tree, field, .. } = part {
                    later.of_cell.entry((tree, *field)).or_insert(edit);
                }
            }
        }
        later
    }

    /// What was made or done again after this one, and stands.
    fn standing_after(&self, than: &EditId) -> impl Iterator<Item = &Edit> {
        let than = self.all.iter().position(|edit| edit.id == *than);
        let standing = self.standing();
        let later = self.roots().into_iter().skip(than.map_or(self.all.len(), |than| than + 1));
        later.filter(move |&root| standing[root]).map(|root| &self.all[root])
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

    /// By edit: the one that was made, to which it leads back.
    fn roots(&self) -> Vec<usize> {
        let mut at: HashMap<&EditId, usize> = HashMap::new();
        let mut roots: Vec<usize> = Vec::with_capacity(self.all.len());
        for (nth, edit) in self.all.iter().enumerate() {
            let undone = edit.undoes.as_ref().and_then(|id| at.get(id));
            roots.push(undone.map_or(nth, |&undone| roots[undone]));
            at.insert(&edit.id, nth);
        }
        roots
    }

    /// What was made, by place: what stands, and what was taken back since the last new edit; both
    /// in the order in which that happened.
    fn stacks(&self) -> [Vec<usize>; 2] {
        let (mut stand, mut undone): (Vec<usize>, Vec<usize>) = (Vec::new(), Vec::new());
        for (nth, root) in self.roots().into_iter().enumerate() {
            if root == nth {
                undone.clear();
            }
            // What stands is turned over by its next link, and so is what does not.
            let (from, to) = match stand.contains(&root) {
                true => (&mut stand, &mut undone),
                false => (&mut undone, &mut stand),
            };
            from.retain(|&other| other != root);
            to.push(root);
        }
        [stand, undone]
    }
}
