//! Changes of a tree after it was planted: one cell of its line, what it said and what it says now.

use std::sync::Arc;

use language::say;

use crate::{Refusal, ScoreId, Status, TreeField, TreeId, When};

/// A cell of a tree's line that a walk may change.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum TreeCell {
    /// Whether something stands there.
    Status,
    /// Free words.
    Note,
}

impl TreeCell {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Status, Self::Note];

    /// Its column's name.
    pub fn as_str(self) -> &'static str {
        match self {
            Self::Status => "status",
            Self::Note => "note",
        }
    }

    /// The cell of a column's name.
    pub fn parse(text: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|cell| cell.as_str() == text)
    }

    /// Whether two texts say the same in this cell: an empty status and `alive` do.
    pub fn says_the_same(self, one: &str, other: &str) -> bool {
        TreeField::from(self).says_the_same(one, other)
    }
}

/// One cell of one tree that was made to say something else.
#[derive(Clone, Debug, PartialEq)]
pub struct TreeChange {
    /// Which tree.
    pub tree: TreeId,
    /// Which of its cells.
    pub cell: TreeCell,
    /// What it said.
    pub from: Arc<str>,
    /// What it says now.
    pub to: Arc<str>,
    /// When.
    pub changed_on: When,
    /// Name or number of the walk-through in which it was seen.
    pub round: Option<Arc<str>>,
    /// Who.
    pub scorer: Option<Arc<str>>,
    /// The last line of `scores.csv` that stood when it was changed: so lines and changes have one
    /// order.
    pub after: Option<ScoreId>,
}

impl TreeChange {
    /// Whether the change may be made of a cell that says `now`.
    ///
    /// # Errors
    /// A status that is none; words that are neither what it comes from nor what it leads to.
    pub fn check(&self, now: &str) -> Result<(), Refusal> {
        self.status()?;
        TreeField::from(self.cell).check(now, &self.from, &self.to)
    }

    /// The status that it sets; none for a change of the note.
    ///
    /// # Errors
    /// A word that is no status.
    pub(crate) fn status(&self) -> Result<Option<Status>, Refusal> {
        if self.cell != TreeCell::Status {
            return Ok(None);
        }
        let words: Vec<&str> = Status::ALL.iter().map(|status| status.as_str()).collect();
        let refuse = || {
            Refusal::new(
                "status",
                format!("\"{}\"", self.to),
                say!("one of {words}", words = words.join(", ")),
            )
        };
        Status::parse(&self.to).map(Some).ok_or_else(refuse)
    }
}
