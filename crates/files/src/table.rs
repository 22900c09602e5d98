//! A CSV file read record by record, strictly as RFC 4180 has it: where each record lies, what
//! breaks it, and where to go on after a broken one.

mod extent;
mod line;

use csv_core::ReadRecordResult;
use language::say;

use crate::caps;
use crate::findings::{Findings, quoted};
use crate::sniff;
use extent::COMMA;
pub(crate) use extent::{Extent, cell_range, cell_text, record_end};
pub(crate) use line::Line;

/// A known column of a file: its place among the known ones, and its name.
pub(crate) trait Column: Copy {
    /// All names, in the order in which a new file has them.
    const NAMES: &'static [&'static str];
    fn nth(self) -> usize;
    fn name(self) -> &'static str {
        Self::NAMES[self.nth()]
    }
}

/// Declares the known columns of a file.
macro_rules! columns {
    ($name:ident: $($variant:ident = $word:literal),+ $(,)?) => {
        #[derive(Clone, Copy)]
        pub(crate) enum $name { $($variant),+ }
        impl $crate::table::Column for $name {
            const NAMES: &'static [&'static str] = &[$($word),+];
            fn nth(self) -> usize {
                self as usize
            }
        }
    };
}
pub(crate) use columns;

/// The header line: which column stands where.
#[derive(Clone, Debug)]
pub(crate) struct Header {
    /// Column names as they stand in the file.
    pub(crate) names: Vec<String>,
    /// For each column of the file, which known one it is.
    pub(crate) known: Vec<Option<usize>>,
    /// For each known column, where it stands in the file.
    place: Vec<Option<usize>>,
    /// Whether the header line ends with CRLF.
    pub(crate) crlf: bool,
}

impl Header {
    /// Every known column in its own order, lines ended by LF.
    pub(crate) fn full<C: Column>() -> Self {
        let names = C::NAMES.iter().map(|&name| name.to_owned()).collect();
        let place: Vec<_> = (0..C::NAMES.len()).map(Some).collect();
        Self { names, known: place.clone(), place, crlf: false }
    }

    pub(crate) fn has(&self, column: impl Column) -> bool {
        self.place_of(column).is_some()
    }

    /// Where a column stands in the file.
    pub(crate) fn place_of(&self, column: impl Column) -> Option<usize> {
        self.place[column.nth()]
    }

    /// One column more, at the end; gives where it stands.
    pub(crate) fn add<C: Column>(&mut self, column: C) -> usize {
        let nth = self.names.len();
        self.names.push(column.name().to_owned());
        self.known.push(Some(column.nth()));
        self.place[column.nth()] = Some(nth);
        nth
    }
}

/// A place in a CSV file whose header is sound.
#[derive(Debug)]
pub(crate) struct Table {
    header: Header,
    at: usize,
    line: u64,
    cells: Cells,
}

impl Table {
    /// Reads the header line. None, with the fault told, when the file cannot be read at all.
    /// `required` columns must be there.
    pub(crate) fn new<C: Column>(
        bytes: &[u8],
        required: &[C],
        findings: &mut Findings,
    ) -> Option<Self> {
        let before = findings.faults();
        if let Some(kind) = sniff::not_text(bytes) {
            findings.whole(kind, say!("CSV text in UTF-8"));
            return None;
        }
        let extent = Extent::of(bytes, after_mark(bytes), COMMA);
        if extent.content().is_empty() {
            let expected = say!("a header line with {columns}", columns = C::NAMES.join(", "));
            findings.whole(
                if bytes.is_empty() { say!("an empty file") } else { say!("no header") },
                expected,
            );
            return None;
        }
        if let Some(broken) = extent.broken {
            findings.line(1, broken.found(), &broken.expected());
            return None;
        }
        let mut cells = Cells::parted_by(COMMA);
        cells.split(&bytes[extent.content()]);
        let Some(names) = (0..cells.len()).map(|nth| Some(cells.get(nth)?.to_owned())).collect()
        else {
            findings.line(1, say!("bytes that are not UTF-8"), say!("a header line in UTF-8"));
            return None;
        };
        let header = header_of::<C>(names, extent.crlf(bytes), required, findings);
        (findings.faults() == before).then(|| Self {
            header,
            at: extent.next,
            line: 1 + extent.lines,
            cells,
        })
    }

