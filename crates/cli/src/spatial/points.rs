//! Reading the table of points: columns by name, every fault of the file in one go.

use std::collections::HashMap;
use std::path::Path;

use anyhow::{Context, bail};
use plot::{Problem, Weight};

use super::Call;

/// Most bytes that a table may have.
const MOST_BYTES: u64 = 100_000_000;

/// The points that have a value, in the order in which ties go: by id, else by line.
pub(crate) struct Points {
    /// What each is called: its id, else its line number.
    pub(crate) names: Vec<String>,
    /// Line of each in the file.
    pub(crate) lines: Vec<u64>,
    /// Metres, where `--x` and `--y` are given.
    pub(crate) spots: Option<Vec<(f64, f64)>>,
    /// Row and place, where `--row` and `--place` are given.
    pub(crate) places: Option<Vec<(i64, i64)>>,
    /// Values, where `--value` is given.
    pub(crate) values: Option<Vec<f64>>,
    /// The points in the order of the file.
    pub(crate) file_order: Vec<usize>,
    /// Names of the points left out because their value is empty.
    pub(crate) left_out: Vec<String>,
}

/// Reads the table that a call names.
///
/// # Errors
/// The file cannot be read, is too large, lacks a column, or has faulty cells: all of them named
/// by line and column.
pub(crate) fn read(call: &Call) -> anyhow::Result<Points> {
    let mut table = Table::open(&call.points)?;
    let id = table.column(call.id.as_deref());
    let x = table.column(call.x.as_deref());
    let y = table.column(call.y.as_deref());
    let row = table.column(call.row.as_deref());
    let place = table.column(call.place.as_deref());
    let value = table.column(call.value.as_deref());
    if !table.problems.is_empty() {
        bail!(table.report());
    }
    let records = table.records();
    let mut first_line = HashMap::new();
    let mut taken = Vec::new();
    let mut left_out = Vec::new();
    for (line, cells) in &records {
        let at = *line;
        let name = match &id {
            None => at.to_string(),
            Some(column) => table.name(column, at, cells),
        };
        if id.is_some()
            && let Some(earlier) = first_line.insert(name.clone(), at)
        {
            let found = format!("\"{name}\", which line {earlier} has too");
            table.fault(at, id.as_ref(), found, "an id that no other line has");
        }
        let spot = (table.number(&x, at, cells), table.number(&y, at, cells));
        let lattice = (table.whole(&row, at, cells), table.whole(&place, at, cells));
        let cell = value.as_ref().map(|column| cells[column.index].trim());
        if cell == Some("") {
            left_out.push(name);
            continue;
        }
        let expected = "a number with a dot for decimals, or nothing";
        let value = table.number_or(&value, at, cells, expected);
        taken.push((name, at, spot, lattice, value));
    }
    if !table.problems.is_empty() {
        bail!(table.report());
    }
    // Sorting is stable: without ids the order of the file stands.
    let mut order: Vec<usize> = (0..taken.len()).collect();
    if id.is_some() {
        order.sort_by(|&a, &b| taken[a].0.cmp(&taken[b].0));
    }
    let mut file_order = vec![0; order.len()];
    for (position, &line) in order.iter().enumerate() {
        file_order[line] = position;
    }
    let sorted = || order.iter().map(|&at| &taken[at]);
    Ok(Points {
        names: sorted().map(|point| point.0.clone()).collect(),
        lines: sorted().map(|point| point.1).collect(),
        spots: sorted().map(|point| point.2.0.zip(point.2.1)).collect(),
        places: sorted().map(|point| point.3.0.zip(point.3.1)).collect(),
        values: sorted().map(|point| point.4).collect(),
        file_order,
        left_out,
    })
}

/// A named column.
pub(crate) struct Column {
    name: String,
    pub(crate) index: usize,
}

/// A CSV file with its faults.
pub(crate) struct Table {
    file: String,
    header: Vec<String>,
    reader: csv::Reader<std::io::Cursor<Vec<u8>>>,
    pub(crate) problems: Vec<Problem>,
}

