//! The rows of a list: its cells as they stand, each row with its line.

use std::ops::Range;

use language::say;

use super::Separator;
use crate::caps;
use crate::guard::unguarded;
use crate::table::{Cells, Extent};

/// What is expected of a row whose quotes do not fit.
fn quotes() -> &'static str {
    say!("quotes only around a whole cell, and each quote within it doubled")
}

/// The rows of a list, blank ones too.
#[derive(Clone, Debug, Default)]
pub struct Rows {
    /// The text of all cells, one behind the other.
    text: String,
    /// Where each cell ends in it.
    ends: Vec<usize>,
    rows: Vec<Row>,
    /// Whether a cell may have an apostrophe in front that guards it: those of a workbook have
    /// none.
    may_be_guarded: bool,
}

#[derive(Clone, Debug)]
struct Row {
    line: u64,
    cells: Range<usize>,
    /// What was found where the row cannot be told apart into cells, and what was expected.
    broken: Option<Box<(String, String)>>,
}

impl Rows {
    /// How many rows.
    pub fn len(&self) -> usize {
        self.rows.len()
    }

    /// Whether there is none.
    pub fn is_empty(&self) -> bool {
        self.rows.is_empty()
    }

    /// The line at which a row begins; the first line is 1.
    pub fn line(&self, row: usize) -> u64 {
        self.rows[row].line
    }

    /// How many cells a row has.
    pub fn cells(&self, row: usize) -> usize {
        self.rows[row].cells.len()
    }

    /// A cell without the apostrophe that guards it ([`unguarded`]) and without
    /// the spaces around it; empty beyond the row's last.
    pub fn cell(&self, row: usize, column: usize) -> &str {
        self.whole_cell(row, column).trim()
    }

    /// The same with the spaces around it.
    pub(super) fn whole_cell(&self, row: usize, column: usize) -> &str {
        let Range { start, end } = self.rows[row].cells;
        let nth = start + column;
        if nth >= end {
            return "";
        }
        let from = if nth == 0 { 0 } else { self.ends[nth - 1] };
        let cell = &self.text[from..self.ends[nth]];
        if self.may_be_guarded { unguarded(cell) } else { cell }
    }

    /// How many cells of a row hold something.
    pub fn filled(&self, row: usize) -> usize {
        (0..self.cells(row)).filter(|&column| !self.cell(row, column).is_empty()).count()
    }

    /// Cells of a row up to the last that holds something.
    pub fn width(&self, row: usize) -> usize {
        let filled = |&column: &usize| !self.cell(row, column).is_empty();
        (0..self.cells(row)).rev().find(filled).map_or(0, |column| column + 1)
    }

    /// What was found where a row cannot be told apart into cells, and what was expected.
    pub fn broken(&self, row: usize) -> Option<(&str, &str)> {
        let (found, expected) = &**self.rows[row].broken.as_ref()?;
        Some((found, expected))
    }

    fn push<'a>(&mut self, line: u64, cells: impl Iterator<Item = &'a str>) {
        let start = self.ends.len();
        for cell in cells.take(caps::COLUMNS) {
            self.text.push_str(cell);
            self.ends.push(self.text.len());
        }
        self.rows.push(Row { line, cells: start..self.ends.len(), broken: None });
    }

    fn break_last(&mut self, found: String, expected: impl Into<String>) {
        if let Some(row) = self.rows.last_mut() {
            row.broken = Some(Box::new((found, expected.into())));
        }
    }
}

/// A list while it is read.
#[derive(Debug)]
pub struct Reading {
    text: String,
    separator: Separator,
    cells: Cells,
    at: usize,
    line: u64,
    /// Whether lines are counted by row, as sheets number them.
    by_row: bool,
    most_lines: usize,
    rows: Rows,
}

impl Reading {
    /// Text whose lines are counted as they stand, from 1.
    pub fn new(text: String, separator: Separator) -> Self {
        let cells = Cells::parted_by(separator.byte());
        let rows = Rows { may_be_guarded: true, ..Rows::default() };
        let most_lines = caps::LINES as usize;
        Self { text, separator, cells, at: 0, line: 1, by_row: false, most_lines, rows }
    }

    /// A sheet, written as CSV with commas, whose first row has this number.
    pub fn sheet(text: String, first_row: u64) -> Self {
        let rows = Rows::default();
        Self { line: first_row, by_row: true, rows, ..Self::new(text, Separator::Comma) }
    }

    /// Reads so many rows further; gives how many bytes are done, and of how many.
    pub fn step(&mut self, rows: usize) -> (usize, usize) {
        for _ in 0..rows {
            if self.at >= self.text.len() {
                break;
            }
            if self.rows.len() >= self.most_lines {
                self.pass_over_rest();
                break;
            }
            self.row();
        }
        (self.at, self.text.len())
    }

