//! A table that this plot wrote: its columns are known by their names, its notes are whole.

use plot::{Head, TreeField};

use super::{Rows, Target};

/// What the plot calls the columns of its trees and traits.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct OwnNames {
    columns: Vec<String>,
    traits: Vec<String>,
}

impl OwnNames {
    /// The columns of `trees.csv` in their order, and the plot's traits.
    pub(super) fn of(columns: &[String], head: &Head) -> Self {
        let traits = head.traits.iter().map(|one| one.id.to_string()).collect();
        Self { columns: columns.to_vec(), traits }
    }

    /// Whether the first line of a list names every column of `trees.csv`, whatever stands between.
    pub(super) fn are_in(&self, rows: &Rows) -> bool {
        if rows.is_empty() || !self.columns.iter().any(|name| name == "tree_id") {
            return false;
        }
        let cells: Vec<&str> = (0..rows.cells(0)).map(|column| rows.cell(0, column)).collect();
        self.columns.iter().all(|name| cells.contains(&name.trim()))
    }

    /// What the column of such a name is; none where the plot did not name it.
    pub(super) fn target(&self, head: &str) -> Option<Target> {
        if self.columns.iter().any(|name| name.trim() == head) {
            let of_tree = TreeField::parse(head).map_or(Target::Skip, Target::Field);
            return Some(if head == "tree_id" { Target::TreeId } else { of_tree });
        }
        let is_of =
            |id: &String| head.strip_prefix(id.as_str()).is_some_and(|it| it.starts_with(' '));
        self.traits.iter().any(is_of).then_some(Target::Skip)
    }
}
