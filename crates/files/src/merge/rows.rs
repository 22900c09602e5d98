//! Tables by their rows: cells by column name, lines in the order in which they stand.

use std::collections::BTreeMap;

use csv::StringRecord;
use language::say;
use plot::{Problem, Weight};

use crate::table::header_end;
use crate::written::Lines;

/// The filled cells of a line by column.
pub(super) type Row = BTreeMap<String, String>;

/// A table with its bytes.
pub(super) struct Rows {
    pub(super) bytes: Vec<u8>,
    pub(super) columns: Vec<String>,
    pub(super) records: Vec<StringRecord>,
}

impl Rows {
    /// Reads a table whose lines all have as many cells as its header.
    pub(super) fn read(file: &str, bytes: &[u8]) -> Result<Self, Problem> {
        let text = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
        let mut reader = csv::ReaderBuilder::new().from_reader(text);
        let broken = |error: csv::Error| Problem {
            weight: Weight::Fault,
            file: file.to_owned(),
            line: error.position().map(csv::Position::line),
            column: None,
            found: found(&error),
            expected: say!("lines with a cell for each column, in UTF-8").to_owned(),
        };
        let columns = reader.headers().map_err(broken)?.iter().map(str::to_owned).collect();
        let records = reader.into_records().collect::<Result<_, _>>().map_err(broken)?;
        Ok(Self { bytes: bytes.to_vec(), columns, records })
    }

    /// The same columns without a line.
    pub(super) fn empty(&self) -> Self {
        let bytes = lines(&self.columns, std::iter::empty(), false);
        Self { bytes, columns: self.columns.clone(), records: Vec::new() }
    }

    pub(super) fn rows(&self) -> impl Iterator<Item = Row> {
        self.records.iter().map(|record| self.row(record))
    }

    pub(super) fn row(&self, record: &StringRecord) -> Row {
        let filled = self.columns.iter().zip(record).filter(|(_, cell)| !cell.is_empty());
        filled.map(|(column, cell)| (column.clone(), cell.to_owned())).collect()
    }

    /// What tells a line apart: its cell below `key`; all that it says, where that is empty.
    pub(super) fn id(&self, record: &StringRecord, key: Option<&str>) -> String {
        let at = key.and_then(|key| self.columns.iter().position(|column| column == key));
        match at.and_then(|at| record.get(at)).filter(|id| !id.is_empty()) {
            Some(id) => id.to_owned(),
            None => serde_json::to_string(&self.row(record)).expect("words make JSON"),
        }
    }
}

fn found(error: &csv::Error) -> String {
    match error.kind() {
        csv::ErrorKind::UnequalLengths { expected_len, len, .. } => {
            say!("{cells} cells under {columns} columns", cells = len, columns = expected_len)
        }
        csv::ErrorKind::Utf8 { .. } => say!("bytes that are not UTF-8").to_owned(),
        _ => error.to_string(),
    }
}

/// The table with some lines in another version, by their id.
pub(super) fn replaced(table: &Rows, key: &str, chosen: &BTreeMap<&str, &Row>) -> Vec<u8> {
    let row = |row: Row| {
        let chosen = row.get(key).and_then(|id| chosen.get(id.as_str()));
        chosen.map_or(row.clone(), |&chosen| chosen.clone())
    };
    lines(&table.columns, table.rows().map(row), ends_in_crlf(&table.bytes))
}

pub(super) fn ends_in_crlf(bytes: &[u8]) -> bool {
    bytes[header_end(bytes)..].starts_with(b"\r\n")
}

/// The table as it stands, and new lines below it.
pub(super) fn appended(base: &Rows, new: impl Iterator<Item = Row>, crlf: bool) -> Vec<u8> {
    let header = lines(&base.columns, std::iter::empty(), crlf);
    let with_new = lines(&base.columns, new, crlf);
    let new = &with_new[header.len()..];
    let mut bytes = base.bytes.clone();
    if !new.is_empty() && !bytes.ends_with(b"\n") {
        bytes.extend_from_slice(if crlf { b"\r\n" } else { b"\n" });
    }
    bytes.extend_from_slice(new);
    bytes
}

/// A whole table.
pub(super) fn lines(columns: &[String], rows: impl Iterator<Item = Row>, crlf: bool) -> Vec<u8> {
    let mut lines = Lines::new(crlf);
    lines.push(columns.iter().map(String::as_str));
    for row in rows {
        lines.push(columns.iter().map(|column| row.get(column).map_or("", String::as_str)));
    }
    lines.into_bytes()
}
