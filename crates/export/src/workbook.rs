//! A workbook (xlsx) with a sheet for each CSV file of the plot folder.

use files::Book;
use language::{count, say};
use plot::{Problem, Weight};
use rust_xlsxwriter::{DocProperties, ExcelDateTime, Format, Workbook, Worksheet, XlsxError};

use crate::columns::number;
use crate::sheets::{Sheet, sheets};

/// Most lines of a sheet, the header among them.
const LINES: usize = 1_048_576;
/// Most UTF-16 units of a cell.
const UNITS: usize = 32_767;

/// A sheet for each CSV file that the folder has, its header on top, its lines in their order.
///
/// Columns of numbers hold numbers, all other cells text, dates too: nothing is a formula.
///
/// # Errors
/// A file with more lines, or a cell with more characters, than a sheet may have; all of them.
pub fn workbook(book: &Book) -> Result<Vec<u8>, Vec<Problem>> {
    let sheets = sheets(book);
    let problems: Vec<Problem> = sheets.iter().flat_map(too_large).collect();
    if !problems.is_empty() {
        return Err(problems);
    }
    Ok(written(&sheets).expect("names, lines and cells are within the limits of a workbook"))
}

fn written(sheets: &[Sheet]) -> Result<Vec<u8>, XlsxError> {
    let mut workbook = Workbook::new();
    // The same plot gives the same bytes, whatever the day.
    let day = ExcelDateTime::from_ymd(2000, 1, 1)?;
    workbook.set_properties(&DocProperties::new().set_creation_datetime(&day));
    for sheet in sheets {
        fill(workbook.add_worksheet().set_name(sheet.name)?, sheet)?;
    }
    workbook.save_to_buffer()
}

fn fill(onto: &mut Worksheet, sheet: &Sheet) -> Result<(), XlsxError> {
    let bold = Format::new().set_bold();
    onto.set_freeze_panes(1, 0)?;
    for ((name, kind, _), nth) in sheet.columns.iter().zip(0..) {
        onto.write_string_with_format(0, nth, name.as_str(), &bold)?;
        for (row, line) in sheet.rows.iter().zip(1..) {
            let cell = &row[usize::from(nth)];
            match number(*kind, cell) {
                Some(number) => onto.write_number(line, nth, number)?,
                None if cell.is_empty() => onto,
                None => onto.write_string(line, nth, cell.as_str())?,
            };
        }
    }
    Ok(())
}

fn too_large(sheet: &Sheet) -> Vec<Problem> {
    let problem = |column: Option<&str>, found: String, expected: String| Problem {
        weight: Weight::Fault,
        file: format!("{}.csv", sheet.name),
        line: None,
        column: column.map(str::to_owned),
        found,
        expected,
    };
    let mut problems = Vec::new();
    let lines = sheet.rows.len() + 1;
    if lines > LINES {
        let expected = say!("at most {most}: a sheet holds no more", most = LINES);
        problems.push(problem(None, count!(lines, "1 line", "{lines} lines"), expected));
    }
    let cells = sheet.rows.iter().flat_map(|row| row.iter().zip(&sheet.columns));
    for (cell, (column, ..)) in cells {
        // A byte is a unit at the most.
        let units = if cell.len() > UNITS { cell.encode_utf16().count() } else { 0 };
        if units > UNITS {
            let expected = say!("at most {most}: a cell of a sheet holds no more", most = UNITS);
            problems.push(problem(
                Some(column),
                say!("{count} characters", count = units),
                expected,
            ));
        }
    }
    problems
}

#[cfg(test)]
mod tests {
    use std::io::Cursor;

    use calamine::{Data, Reader, Xlsx};

    use super::*;
    use crate::testing::{book, head, lantern, with};

    type Opened = Xlsx<Cursor<Vec<u8>>>;

    fn opened(book: &Book) -> Opened {
        Xlsx::new(Cursor::new(workbook(book).expect("it fits"))).expect("a workbook")
    }

    fn rows(workbook: &mut Opened, name: &str) -> Vec<Vec<Data>> {
        let range = workbook.worksheet_range(name).expect("a sheet");
        range.rows().map(<[Data]>::to_vec).collect()
    }

    #[test]
    fn words_stay_words_and_numbers_are_numbers() {
        let trees = "tree_id,row,place,tag,note,girth\n\
            =1+1,1,1,007,\"a\nb, \"\"c\"\" <&> _x0041_ é\",-0.5\n@B,1,2,-7,'x,\n";
        let events = "date,kind\n2031-05-01,spray\n";
        let book = with(head(false), &[("trees.csv", trees), ("events.csv", events)]);
        let mut workbook = opened(&book);
        assert_eq!(workbook.sheet_names(), ["trees", "events"]);
        let text = |text: &str| Data::String(text.to_owned());
        let found = rows(&mut workbook, "trees");
        assert_eq!(found[0][3], text("tag"));
        let first = [
            text("=1+1"),
            Data::Float(1.0),
            Data::Float(1.0),
            text("007"),
            text("a\nb, \"c\" <&> _x0041_ é"),
            Data::Float(-0.5),
        ];
        assert_eq!(found[1], first);
        assert_eq!(found[2][3..], [text("-7"), text("'x"), Data::Empty]);
        assert_eq!(rows(&mut workbook, "events")[1], [text("2031-05-01"), text("spray")]);
        let formulas = workbook.worksheet_formula("trees").expect("a sheet");
        assert!(formulas.is_empty(), "no cell is a formula");
    }

    #[test]
    fn every_cell_of_the_demo_plot_is_there() {
        let book = lantern();
        let mut workbook = opened(&book);
        for sheet in sheets(&book) {
            let found = rows(&mut workbook, sheet.name);
            assert_eq!(found.len(), sheet.rows.len() + 1);
            for (row, own) in found[1..].iter().zip(&sheet.rows) {
                for ((cell, own), (_, kind, _)) in row.iter().zip(own).zip(&sheet.columns) {
                    let is_same = match cell {
                        Data::Empty => own.is_empty(),
                        Data::String(text) => text == own,
                        Data::Float(value) => number(*kind, own) == Some(*value),
                        _ => false,
                    };
                    assert!(is_same, "{cell:?} for {own:?}");
                }
            }
        }
    }

    #[test]
    fn the_same_plot_gives_the_same_bytes() {
        let once = workbook(&lantern()).expect("it fits");
        std::thread::sleep(std::time::Duration::from_millis(1100));
        assert!(once == workbook(&lantern()).expect("it fits"));
    }

    #[test]
    fn what_no_sheet_can_hold_is_told() {
        let note = "x".repeat(UNITS + 1);
        let trees = format!("tree_id,row,place,note\nA,1,1,{note}\n");
        let problems = workbook(&book(head(false), &trees, "")).expect_err("too long");
        let said: Vec<String> = problems.iter().map(ToString::to_string).collect();
        let expected = "trees.csv, column note: found 32768 characters, expected at most 32767: a \
            cell of a sheet holds no more";
        assert_eq!(said, [expected]);
    }
}
