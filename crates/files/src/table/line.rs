//! One sound record: its cells by column, read as words, numbers and dates, every refusal kept.

use language::{count, say};
use plot::{Refusal, Weight, When};
use time::Date;

use super::{Cells, Column, Header};
use crate::findings::{Findings, quoted};

/// A record of the right width, and what was found wrong with it so far.
#[derive(Debug)]
pub(crate) struct Line<'a> {
    number: u64,
    header: &'a Header,
    cells: &'a Cells,
    width_is_wrong: bool,
    not_utf8: Vec<usize>,
    refusals: Vec<Refusal>,
    notices: Vec<Refusal>,
}

impl<'a> Line<'a> {
    pub(super) fn new(number: u64, header: &'a Header, cells: &'a Cells) -> Self {
        let not_utf8 = (0..cells.len()).filter(|&nth| cells.get(nth).is_none()).collect();
        Self {
            number,
            header,
            cells,
            width_is_wrong: cells.len() != header.names.len(),
            not_utf8,
            refusals: Vec::new(),
            notices: Vec::new(),
        }
    }

    /// Its line in the file; the header is line 1.
    pub(crate) fn number(&self) -> u64 {
        self.number
    }

    /// Whether nothing was refused so far.
    pub(crate) fn is_good(&self) -> bool {
        !self.width_is_wrong && self.not_utf8.is_empty() && self.refusals.is_empty()
    }

    /// Refuses the line for what stands in it.
    pub(crate) fn refuse(&mut self, refusal: Refusal) {
        self.refusals.push(refusal);
    }

    /// Takes the line, but asks for a look at it.
    pub(crate) fn notice(&mut self, notice: Refusal) {
        self.notices.push(notice);
    }

    /// A cell's text; none when it is empty or the file has no such column.
    pub(crate) fn text(&self, column: impl Column) -> Option<&'a str> {
        let nth = self.header.place[column.nth()]?;
        self.cells.get(nth).filter(|cell| !cell.is_empty())
    }

    /// A cell that must not be empty.
    pub(crate) fn needed(
        &mut self,
        column: impl Column,
        expected: fn() -> &'static str,
    ) -> Option<&'a str> {
        let text = self.text(column);
        if text.is_none() {
            self.refuse(Refusal::new(column.name(), say!("nothing"), expected()));
        }
        text
    }

    /// A cell that `read` understands, or an empty one.
    pub(crate) fn read<T, E: Into<String>>(
        &mut self,
        column: impl Column,
        expected: fn() -> E,
        read: impl FnOnce(&str) -> Option<T>,
    ) -> Option<T> {
        let text = self.text(column)?;
        let value = read(text);
        if value.is_none() {
            self.refuse(Refusal::new(column.name(), quoted(text), expected()));
        }
        value
    }

    /// A whole number.
    pub(crate) fn whole(&mut self, column: impl Column) -> Option<i32> {
        self.read(
            column,
            || say!("a whole number"),
            |text| {
                let digits = text.strip_prefix('-').unwrap_or(text);
                digits.bytes().all(|byte| byte.is_ascii_digit()).then(|| text.parse().ok())?
            },
        )
    }

    /// A number.
    pub(crate) fn number_in(&mut self, column: impl Column) -> Option<f64> {
        self.read(column, || say!("a number, with a dot for decimals"), number)
    }

    /// A date without time of day.
    pub(crate) fn date(&mut self, column: impl Column) -> Option<Date> {
        self.read(column, || say!("a date that exists, such as 2031-06-14"), When::parse_date)
    }

    pub(super) fn report(self, findings: &mut Findings) {
        let line = Some(self.number);
        if self.width_is_wrong {
            let (cells, columns) = (self.cells.len(), self.header.names.len());
            findings.line(
                self.number,
                count!(cells, "1 cell", "{cells} cells"),
                &say!("{columns}, one for each column of the header"),
            );
        }
        for nth in self.not_utf8 {
            let column = self.header.names.get(nth).cloned();
            findings.push(
                Weight::Fault,
                line,
                column,
                say!("bytes that are not UTF-8"),
                say!("UTF-8 text"),
            );
        }
        for refusal in self.refusals {
            findings.refusal(Weight::Fault, line, refusal);
        }
        for notice in self.notices {
            findings.refusal(Weight::Notice, line, notice);
        }
    }
}

/// A finite number in digits, with a dot; no words such as `inf`.
fn number(text: &str) -> Option<f64> {
    let plain =
        |byte: u8| byte.is_ascii_digit() || matches!(byte, b'.' | b'-' | b'+' | b'e' | b'E');
    let value: f64 = text.bytes().all(plain).then(|| text.parse().ok())??;
    value.is_finite().then_some(value)
}
