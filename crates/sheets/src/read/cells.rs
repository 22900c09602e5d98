//! The cells of a sheet in words, written as CSV.

use calamine::{Data, ExcelDateTime};
use language::say;

use super::{MOST_CELLS, MOST_COLUMNS, MOST_ROWS, Unusable};

/// Cells that hold something: row and column from 0, and words.
#[derive(Debug, Default)]
pub(super) struct Cells(Vec<(u32, u32, String)>);

impl Cells {
    /// # Errors
    /// Too far off, or too many.
    pub(super) fn add(&mut self, row: u32, column: u32, value: &Data) -> Result<(), Unusable> {
        let words = words(value);
        if words.is_empty() {
            return Ok(());
        }
        if row >= MOST_ROWS || column >= MOST_COLUMNS || self.0.len() >= MOST_CELLS {
            let found =
                say!("a cell in row {row}, column {column}", row = row + 1, column = column + 1);
            let expected = say!(
                "a sheet of at most {rows} rows and {columns} columns, and {cells} cells that hold \
                 something",
                rows = MOST_ROWS,
                columns = MOST_COLUMNS,
                cells = MOST_CELLS
            );
            return Err(Unusable::new(found, expected));
        }
        self.0.push((row, column, words));
        Ok(())
    }

    /// Rows from the first to the last that holds something.
    pub(super) fn rows(&self) -> u32 {
        let all = || self.0.iter().map(|(row, ..)| *row);
        all().max().map_or(0, |last| last - all().min().unwrap_or(last) + 1)
    }

    /// The number of the first row, counted from 1, and all rows from there as CSV; columns begin
    /// with the first that holds something.
    pub(super) fn csv(mut self) -> (u64, String) {
        self.0.sort_by_key(|&(row, column, _)| (row, column));
        let first_row = self.0.first().map_or(0, |(row, ..)| *row);
        let columns = || self.0.iter().map(|(_, column, _)| *column);
        let first_column = columns().min().unwrap_or(0);
        let width = columns().max().unwrap_or(0) - first_column + 1;
        let mut writer = csv::WriterBuilder::new().flexible(true).from_writer(Vec::new());
        let mut cells = self.0.iter().peekable();
        for row in first_row..first_row + self.rows() {
            for column in first_column..first_column + width {
                let here = cells.next_if(|(at, of, _)| (*at, *of) == (row, column));
                let text = here.map_or("", |(_, _, words)| words.as_str());
                writer.write_field(text).expect("memory takes every cell");
                // A file that says a cell twice has the first of them.
                while cells.next_if(|(at, of, _)| (*at, *of) == (row, column)).is_some() {}
            }
            writer.write_record(None::<&[u8]>).expect("memory takes every row");
        }
        let bytes = writer.into_inner().expect("memory takes every sheet");
        (u64::from(first_row) + 1, String::from_utf8(bytes).expect("cells are text"))
    }
}

fn words(value: &Data) -> String {
    match value {
        Data::Empty => String::new(),
        Data::Int(number) => number.to_string(),
        Data::Float(number) => number.to_string(),
        Data::String(text) | Data::DateTimeIso(text) | Data::DurationIso(text) => {
            text.trim().to_owned()
        }
        Data::Bool(true) => "yes".to_owned(),
        Data::Bool(false) => "no".to_owned(),
        Data::DateTime(when) => day(when),
        Data::Error(error) => error.to_string(),
    }
}

/// A day, with the time where it has one; what is shorter than a day stays a number.
fn day(when: &ExcelDateTime) -> String {
    if !when.is_datetime() || when.as_f64() < 1.0 {
        return when.as_f64().to_string();
    }
    let (year, month, day, hour, minute, second, _) = when.to_ymd_hms_milli();
    let date = format!("{year:04}-{month:02}-{day:02}");
    match (hour, minute, second) {
        (0, 0, 0) => date,
        _ => format!("{date}T{hour:02}:{minute:02}:{second:02}"),
    }
}
