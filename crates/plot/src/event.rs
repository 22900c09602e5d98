//! What was done to the plot and what befell it.

use std::ops::RangeInclusive;

use time::Date;

/// Something that was done to the plot, or befell it: a spray, pruning, hail, frost …
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Event {
    /// First day.
    pub from: Date,
    /// Last day; the same for a single day.
    pub to: Date,
    /// `spray`, `pruning`, `hail`, `frost`, or a word of one's own.
    pub kind: String,
    /// Row numbers; empty: the whole plot.
    pub rows: Vec<RangeInclusive<i32>>,
    /// Free words.
    pub note: Option<String>,
}

impl Event {
    /// Whether it is a spray.
    pub fn is_spray(&self) -> bool {
        self.kind.trim().eq_ignore_ascii_case("spray")
    }

    /// Whether it concerned a row, or may have: of a tree whose row is not known one cannot tell.
    pub fn concerns(&self, row: Option<i32>) -> bool {
        self.rows.is_empty()
            || row.is_none_or(|row| self.rows.iter().any(|rows| rows.contains(&row)))
    }
}