impl Table {
    /// # Errors
    /// The file cannot be read, is too large or has no header.
    pub(crate) fn open(path: &Path) -> anyhow::Result<Self> {
        let file = path.display().to_string();
        let size = std::fs::metadata(path).with_context(|| file.clone())?.len();
        if size > MOST_BYTES {
            bail!("{file}: found {size} bytes, expected at most {MOST_BYTES}");
        }
        let mut bytes = std::fs::read(path).with_context(|| file.clone())?;
        if bytes.starts_with(b"\xef\xbb\xbf") {
            bytes.drain(..3);
        }
        if let Err(error) = std::str::from_utf8(&bytes) {
            let line = 1 + bytes[..error.valid_up_to()].iter().filter(|&&b| b == b'\n').count();
            bail!("{file}, line {line}: found bytes that are not UTF-8, expected text");
        }
        let mut reader =
            csv::ReaderBuilder::new().flexible(true).from_reader(std::io::Cursor::new(bytes));
        let header: Vec<String> = reader.headers()?.iter().map(str::to_owned).collect();
        if header.is_empty() {
            bail!("{file}: found an empty file, expected a header line");
        }
        Ok(Self { file, header, reader, problems: Vec::new() })
    }

    /// The column of that name; a fault where the header has it not or twice.
    pub(crate) fn column(&mut self, name: Option<&str>) -> Option<Column> {
        let name = name?;
        let mut at = self.header.iter().enumerate().filter(|(_, head)| *head == name);
        let column = at.next().map(|(index, _)| Column { name: name.to_owned(), index });
        let twice = at.next().is_some();
        let named = Column { name: name.to_owned(), index: 0 };
        if twice {
            self.fault(1, Some(&named), "it twice".to_owned(), "it once");
        } else if column.is_none() {
            let found = format!("the columns {}", self.header.join(", "));
            self.fault(1, Some(&named), found, "a column of this name");
        }
        column
    }

    /// Every record with its line; a fault for each of the wrong width, which is left out.
    pub(crate) fn records(&mut self) -> Vec<(u64, csv::StringRecord)> {
        let mut out = Vec::new();
        let mut record = csv::StringRecord::new();
        // Reading from memory, and the text is known to be UTF-8: there is no other error.
        while self.reader.read_record(&mut record).unwrap_or(false) {
            let line = record.position().map_or(0, csv::Position::line);
            if record.len() == self.header.len() {
                out.push((line, record.clone()));
            } else {
                let expected = format!("{} cells, as in the header", self.header.len());
                self.fault(line, None, format!("{} cells", record.len()), &expected);
            }
        }
        out
    }

    /// A cell that must not be empty.
    pub(crate) fn name(&mut self, column: &Column, line: u64, cells: &csv::StringRecord) -> String {
        let cell = cells[column.index].to_owned();
        if cell.is_empty() {
            self.fault(line, Some(column), "nothing".to_owned(), "an id");
        }
        cell
    }

    /// A finite number; none where the column is not asked for or the cell is at fault.
    pub(crate) fn number(
        &mut self,
        column: &Option<Column>,
        line: u64,
        cells: &csv::StringRecord,
    ) -> Option<f64> {
        self.number_or(column, line, cells, "a number with a dot for decimals")
    }

    fn number_or(
        &mut self,
        column: &Option<Column>,
        line: u64,
        cells: &csv::StringRecord,
        expected: &str,
    ) -> Option<f64> {
        let column = column.as_ref()?;
        let cell = &cells[column.index];
        let number = cell.trim().parse().ok().filter(|number: &f64| number.is_finite());
        if number.is_none() {
            self.fault(line, Some(column), quoted(cell), expected);
        }
        number
    }

    fn whole(
        &mut self,
        column: &Option<Column>,
        line: u64,
        cells: &csv::StringRecord,
    ) -> Option<i64> {
        let column = column.as_ref()?;
        let cell = &cells[column.index];
        let number = cell.trim().parse().ok();
        if number.is_none() {
            self.fault(line, Some(column), quoted(cell), "a whole number");
        }
        number
    }

    /// Notes a fault.
    pub(crate) fn fault(
        &mut self,
        line: u64,
        column: Option<&Column>,
        found: String,
        expected: &str,
    ) {
        self.problems.push(Problem {
            weight: Weight::Fault,
            file: self.file.clone(),
            line: Some(line),
            column: column.map(|column| column.name.clone()),
            found,
            expected: expected.to_owned(),
        });
    }

    /// All faults, a line each.
    pub(crate) fn report(&self) -> String {
        self.problems.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n")
    }
}

fn quoted(cell: &str) -> String {
    if cell.is_empty() { "nothing".to_owned() } else { format!("\"{cell}\"") }
}
