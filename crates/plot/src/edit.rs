//! A change of a plot's trees, or of where it lies, as a person makes it: words, day, and parts that
//! are taken together or not at all, each with its inverse.

mod edits;
mod field;

use std::collections::BTreeMap;
use std::sync::Arc;

use language::say;

use crate::{EditId, Origin, TreeId, When};

pub use edits::{Edits, Later};
pub use field::TreeField;

/// What a person changed of the plot, in one go.
#[derive(Clone, Debug, PartialEq)]
pub struct Edit {
    /// Its own name.
    pub id: EditId,
    /// What it is, as a person says it, in the language in which it was made: `Moved MB-12 to row
    /// 3, place 4`.
    pub words: Arc<str>,
    /// When it was made.
    pub done_on: When,
    /// The edit that it takes back.
    pub undoes: Option<EditId>,
    /// What is done; no cell and no line twice.
    pub parts: Vec<EditPart>,
}

/// A part of an edit.
#[derive(Clone, Debug, PartialEq)]
pub enum EditPart {
    /// A new line.
    Add(TreeLine),
    /// A cell of a line that is there says something else.
    Set {
        /// Whose line.
        tree: TreeId,
        /// Which of its cells.
        field: TreeField,
        /// What it said; where the edit is first made, it is taken from the file.
        from: Arc<str>,
        /// What it says now.
        to: Arc<str>,
    },
    /// The line that an earlier edit added is no longer there.
    TakeOut(TreeLine),
    /// The plot lies elsewhere.
    Lie {
        /// The `origin` that `plot.json` had, as JSON; empty: none. Where the edit is first made, it
        /// is taken from the file.
        from: Arc<str>,
        /// The one that it has now.
        to: Arc<str>,
    },
}

/// A line of `trees.csv` by its columns.
#[derive(Clone, Debug, PartialEq)]
pub struct TreeLine {
    /// The tree's name.
    pub id: TreeId,
    /// What the other cells say, none of them empty.
    pub cells: BTreeMap<TreeField, Arc<str>>,
}

impl Edit {
    /// An edit that takes nothing back.
    pub fn new(
        id: EditId,
        words: impl Into<Arc<str>>,
        done_on: When,
        parts: Vec<EditPart>,
    ) -> Self {
        Self { id, words: words.into(), done_on, undoes: None, parts }
    }

    /// The edit that takes this one back: its parts the other way, the last first.
    pub fn inverse(&self, id: EditId, done_on: When) -> Self {
        // Every second link of a chain undoes, the others do again.
        let undone = say!("Undone: ");
        let words = match self.words.strip_prefix(undone) {
            Some(words) => words.into(),
            None => format!("{undone}{}", self.words).into(),
        };
        let parts = self.parts.iter().rev().map(EditPart::inverse).collect();
        Self { id, words, done_on, undoes: Some(self.id.clone()), parts }
    }
}

impl EditPart {
    /// A cell of a tree that is to say something else.
    pub fn set(tree: &TreeId, field: TreeField, to: impl Into<Arc<str>>) -> Self {
        Self::Set { tree: tree.clone(), field, from: "".into(), to: to.into() }
    }

    /// The plot's origin that is to be another.
    pub fn lie(origin: &Origin) -> Self {
        let Origin { lon, lat, row_bearing_deg } = origin;
        let to =
            format!("{{\"lon\": {lon}, \"lat\": {lat}, \"row_bearing_deg\": {row_bearing_deg}}}");
        Self::Lie { from: "".into(), to: to.into() }
    }

    /// The tree whose line it touches, if it touches one.
    pub fn tree(&self) -> Option<&TreeId> {
        match self {
            Self::Add(line) | Self::TakeOut(line) => Some(&line.id),
            Self::Set { tree, .. } => Some(tree),
            Self::Lie { .. } => None,
        }
    }

    fn inverse(&self) -> Self {
        match self.clone() {
            Self::Add(line) => Self::TakeOut(line),
            Self::TakeOut(line) => Self::Add(line),
            Self::Set { tree, field, from, to } => Self::Set { tree, field, from: to, to: from },
            Self::Lie { from, to } => Self::Lie { from: to, to: from },
        }
    }
}

impl TreeLine {
    /// A line with nothing but a name.
    pub fn new(id: TreeId) -> Self {
        Self { id, cells: BTreeMap::new() }
    }

    /// The same with one more cell; an empty one is left out.
    #[must_use]
    pub fn with(mut self, field: TreeField, text: impl Into<Arc<str>>) -> Self {
        let text = text.into();
        if !text.is_empty() {
            self.cells.insert(field, text);
        }
        self
    }

    /// What a cell says; empty where it is left out.
    pub fn cell(&self, field: TreeField) -> &str {
        self.cells.get(&field).map_or("", |text| text)
    }
}

#[cfg(test)]
mod tests;
