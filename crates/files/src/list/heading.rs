//! The header of a list: one line or two, also below a title, or none.

use std::collections::BTreeSet;

use super::numbers::Decimal;
use super::words::{self, Sure};
use super::{Rows, Target, dates};

/// Where the header stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Heading {
    /// Its first row among the rows read; without a header, the first row of the list.
    pub row: usize,
    /// How many rows it has: none, one, or two that belong together.
    pub rows: usize,
}

/// Rows in which a header is looked for.
const LOOKED_AT: usize = 30;

impl Heading {
    /// The row, or two rows, with the most words that heads of columns have; none of these where
    /// there is no such word.
    ///
    /// Two rows are one header only where the second line names columns that the first does not,
    /// and both hold words alone.
    pub fn find(rows: &Rows) -> Self {
        let filled: Vec<usize> =
            (0..rows.len()).filter(|&row| rows.filled(row) > 0).take(LOOKED_AT).collect();
        let first = filled.first().copied().unwrap_or(0);
        let mut best = (0, Self { row: first, rows: 0 });
        for &row in &filled {
            for height in [1, 2] {
                let heading = Self { row, rows: height };
                let score = heading.score(rows);
                if score > best.0 {
                    best = (score, heading);
                }
            }
        }
        best.1
    }

    /// Where the list's own rows begin.
    pub fn end(self) -> usize {
        self.row + self.rows
    }

    /// The heads of `columns` columns; empty ones where there is no header.
    pub fn names(self, rows: &Rows, columns: usize) -> Vec<String> {
        match self.rows {
            0 => vec![String::new(); columns],
            1 => (0..columns).map(|column| one_line(rows.cell(self.row, column))).collect(),
            _ => {
                let mut above = String::new();
                let join = |column| {
                    let own = one_line(rows.cell(self.row, column));
                    let lower = one_line(rows.cell(self.row + 1, column));
                    let begins = !own.is_empty();
                    // A merged cell stands over all columns up to the next.
                    if begins {
                        above = own;
                    }
                    match lower.as_str() {
                        "" if begins => above.clone(),
                        "" => String::new(),
                        _ if above.is_empty() => lower,
                        _ => format!("{above} {lower}"),
                    }
                };
                (0..columns).map(join).collect()
            }
        }
    }

    /// What the head of a column says; of two rows the lower one is asked first, then both as one.
    pub(super) fn says(self, rows: &Rows, name: &str, column: usize) -> Option<(Target, Sure)> {
        let lower = match self.rows {
            0 => return None,
            1 => "",
            _ => rows.cell(self.row + 1, column),
        };
        let whole = words::head(name);
        let lower = words::head(lower);
        match (whole, lower) {
            (Some((target, Sure::Exactly)), _) => Some((target, Sure::Exactly)),
            (whole, lower) => lower.or(whole),
        }
    }

    fn score(self, rows: &Rows) -> usize {
        let last = self.row + self.rows - 1;
        if last >= rows.len() || (self.row..=last).any(|row| !is_of_words(rows, row)) {
            return 0;
        }
        let columns = rows.width(self.row).max(rows.width(last));
        let names = self.names(rows, columns);
        let said = names.iter().enumerate().filter_map(|(nth, name)| self.says(rows, name, nth));
        let targets: BTreeSet<Target> = said.map(|(target, _)| target).collect();
        // Two rows have to earn it.
        targets.len() * 2 - usize::from(self.rows == 2 && !targets.is_empty())
    }
}

/// Words on one line.
pub(super) fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Whether a row has words, no number and no day: a line of a list has one or the other.
fn is_of_words(rows: &Rows, row: usize) -> bool {
    let cells = || (0..rows.cells(row)).map(|column| rows.cell(row, column));
    let is_value = |cell: &str| {
        Decimal::Dot.number(cell).is_some_and(|(_, unit)| unit.is_empty() || cell.len() < 8)
            && cell.starts_with(|letter: char| !letter.is_alphabetic())
            || dates::read(cell, None).is_ok()
    };
    cells().any(|cell| !cell.is_empty()) && !cells().any(is_value)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::list::{Reading, Separator};

    #[test]
    fn headers_are_found() {
        let check = |text: &str, row: usize, rows: usize, names: &[&str]| {
            let read = Reading::new(text.to_owned(), Separator::Semicolon).to_end();
            let heading = Heading::find(&read);
            assert_eq!(heading, Heading { row, rows }, "{text}");
            assert_eq!(heading.names(&read, names.len()), names, "{text}");
        };
        check("", 0, 0, &[]);
        check("1;2\n", 0, 0, &["", ""]);
        check("row;place\n1;2\n", 0, 1, &["row", "place"]);
        check(
            "Trial plan\n\nspring;;\nReihe;Platz;Etikett\n1;2;3\n",
            3,
            1,
            &["Reihe", "Platz", "Etikett"],
        );
        check(
            "Where;;Parents;;\nRow;Place;Mother;Father;Tag\n1;1;A;B;T\n",
            1,
            1,
            &["Row", "Place", "Mother", "Father", "Tag"],
        );
        check(
            "Row;Place;Parents;\n;;Mother;Father\n1;1;A;B\n",
            0,
            2,
            &["Row", "Place", "Parents Mother", "Parents Father"],
        );
        check("row;place;status\nalive;dead;x\n", 0, 1, &["row", "place", "status"]);
        check("\"Row\nno\";Place\n1;2\n", 0, 1, &["Row no", "Place"]);
    }
}
