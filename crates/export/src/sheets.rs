//! The CSV files of a plot folder as names and cells, and which line is which tree's.

use std::collections::BTreeSet;

use files::{Book, is_plain_number};
use plot::TreeIx;

use crate::columns::{Column, FILES, Kind};

/// A CSV file of the plot folder.
pub struct Sheet {
    /// Its name without `.csv`.
    pub name: &'static str,
    /// Its columns, in the order of the file, with what is known of them.
    pub(crate) columns: Vec<(String, Kind, Option<&'static Column>)>,
    /// Its lines, each with a cell for each column.
    pub rows: Vec<Vec<String>>,
}

impl Sheet {
    /// The names of its columns and what their cells are, in the order of the file.
    pub fn kinds(&self) -> impl Iterator<Item = (&str, Kind)> {
        self.columns.iter().map(|(name, kind, _)| (name.as_str(), *kind))
    }
}

/// The sheets that the folder has, in the order of the documentation.
pub(crate) fn sheets(book: &Book) -> Vec<Sheet> {
    FILES.iter().filter_map(|(name, known)| sheet(book, name, known)).collect()
}

/// `trees.csv`, and of each of its trees the index and the line.
pub fn trees(book: &Book) -> (Sheet, Vec<(TreeIx, usize)>) {
    let (name, known) = FILES[0];
    let sheet = sheet(book, name, known).unwrap_or(Sheet { name, columns: vec![], rows: vec![] });
    let id = sheet.columns.iter().position(|(column, ..)| column == "tree_id");
    let mut met = BTreeSet::new();
    let tree_of = |(nth, row): (usize, &Vec<String>)| {
        let tree = book.plot().tree_ix(&row[id?])?;
        met.insert(tree).then_some((tree, nth))
    };
    let trees = sheet.rows.iter().enumerate().filter_map(tree_of).collect();
    (sheet, trees)
}

/// `scores.csv`, where the folder has one.
pub fn scores(book: &Book) -> Option<Sheet> {
    let (name, known) = FILES[1];
    sheet(book, name, known)
}

fn sheet(book: &Book, name: &'static str, known: &'static [Column]) -> Option<Sheet> {
    let bytes = book.files().get(&format!("{name}.csv"))?;
    let mut records = records(bytes).into_iter();
    let header = records.next()?;
    let rows: Vec<Vec<String>> = records
        .map(|mut row| {
            row.resize(header.len(), String::new());
            row
        })
        .collect();
    let columns = header.into_iter().enumerate().map(|(nth, column)| {
        let of_ours = known.iter().find(|one| one.name == column);
        let kind = of_ours.map_or_else(|| guessed(&rows, nth), |one| one.kind);
        (column, kind, of_ours)
    });
    Some(Sheet { name, columns: columns.collect(), rows })
}

/// The records of a CSV file; a byte order mark is passed over.
pub(crate) fn records(bytes: &[u8]) -> Vec<Vec<String>> {
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    let mut reader = csv::ReaderBuilder::new().has_headers(false).flexible(true).from_reader(bytes);
    let cells = |record: csv::ByteRecord| {
        record.iter().map(|cell| String::from_utf8_lossy(cell).into_owned()).collect()
    };
    reader.byte_records().filter_map(Result::ok).map(cells).collect()
}

/// A column of someone's own is of numbers where every filled cell is one.
fn guessed(rows: &[Vec<String>], nth: usize) -> Kind {
    let mut filled = rows.iter().map(|row| &row[nth]).filter(|cell| !cell.is_empty()).peekable();
    let is_number = filled.peek().is_some() && filled.all(|cell| is_plain_number(cell));
    if is_number { Kind::Number } else { Kind::Text }
}
