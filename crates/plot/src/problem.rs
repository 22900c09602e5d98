//! What is wrong with a piece of input: where, what was found, what was expected.

use std::fmt;

use language::say;
use serde::{Deserialize, Serialize};

/// How much a problem weighs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Weight {
    /// Worth a look; the line was taken as it stands.
    Notice,
    /// The line breaks a rule and was not taken; it is kept byte for byte.
    Fault,
}

/// A broken rule in a named place of a file.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Problem {
    /// Fault or notice.
    pub weight: Weight,
    /// File name within the plot folder, such as `trees.csv`.
    pub file: String,
    /// Line within the file, the header being line 1; none when the whole file is meant.
    pub line: Option<u64>,
    /// Column name, or the path of a field in `plot.json` such as `traits[2].id`.
    pub column: Option<String>,
    /// What stood there.
    pub found: String,
    /// What should have stood there.
    pub expected: String,
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { file, line, column, found, expected, .. } = self;
        let place = match (line, column) {
            (None, None) => file.clone(),
            (Some(line), None) => say!("{file}, line {line}"),
            (None, Some(column)) => say!("{file}, column {column}"),
            (Some(line), Some(column)) => say!("{file}, line {line}, column {column}"),
        };
        f.write_str(&say!("{place}: found {found}, expected {expected}"))
    }
}

/// A broken rule in one record, before anyone knows which line of which file it came from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refusal {
    /// The column or field at fault.
    pub column: &'static str,
    /// What stood there.
    pub found: String,
    /// What should have stood there.
    pub expected: String,
}

impl Refusal {
    /// A refusal of what stood in `column`.
    pub fn new(
        column: &'static str,
        found: impl Into<String>,
        expected: impl Into<String>,
    ) -> Self {
        Self { column, found: found.into(), expected: expected.into() }
    }

    /// A tree that is not there.
    pub fn no_tree(id: &str) -> Self {
        Self::new("tree_id", format!("\"{id}\""), say!("a tree_id of trees.csv"))
    }

    /// The same with its file and line.
    pub fn at(self, weight: Weight, file: &str, line: Option<u64>) -> Problem {
        Problem {
            weight,
            file: file.to_owned(),
            line,
            column: Some(self.column.to_owned()),
            found: self.found,
            expected: self.expected,
        }
    }
}

impl std::error::Error for Refusal {}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { column: place, found, expected } = self;
        f.write_str(&say!("{place}: found {found}, expected {expected}"))
    }
}
