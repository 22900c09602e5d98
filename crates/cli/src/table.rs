//! Tables on standard output: CSV, or JSON as a list of objects.

use std::io::{ErrorKind, Write};

use clap::ValueEnum;
use serde::ser::SerializeMap;
use serde::{Serialize, Serializer};

/// How a table is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Format {
    /// RFC 4180, with a header line.
    Csv,
    /// A list of objects, one for each line; empty cells are null.
    Json,
}

/// One cell.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(untagged)]
pub(crate) enum Cell {
    /// Unknown, or not applicable.
    Empty,
    /// A word.
    Text(String),
    /// A number; written so that reading gives the same number again.
    Number(f64),
    /// How many.
    Count(u64),
}

/// Lines of the same columns.
pub(crate) struct Table {
    columns: &'static [&'static str],
    rows: Vec<Vec<Cell>>,
}

impl Table {
    /// Without lines.
    pub(crate) fn new(columns: &'static [&'static str]) -> Self {
        Self { columns, rows: Vec::new() }
    }

    /// Appends a line with a cell for each column.
    pub(crate) fn push(&mut self, row: Vec<Cell>) {
        debug_assert_eq!(row.len(), self.columns.len());
        self.rows.push(row);
    }

    /// Whether it has no line.
    pub(crate) fn is_empty(&self) -> bool {
        self.rows.is_empty()
    }

    /// Its columns in order, each with its cells from the first line to the last.
    pub(crate) fn columns(
        &self,
    ) -> impl Iterator<Item = (&'static str, impl Iterator<Item = &Cell>)> {
        self.columns
            .iter()
            .enumerate()
            .map(|(nth, &name)| (name, self.rows.iter().map(move |row| &row[nth])))
    }

    /// Writes it to standard output.
    ///
    /// # Errors
    /// Standard output cannot be written; one that was closed early is no error.
    pub(crate) fn print(&self, format: Format) -> anyhow::Result<()> {
        say(&match format {
            Format::Csv => self.csv()?,
            Format::Json => json(self)?,
        })
    }

    fn csv(&self) -> anyhow::Result<Vec<u8>> {
        let mut csv = csv::Writer::from_writer(Vec::new());
        csv.write_record(self.columns)?;
        for row in &self.rows {
            csv.write_record(row.iter().map(Cell::text))?;
        }
        Ok(csv.into_inner()?)
    }
}

/// A value as JSON text with a line end.
pub(crate) fn json(value: &impl Serialize) -> anyhow::Result<Vec<u8>> {
    let mut bytes = serde_json::to_vec_pretty(value)?;
    bytes.push(b'\n');
    Ok(bytes)
}

/// Writes to standard output; a reader that has gone is no error.
///
/// # Errors
/// Standard output cannot be written for another reason.
pub(crate) fn say(bytes: &[u8]) -> anyhow::Result<()> {
    let mut out = std::io::stdout().lock();
    match out.write_all(bytes).and_then(|()| out.flush()) {
        Err(error) if error.kind() != ErrorKind::BrokenPipe => Err(error.into()),
        _ => Ok(()),
    }
}

impl Serialize for Table {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_seq(self.rows.iter().map(|row| Line { columns: self.columns, row }))
    }
}

struct Line<'a> {
    columns: &'static [&'static str],
    row: &'a [Cell],
}

impl Serialize for Line<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(Some(self.row.len()))?;
        for (column, cell) in self.columns.iter().zip(self.row) {
            map.serialize_entry(column, cell)?;
        }
        map.end()
    }
}

impl Cell {
    fn text(&self) -> String {
        match self {
            Self::Empty => String::new(),
            Self::Text(text) => text.clone(),
            Self::Number(number) => number.to_string(),
            Self::Count(count) => count.to_string(),
        }
    }
}

impl From<&str> for Cell {
    fn from(text: &str) -> Self {
        Self::Text(text.to_owned())
    }
}

impl From<String> for Cell {
    fn from(text: String) -> Self {
        Self::Text(text)
    }
}

impl From<f64> for Cell {
    fn from(number: f64) -> Self {
        Self::Number(number)
    }
}

impl From<usize> for Cell {
    fn from(count: usize) -> Self {
        Self::Count(count as u64)
    }
}

impl<T: Into<Self>> From<Option<T>> for Cell {
    fn from(value: Option<T>) -> Self {
        value.map_or(Self::Empty, Into::into)
    }
}