    /// The rows read.
    pub fn finish(self) -> Rows {
        self.rows
    }

    /// Reads all that is left.
    pub fn to_end(mut self) -> Rows {
        self.step(usize::MAX);
        self.finish()
    }

    /// Says in a row of its own that there was more.
    fn pass_over_rest(&mut self) {
        if !self.text[self.at..].trim().is_empty() {
            self.rows.push(self.line, std::iter::once("…"));
            self.rows.break_last(
                say!("more lines").to_owned(),
                say!("at most {most}", most = self.most_lines),
            );
        }
        self.at = self.text.len();
    }

    fn row(&mut self) {
        let bytes = self.text.as_bytes();
        let extent = Extent::of(bytes, self.at, self.separator.byte());
        self.cells.split(&bytes[extent.content()]);
        let cells = &self.cells;
        self.rows.push(self.line, (0..cells.len()).map(|nth| cells.get(nth).unwrap_or("\u{fffd}")));
        // A quote within a cell is often an inch or a nickname: only one at its start matters.
        if let Some(broken) = extent.broken.filter(|broken| !broken.is_quote_within()) {
            let of_quotes = broken.is_of_quotes().then(|| quotes().to_owned());
            let expected = of_quotes.unwrap_or_else(|| broken.expected());
            self.rows.break_last(broken.found(), expected);
        }
        self.at = extent.next;
        self.line += if self.by_row { 1 } else { extent.lines };
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(text: &str, expect: &[(u64, &[&str])]) {
        let rows = Reading::new(text.to_owned(), Separator::Semicolon).to_end();
        let found: Vec<(u64, Vec<&str>)> = (0..rows.len())
            .map(|row| {
                (rows.line(row), (0..rows.cells(row)).map(|it| rows.cell(row, it)).collect())
            })
            .collect();
        let expect: Vec<(u64, Vec<&str>)> =
            expect.iter().map(|(line, cells)| (*line, cells.to_vec())).collect();
        assert_eq!(found, expect, "{text}");
    }

    #[test]
    fn rows_have_their_lines() {
        check("", &[]);
        check("a;b\n\n 1 ;2\r\n", &[(1, &["a", "b"]), (2, &[]), (3, &["1", "2"])]);
        check("\"a\nb\";c\nd", &[(1, &["a\nb", "c"]), (3, &["d"])]);
        check("6\" pot;x\n", &[(1, &["6\" pot", "x"])]);
        check("'=1;'t Zand;\"'\t@x\"\n", &[(1, &["=1", "'t Zand", "@x"])]);
    }

    #[test]
    fn a_stray_quote_costs_one_line() {
        let rows = Reading::new("a;b\n\"1;2\n3;4\n".to_owned(), Separator::Semicolon).to_end();
        assert_eq!(rows.len(), 3);
        assert_eq!(rows.broken(1), Some(("a quote that is not closed", quotes())));
        assert_eq!((rows.line(2), rows.cell(2, 1)), (3, "4"));
    }

    #[test]
    fn what_breaks_a_row_is_told_with_what_was_expected() {
        let long = "x".repeat(caps::CELL_BYTES + 1);
        let text = format!("{long};1\na\rb;2\n{}\n3;4\n", ";".repeat(caps::COLUMNS));
        let rows = Reading::new(text, Separator::Semicolon).to_end();
        let expect = [
            ("a cell longer than 32768 bytes", "a shorter cell, or a closing quote"),
            ("a carriage return without a line feed", "line ends CRLF or LF"),
            ("more than 1000 cells", "at most 1000"),
        ];
        assert_eq!([0, 1, 2].map(|row| rows.broken(row)), expect.map(Some));
        assert_eq!(rows.broken(3), None);
    }

    #[test]
    fn lines_beyond_the_most_are_told() {
        let read = |text: &str| {
            let reading = Reading::new(text.to_owned(), Separator::Semicolon);
            Reading { most_lines: 2, ..reading }.to_end()
        };
        let rows = read("a;b\n1;2\n\n3;4\n");
        assert_eq!((rows.len(), rows.line(2)), (3, 3));
        assert_eq!(rows.broken(2), Some(("more lines", "at most 2")));
        assert_eq!(read("a;b\n1;2\n\n").len(), 2);
    }

    #[test]
    fn rows_of_a_sheet_are_counted_by_row() {
        let rows = Reading::sheet("\"a\nb\",c\n,\n1,'=2\n".to_owned(), 5).to_end();
        assert_eq!(rows.cell(2, 1), "'=2", "a workbook's cells are not guarded");
        assert_eq!((0..rows.len()).map(|row| rows.line(row)).collect::<Vec<_>>(), [5, 6, 7]);
    }
}
