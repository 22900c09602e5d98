//! What would come of a list: each line a new tree, a change, or faults. Nothing is taken by it.

mod check;
mod grafts;
mod line;

use language::say;
use plot::{EditPart, Plot, Problem, TreeId, TreeLine};

use super::cells::Manner;
use super::dates::{self, DateOrder};
use super::matching::{Index, MatchBy};
use super::{Columns, Decimal, Heading, Rows};
use crate::findings::Findings;
use check::Check;
pub use line::{Line, Taken, What};

/// How a list is to be taken.
#[derive(Clone, Debug, PartialEq)]
pub struct Choices {
    /// What problems call the list.
    pub file: String,
    /// Where its header stands.
    pub heading: Heading,
    /// What its columns are.
    pub columns: Columns,
    /// How its numbers are written.
    pub decimal: Decimal,
    /// Which comes first in days such as `4/6/2031`; none: what each column says itself.
    pub dates: Option<DateOrder>,
    /// How lines find their trees.
    pub match_by: MatchBy,
    /// Whether a line without a row number has that of the line above.
    pub fill_rows: bool,
}

/// Why a line is no tree.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Skipped {
    /// The header once more.
    Header,
    /// It counts the lines above.
    Total,
    /// A title or a remark: one cell alone.
    Remark,
}

/// How many lines there are of each kind.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Counts {
    /// Trees that the plot does not have.
    pub new: usize,
    /// Trees whose line changes.
    pub changed: usize,
    /// Trees of which the list says nothing new.
    pub same: usize,
    /// Lines with faults.
    pub faulty: usize,
}

/// What would come of a list.
#[derive(Debug)]
pub struct Draft {
    choices: Choices,
    /// By column: how its days are written.
    manners: Vec<Manner>,
    /// How many cells of a line are filled, as a rule.
    usually_filled: usize,
    at: usize,
    is_over: bool,
    check: Check,
    lines: Vec<Line>,
    skipped: Vec<(u64, Skipped)>,
    findings: Findings,
    counts: Counts,
    /// A column whose days may be read both ways.
    ambiguous: Option<usize>,
    next_serial: u32,
    /// The last line that said its row.
    row_above: Option<usize>,
}

impl Draft {
    /// Begins; `rows` and `plot` are handed to every [`step`](Self::step) as they are now.
    pub fn new(plot: &Plot, rows: &Rows, choices: Choices) -> Self {
        let (manners, ambiguous) = manners(rows, &choices);
        let check = Check::new(plot, Index::of(plot, choices.match_by));
        let next_serial = plot.next_tree_id().serial().unwrap_or(1);
        let at = choices.heading.end();
        let mut draft = Self {
            usually_filled: usually_filled(rows, at),
            manners,
            at,
            is_over: false,
            check,
            lines: Vec::new(),
            skipped: Vec::new(),
            findings: Findings::of(choices.file.clone()),
            counts: Counts::default(),
            ambiguous,
            next_serial,
            row_above: None,
            choices,
        };
        for column in draft.choices.columns.doubled() {
            let found = say!(
                "two columns taken as {target}",
                target = draft.choices.columns.targets[column].as_str()
            );
            draft.fault(None, Some(column), found, say!("one column for it, the others left out"));
        }
        draft
    }

    /// Reads so many lines further; gives how many rows are done, and of how many.
    pub fn step(&mut self, plot: &Plot, rows: &Rows, lines: usize) -> (usize, usize) {
        let until = self.at.saturating_add(lines).min(rows.len());
        while self.at < until {
            self.row(plot, rows, self.at);
            self.at += 1;
        }
        if self.at >= rows.len() && !self.is_over {
            self.grafts(plot);
            self.is_over = true;
        }
        (self.at, rows.len())
    }

    /// Whether every line was read.
    pub fn is_done(&self) -> bool {
        self.is_over
    }

    /// Reads all that is left.
    pub fn to_end(mut self, plot: &Plot, rows: &Rows) -> Self {
        self.step(plot, rows, usize::MAX);
        self
    }

    /// What each line is, in the order of the list.
    pub fn lines(&self) -> &[Line] {
        &self.lines
    }

    /// Lines that are no trees, and why.
    pub fn skipped(&self) -> &[(u64, Skipped)] {
        &self.skipped
    }

    /// How many lines there are of each kind.
    pub fn counts(&self) -> Counts {
        self.counts
    }

    /// Every fault and notice by line; what stands for the whole list first.
    pub fn problems(&self) -> &[Problem] {
        self.findings.problems()
    }

    /// Problems beyond those listed.
    pub fn unlisted(&self) -> usize {
        self.findings.unlisted()
    }

    /// A column whose days may be read both ways, so that a person has to say which.
    pub fn ambiguous(&self) -> Option<usize> {
        self.ambiguous.filter(|_| self.choices.dates.is_none())
    }

    /// How it was to be taken.
    pub fn choices(&self) -> &Choices {
        &self.choices
    }

    /// The sound lines as parts of one edit; lines with faults are left out.
    pub fn parts(&self) -> Vec<EditPart> {
        let mut parts = Vec::new();
        for line in &self.lines {
            match &line.what {
                What::New(taken) => {
                    let whole = TreeLine::new(taken.id.clone());
                    let line = taken
                        .cells
                        .iter()
                        .fold(whole, |line, (field, to, _)| line.with(*field, to.as_str()));
                    parts.push(EditPart::Add(line));
                }
                What::Change(taken) => {
                    let set = taken.cells.iter();
                    parts.extend(
                        set.map(|(field, to, _)| EditPart::set(&taken.id, *field, to.as_str())),
                    );
                }
                What::Same(_) | What::Faulty => {}
            }
        }
        parts
    }

    fn fault(
        &mut self,
        line: Option<u64>,
        column: Option<usize>,
        found: impl Into<String>,
        expected: impl Into<String>,
    ) {
        let column = column.map(|column| self.choices.columns.name(column));
        self.findings.push(plot::Weight::Fault, line, column, found, expected);
    }

    fn new_id(&mut self, plot: &Plot) -> TreeId {
        loop {
            let id = TreeId::of_serial(self.next_serial);
            self.next_serial += 1;
            if plot.tree_ix(id.as_str()).is_none() && !self.check.has_id(&id) {
                return id;
            }
        }
    }
}

/// How each column's days are written, and the first of which that cannot be told.
fn manners(rows: &Rows, choices: &Choices) -> (Vec<Manner>, Option<usize>) {
    let (mut manners, mut ambiguous) = (Vec::new(), None);
    for (column, target) in choices.columns.targets.iter().enumerate() {
        let mut looked = dates::Column::default();
        if target.is_date() {
            (choices.heading.end()..rows.len()).for_each(|row| looked.look(rows.cell(row, column)));
        }
        if looked.is_ambiguous() {
            ambiguous = ambiguous.or(Some(column));
        }
        let order = choices.dates.or(looked.order());
        manners.push(Manner { decimal: choices.decimal, order });
    }
    (manners, ambiguous)
}

/// The median number of filled cells of the first lines.
fn usually_filled(rows: &Rows, from: usize) -> usize {
    let mut filled: Vec<usize> =
        (from..rows.len()).map(|row| rows.filled(row)).filter(|&it| it > 0).take(200).collect();
    filled.sort_unstable();
    filled.get(filled.len() / 2).copied().unwrap_or(0)
}