    /// Lines that go on below a header: the first of them is line 1.
    pub(crate) fn continued(header: Header) -> Self {
        let mut cells = Cells::parted_by(COMMA);
        // The splitter passes over a byte order mark in front of the first thing it reads: here
        // the first line is no beginning of a file, and such a mark is part of its cell.
        cells.split(b"header");
        Self { header, at: 0, line: 1, cells }
    }

    pub(crate) fn header(&self) -> &Header {
        &self.header
    }

    /// Where the next record begins, in bytes.
    pub(crate) fn at(&self) -> usize {
        self.at
    }

    /// The line that is read next; header line and first line count from 1.
    pub(crate) fn line(&self) -> u64 {
        self.line
    }

    /// Reads up to `lines` physical lines further and hands each sound record to `take`. What
    /// `take` refuses and what breaks RFC 4180 goes to `findings`. Gives whether more is left.
    pub(crate) fn step(
        &mut self,
        bytes: &[u8],
        lines: u64,
        findings: &mut Findings,
        take: &mut dyn FnMut(&mut Line<'_>),
    ) -> bool {
        let until = self.line.saturating_add(lines);
        while self.line < until && self.at < bytes.len() {
            if self.line > caps::LINES {
                findings.line(
                    self.line,
                    say!("more lines"),
                    &say!("at most {most} lines", most = caps::LINES),
                );
                self.at = bytes.len();
                break;
            }
            let extent = Extent::of(bytes, self.at, COMMA);
            if extent.content().is_empty() {
                self.pass(&extent);
                continue;
            }
            if let Some(broken) = extent.broken {
                let column = self.header.names.get(broken.cell).cloned();
                let weight = plot::Weight::Fault;
                findings.push(weight, Some(self.line), column, broken.found(), broken.expected());
                self.pass(&extent);
                continue;
            }
            self.cells.split(&bytes[extent.content()]);
            let mut line = Line::new(self.line, &self.header, &self.cells);
            if line.is_good() {
                take(&mut line);
            }
            if !line.is_good() && extent.lines > 1 && self.swallowed(bytes, &extent) {
                findings.line(
                    self.line,
                    say!("a quote that is not closed"),
                    say!("a closing quote"),
                );
                self.pass(&extent.first_line(bytes));
                continue;
            }
            line.report(findings);
            self.pass(&extent);
        }
        self.at < bytes.len()
    }

    fn pass(&mut self, extent: &Extent) {
        self.at = extent.next;
        self.line += extent.lines;
    }

    /// Whether a faulty record of several physical lines holds one that is a record by itself:
    /// then a stray quote swallowed it, and only the first physical line is at fault.
    fn swallowed(&self, bytes: &[u8], extent: &Extent) -> bool {
        let mut inner = extent.first_line(bytes);
        let mut cells = Cells::parted_by(COMMA);
        while inner.next < extent.next {
            inner = Extent::of(bytes, inner.next, COMMA);
            if inner.broken.is_none() {
                cells.split(&bytes[inner.content()]);
                if cells.len() == self.header.names.len() {
                    return true;
                }
            }
        }
        false
    }
}

fn header_of<C: Column>(
    names: Vec<String>,
    crlf: bool,
    required: &[C],
    findings: &mut Findings,
) -> Header {
    let mut place = vec![None; C::NAMES.len()];
    let mut known = Vec::with_capacity(names.len());
    let mut fault = |column: &str, found: String, expected: String| {
        findings.push(plot::Weight::Fault, Some(1), Some(column.to_owned()), found, expected);
    };
    for (nth, name) in names.iter().enumerate() {
        let which = C::NAMES.iter().position(|known| known == name);
        if let Some(which) = which
            && place[which].replace(nth).is_some()
        {
            fault(name, say!("this column twice").to_owned(), say!("each column once").to_owned());
        }
        known.push(which);
    }
    for column in required {
        if place[column.nth()].is_none() {
            let shown: Vec<String> = names.iter().map(|name| quoted(name)).collect();
            let column_name = column.name();
            fault(
                column_name,
                say!("columns {columns}", columns = shown.join(", ")),
                match names.len() {
                    1 => say!("a column {column}, separated by commas", column = column_name),
                    _ => say!("a column {column}", column = column_name),
                },
            );
        }
    }
    Header { names, known, place, crlf }
}

/// A file with more columns at its end: their names in the header, and an empty cell for each in the
/// records that begin at `starts` (rising). Every other byte stays.
pub(crate) fn with_columns(bytes: &[u8], names: &[&str], starts: &[usize]) -> Vec<u8> {
    let mut grown = Vec::with_capacity(bytes.len() + names.len() * (starts.len() + 16));
    let mut from = 0;
    let mut grow = |at: usize, more: &str| {
        grown.extend_from_slice(&bytes[from..at]);
        grown.extend_from_slice(more.as_bytes());
        from = at;
    };
    grow(header_end(bytes), &format!(",{}", names.join(",")));
    let cells = ",".repeat(names.len());
    starts.iter().for_each(|&start| grow(record_end(bytes, start), &cells));
    grow(bytes.len(), "");
    grown
}

/// Where the header line ends, before its line end.
pub(crate) fn header_end(bytes: &[u8]) -> usize {
    record_end(bytes, after_mark(bytes))
}

/// Where the text begins: behind a byte order mark.
fn after_mark(bytes: &[u8]) -> usize {
    if bytes.starts_with(b"\xef\xbb\xbf") { 3 } else { 0 }
}

/// The cells of one record, without quotes.
#[derive(Debug)]
pub(crate) struct Cells {
    splitter: csv_core::Reader,
    text: Vec<u8>,
    ends: Vec<usize>,
    len: usize,
}

impl Cells {
    pub(crate) fn parted_by(separator: u8) -> Self {
        let splitter = csv_core::ReaderBuilder::new()
            .delimiter(separator)
            .terminator(csv_core::Terminator::Any(b'\n'))
            .build();
        Self { splitter, text: Vec::new(), ends: vec![0; 32], len: 0 }
    }

