//! A table by its columns: each of one type, each value there or missing.

use std::collections::BTreeSet;

use time::{Date, OffsetDateTime};

/// Columns of equal length, in order.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Frame {
    columns: Vec<(String, Values)>,
}

/// The values of a column.
#[derive(Clone, Debug, PartialEq)]
pub enum Values {
    /// Words.
    Text(Vec<Option<String>>),
    /// Whole numbers.
    Whole(Vec<Option<i64>>),
    /// Numbers.
    Number(Vec<Option<f64>>),
    /// Yes or no.
    Truth(Vec<Option<bool>>),
    /// Calendar days.
    Day(Vec<Option<Date>>),
    /// Moments, whatever the offset of the clock that told them.
    Moment(Vec<Option<OffsetDateTime>>),
}

impl Frame {
    /// Appends a column.
    ///
    /// # Panics
    /// It is not as long as those before it.
    pub fn push(&mut self, name: impl Into<String>, values: Values) {
        let is_first = self.columns.is_empty();
        assert!(is_first || values.len() == self.len(), "columns of one length");
        self.columns.push((name.into(), values));
    }

    /// How many lines it has.
    pub fn len(&self) -> usize {
        self.columns.first().map_or(0, |(_, values)| values.len())
    }

    /// Whether it has no line.
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// The columns, with names that are told apart without regard to case, as SQL wants them: a
    /// name that an earlier column or `reserved` has gets a number behind it, an empty one is
    /// called `column`.
    pub(crate) fn columns(&self, reserved: &[&str]) -> Vec<(String, &Values)> {
        let mut taken: BTreeSet<String> = reserved.iter().map(|name| name.to_lowercase()).collect();
        let mut free = |name: &str| {
            // A zero byte ends a name in SQLite.
            let name = name.replace('\0', " ");
            let name = if name.is_empty() { "column".to_owned() } else { name };
            let numbered = (2..).map(|nth| format!("{name} {nth}"));
            let mut names = std::iter::once(name.clone()).chain(numbered);
            names.find(|name| taken.insert(name.to_lowercase())).unwrap_or(name)
        };
        self.columns.iter().map(|(name, values)| (free(name), values)).collect()
    }
}

impl Values {
    /// How many there are, those that are missing among them.
    pub fn len(&self) -> usize {
        match self {
            Self::Text(values) => values.len(),
            Self::Whole(values) => values.len(),
            Self::Number(values) => values.len(),
            Self::Truth(values) => values.len(),
            Self::Day(values) => values.len(),
            Self::Moment(values) => values.len(),
        }
    }

    /// Whether there is none.
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }
}
