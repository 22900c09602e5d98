//! Tables by their rows: columns by name, order as it stands, and the union of two of them.

use std::collections::{BTreeMap, BTreeSet, HashMap};

use csv::StringRecord;
use plot::{Problem, Weight};

use crate::written::Lines;

/// The filled cells of a line by column.
pub(super) type Row = BTreeMap<String, String>;

/// A table with its bytes.
pub(super) struct Rows {
    bytes: Vec<u8>,
    columns: Vec<String>,
    records: Vec<StringRecord>,
}

/// What two tables make.
pub(super) struct United {
    pub(super) bytes: Vec<u8>,
    pub(super) added: usize,
    /// Id, the version that is kept, one that is not.
    pub(super) conflicts: Vec<(String, Row, Row)>,
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
            expected: "lines with a cell for each column, in UTF-8".to_owned(),
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

    fn row(&self, record: &StringRecord) -> Row {
        let filled = self.columns.iter().zip(record).filter(|(_, cell)| !cell.is_empty());
        filled.map(|(column, cell)| (column.clone(), cell.to_owned())).collect()
    }

    fn id(&self, record: &StringRecord, key: Option<&str>) -> String {
        match key {
            Some(key) => {
                let at = self.columns.iter().position(|column| column == key);
                at.and_then(|at| record.get(at)).unwrap_or_default().to_owned()
            }
            None => serde_json::to_string(&self.row(record)).expect("words make JSON"),
        }
    }
}

fn found(error: &csv::Error) -> String {
    match error.kind() {
        csv::ErrorKind::UnequalLengths { expected_len, len, .. } => {
            format!("{len} cells under {expected_len} columns")
        }
        csv::ErrorKind::Utf8 { .. } => "bytes that are not UTF-8".to_owned(),
        _ => error.to_string(),
    }
}

/// One version of a line: the table it stands in, and its cells.
type Version<'a> = (&'a Rows, &'a StringRecord);

/// Unites two tables. `key` is the column that tells lines apart; `open` are the versions of a
/// line, by its id, that earlier merges left to be decided.
pub(super) fn united(
    base: &Rows,
    more: Option<&Rows>,
    key: Option<&str>,
    open: &BTreeMap<String, BTreeSet<Row>>,
) -> United {
    let mut order: Vec<(String, Version<'_>)> = Vec::new();
    let mut nth_of: HashMap<String, usize> = HashMap::new();
    // Nearly every line has one version, so that only the others are looked at cell by cell.
    let mut several: BTreeMap<usize, BTreeSet<Row>> = BTreeMap::new();
    for rows in [Some(base), more].into_iter().flatten() {
        for record in &rows.records {
            let id = rows.id(record, key);
            match nth_of.get(&id) {
                None => {
                    nth_of.insert(id.clone(), order.len());
                    order.push((id, (rows, record)));
                }
                Some(&nth) => {
                    let (first, same) = order[nth].1;
                    if first.columns != rows.columns || same != record {
                        let versions = several.entry(nth).or_default();
                        versions.extend([first.row(same), rows.row(record)]);
                    }
                }
            }
        }
    }
    for id in open.keys() {
        if let Some(&nth) = nth_of.get(id) {
            let (rows, record) = order[nth].1;
            several.entry(nth).or_default().insert(rows.row(record));
        }
    }
    let mut conflicts = Vec::new();
    let mut kept: BTreeMap<usize, Row> = BTreeMap::new();
    for (nth, versions) in several {
        let id = &order[nth].0;
        let Some(winner) = versions.iter().max_by_key(|row| (row.len(), *row)) else { continue };
        let others: BTreeSet<&Row> =
            versions.iter().chain(open.get(id).into_iter().flatten()).collect();
        for other in others.into_iter().filter(|other| *other != winner) {
            conflicts.push((id.clone(), winner.clone(), other.clone()));
        }
        kept.insert(nth, winner.clone());
    }
    let row = |nth: usize, (rows, record): Version<'_>| {
        kept.get(&nth).cloned().unwrap_or_else(|| rows.row(record))
    };
    let is_new = |(rows, _): &Version<'_>| !std::ptr::eq(*rows, base);
    let added = order.iter().filter(|(_, version)| is_new(version)).count();
    let replaced = order.iter().enumerate().any(|(nth, (_, version))| {
        !is_new(version) && kept.get(&nth).is_some_and(|row| *row != version.0.row(version.1))
    });
    let mut columns = base.columns.clone();
    for column in more.iter().flat_map(|more| &more.columns) {
        if !columns.contains(column) {
            columns.push(column.clone());
        }
    }
    let crlf = ends_in_crlf(&base.bytes);
    let all = order.iter().enumerate();
    let bytes = if replaced || columns.len() > base.columns.len() {
        lines(&columns, all.map(|(nth, (_, version))| row(nth, *version)), crlf)
    } else {
        let new = all.filter(|(_, (_, version))| is_new(version));
        appended(base, new.map(|(nth, (_, version))| row(nth, *version)), crlf)
    };
    United { bytes, added, conflicts }
}

/// The table with some lines in another version, by their id.
pub(super) fn replaced(table: &Rows, key: &str, chosen: &BTreeMap<&str, &Row>) -> Vec<u8> {
    let row = |row: Row| {
        let chosen = row.get(key).and_then(|id| chosen.get(id.as_str()));
        chosen.map_or(row.clone(), |&chosen| chosen.clone())
    };
    lines(&table.columns, table.rows().map(row), ends_in_crlf(&table.bytes))
}

fn ends_in_crlf(bytes: &[u8]) -> bool {
    let end = bytes.iter().position(|&byte| byte == b'\n');
    end.is_some_and(|end| end > 0 && bytes[end - 1] == b'\r')
}

/// The table as it stands, and new lines below it.
fn appended(base: &Rows, new: impl Iterator<Item = Row>, crlf: bool) -> Vec<u8> {
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
fn lines(columns: &[String], rows: impl Iterator<Item = Row>, crlf: bool) -> Vec<u8> {
    let mut lines = Lines::new(crlf);
    lines.push(columns.iter().map(String::as_str));
    for row in rows {
        lines.push(columns.iter().map(|column| row.get(column).map_or("", String::as_str)));
    }
    lines.into_bytes()
}