    /// Splits one record without its line end; of one with more cells than are allowed no more
    /// than tell it.
    pub(crate) fn split(&mut self, mut record: &[u8]) {
        if self.text.len() <= record.len() {
            self.text.resize(record.len() + 1, 0);
        }
        let mut written = 0;
        self.len = 0;
        loop {
            let (result, read, out, ends) = self.splitter.read_record(
                record,
                &mut self.text[written..],
                &mut self.ends[self.len..],
            );
            record = &record[read..];
            written += out;
            self.len += ends;
            match result {
                ReadRecordResult::InputEmpty => {}
                ReadRecordResult::OutputFull => self.text.resize(self.text.len() * 2 + 1, 0),
                ReadRecordResult::OutputEndsFull if self.len > caps::COLUMNS => {
                    self.splitter.reset();
                    break;
                }
                ReadRecordResult::OutputEndsFull => self.ends.resize(self.ends.len() * 2, 0),
                ReadRecordResult::Record | ReadRecordResult::End => break,
            }
        }
    }

    pub(crate) fn len(&self) -> usize {
        self.len
    }

    /// A cell; none when it is not UTF-8.
    pub(crate) fn get(&self, nth: usize) -> Option<&str> {
        let start = if nth == 0 { 0 } else { self.ends[nth - 1] };
        std::str::from_utf8(&self.text[start..self.ends[nth]]).ok()
    }
}

#[cfg(test)]
pub(crate) mod tests;
