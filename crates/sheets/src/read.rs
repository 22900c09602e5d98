//! A sheet of a workbook as CSV text. What a workbook says of itself is never trusted: bytes are
//! counted while inflating, rows and cells while reading.

mod cells;

use std::io::Cursor;

use calamine::{Ods, OdsError, Reader, SheetVisible, Xlsx, XlsxError};
use language::say;
use serde::{Deserialize, Serialize};

use cells::Cells;

/// Most bytes that a workbook may unpack to (128 MiB).
pub const MOST_BYTES: u64 = 128 << 20;
/// Most rows of a sheet, empty ones between others with them.
const MOST_ROWS: u32 = 200_000;
/// Most columns of a sheet.
const MOST_COLUMNS: u32 = 1000;
/// Most cells of a sheet that hold something.
const MOST_CELLS: usize = 4_000_000;

/// A sheet of a workbook.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Sheet {
    /// The names of all sheets that are not hidden, in their order.
    pub names: Vec<String>,
    /// Which of them this is.
    pub nth: usize,
    /// The number of its first row that holds something.
    pub first_row: u64,
    /// Its rows from there on, as CSV with commas.
    pub csv: String,
}

/// Why a workbook cannot be read.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error, Serialize, Deserialize)]
#[error("found {found}, expected {expected}")]
pub struct Unusable {
    /// What was found.
    pub found: String,
    /// What was expected.
    pub expected: String,
}

fn expected() -> &'static str {
    say!("a workbook that opens in a sheet program, saved as xlsx or ods")
}

/// Reads a sheet of a workbook by its place among those that are not hidden; without one, the first
/// that has at least two rows, else the first.
///
/// # Errors
/// No xlsx and no ods; one that is broken or has a password; one that unpacks to more than
/// [`MOST_BYTES`]; a sheet with cells beyond 200,000 rows or 1000 columns, or with more than
/// 4,000,000 cells.
pub fn read(bytes: &[u8], wanted: Option<usize>) -> Result<Sheet, Unusable> {
    if bytes.starts_with(b"\xd0\xcf\x11\xe0") {
        let found = say!("an old workbook (xls), or one with a password");
        let expected = say!("a workbook without a password, saved as xlsx or ods");
        return Err(Unusable::new(found, expected));
    }
    let files = files::unpack_at_most("workbook", bytes, MOST_BYTES).map_err(|problem| {
        let expected =
            say!("a workbook that unpacks to at most {most} MiB", most = MOST_BYTES >> 20);
        Unusable::new(problem.found, expected)
    })?;
    let is_ods = files.contains_key("content.xml");
    drop(files);
    let bytes = Cursor::new(bytes);
    match is_ods {
        true => sheet(Ods::new(bytes)?, wanted, ods),
        false => sheet(Xlsx::new(bytes)?, wanted, xlsx),
    }
}

fn sheet<'a, R: Reader<Cursor<&'a [u8]>>>(
    mut book: R,
    wanted: Option<usize>,
    cells: fn(&mut R, &str) -> Result<Cells, Unusable>,
) -> Result<Sheet, Unusable> {
    let all = book.sheets_metadata().to_vec();
    let shown = |hidden: bool| {
        let is_shown = |sheet: &&calamine::Sheet| hidden || sheet.visible == SheetVisible::Visible;
        all.iter().filter(is_shown).map(|sheet| sheet.name.clone()).collect::<Vec<_>>()
    };
    let names = Some(shown(false)).filter(|names| !names.is_empty()).unwrap_or_else(|| shown(true));
    let tried = match wanted {
        Some(nth) => nth..nth + 1,
        None => 0..names.len(),
    };
    let mut first = None;
    for nth in tried {
        let Some(name) = names.get(nth) else { break };
        let cells = cells(&mut book, name)?;
        let is_list = cells.rows() > 1;
        if is_list || first.is_none() {
            first = Some((nth, cells));
        }
        if is_list {
            break;
        }
    }
    let (nth, cells) = first.ok_or_else(|| Unusable::new(say!("no such sheet"), expected()))?;
    let (first_row, csv) = cells.csv();
    Ok(Sheet { names, nth, first_row, csv })
}

/// The cells of an xlsx sheet one by one: a cell far off does not make a large table.
fn xlsx(book: &mut Xlsx<Cursor<&[u8]>>, name: &str) -> Result<Cells, Unusable> {
    let mut cells = Cells::default();
    let mut reader = book.worksheet_cells_reader(name)?;
    while let Some(cell) = reader.next_cell()? {
        let (row, column) = cell.get_position();
        cells.add(row, column, &calamine::Data::from(cell.get_value().clone()))?;
    }
    Ok(cells)
}

fn ods(book: &mut Ods<Cursor<&[u8]>>, name: &str) -> Result<Cells, Unusable> {
    let range = book.worksheet_range(name)?;
    let mut cells = Cells::default();
    let (first_row, first_column) = range.start().unwrap_or_default();
    for (row, column, value) in range.used_cells() {
        cells.add(first_row + row as u32, first_column + column as u32, value)?;
    }
    Ok(cells)
}

impl Unusable {
    fn new(found: impl Into<String>, expected: impl Into<String>) -> Self {
        Self { found: found.into(), expected: expected.into() }
    }
}

impl From<XlsxError> for Unusable {
    fn from(error: XlsxError) -> Self {
        Self::new(say!("no sound workbook ({error})"), expected())
    }
}

impl From<OdsError> for Unusable {
    fn from(error: OdsError) -> Self {
        Self::new(say!("no sound workbook ({error})"), expected())
    }
}
