//! One cell of `trees.csv` made to say something else; every other byte stays as it was.

use std::collections::HashSet;
use std::ops::Range;

use plot::{Plot, Problem, Refusal, TreeCell, TreeChange, TreeIx, Weight};

use crate::changes::{self, ChangeColumn};
use crate::findings::Findings;
use crate::table::{Column, Header, Line, Table, cell_range, with_columns};
use crate::trees::{self, TreeColumn, TreeReading};
use crate::{Book, caps};

/// What problems call the lines of changes: they stand in no file of the folder.
const LOG: &str = "changes of trees.csv";

impl Book {
    /// Makes a cell of a tree say something else: in the plot, and in the one line of `trees.csv`
    /// that the tree was read from. Gives the change as a line for a log, which
    /// [`replay_changes`](Self::replay_changes) takes.
    ///
    /// `from` is taken from the file: it need not be right. A file without that column gets it:
    /// its name in the header and an empty cell in each sound line; faulty lines stay as they are.
    ///
    /// # Errors
    /// As [`Plot::change_tree`]; words longer than a cell may be
    /// ([`CELL_BYTES`](crate::CELL_BYTES)); a missing column where adding it would make a faulty
    /// line mean something. Nothing is changed then.
    pub fn change_tree(&mut self, mut change: TreeChange) -> Result<Vec<u8>, Refusal> {
        if change.to.len() > caps::CELL_BYTES {
            let found = format!("{} bytes", change.to.len());
            let expected = format!("at most {} bytes", caps::CELL_BYTES);
            return Err(Refusal::new(change.cell.as_str(), found, expected));
        }
        let Some(ix) = self.plot.tree_ix(change.tree.as_str()) else {
            return Err(self.plot.change_tree(change).expect_err("there is no such tree"));
        };
        if let Some(text) = self.tree_cell(ix, change.cell) {
            change.from = text.as_str().into();
        }
        self.back_to_its_words(&mut change);
        self.take_change(ix, change.clone())?;
        Ok(changes::line(&change))
    }

    /// Takes lines that [`change_tree`](Self::change_tree) gave earlier, in their order. A change
    /// that the files hold already is taken once more without a trace in them; one that no longer
    /// fits is told and left out.
    pub fn replay_changes(&mut self, lines: &[u8]) -> Vec<Problem> {
        let mut findings = Findings::of(LOG);
        let mut table = Table::continued(Header::full::<ChangeColumn>());
        let mut refused = Vec::new();
        table.step(lines, u64::MAX, &mut findings, &mut |line| {
            let Some(change) = changes::change(line) else { return };
            let tree = change.tree.clone();
            let taken = match self.plot.tree_ix(tree.as_str()) {
                Some(ix) => self.take_change(ix, change),
                None => self.plot.change_tree(change),
            };
            refused.extend(taken.err().map(|refusal| (tree, refusal)));
        });
        for (tree, Refusal { column, found, expected }) in refused {
            let found = format!("{found} for tree \"{tree}\"");
            findings.push(Weight::Fault, None, Some(column.to_owned()), found, expected);
        }
        findings.into_problems()
    }

    fn take_change(&mut self, ix: TreeIx, change: TreeChange) -> Result<(), Refusal> {
        let mut plot = None;
        let column = column_of(change.cell);
        // The line is found by what the plot says of it: before the plot says something else.
        if let Some(bytes) = self.files.get(trees::FILE) {
            let now = self.plot.cell_of(ix, change.cell);
            let already = change.cell.says_the_same(now, &change.to)
                && self.tree_cell(ix, change.cell).as_deref() == Some(&*change.to);
            if !already {
                let mut bytes = bytes.clone();
                if !header(&bytes).is_some_and(|header| header.has(column)) {
                    bytes = with_column(&bytes, &self.plot, column)?;
                }
                let range =
                    cell_of(&bytes, &self.plot, ix, column).ok_or_else(|| no_line(&change))?;
                bytes.splice(range, written(&change.to));
                plot = Some(bytes);
            }
        }
        self.plot.change_tree(change)?;
        if let Some(bytes) = plot {
            self.files.insert(trees::FILE.to_owned(), bytes);
        }
        Ok(())
    }

    /// What a cell of a tree's line says; none where the file has no such column.
    fn tree_cell(&self, ix: TreeIx, cell: TreeCell) -> Option<String> {
        let bytes = self.files.get(trees::FILE)?;
        let mut text = None;
        find_line(bytes, &self.plot, ix, &mut |line| {
            text = Some(line.text(column_of(cell)).unwrap_or_default().to_owned());
        })?;
        text
    }

    /// A change that leads back to what an earlier one came from brings back its very words.
    fn back_to_its_words(&self, change: &mut TreeChange) {
        let earlier = self.plot.changes().iter().rev();
        let mut of_it = earlier.filter(|one| one.tree == change.tree && one.cell == change.cell);
        if let Some(last) = of_it.next()
            && change.cell.says_the_same(&last.from, &change.to)
        {
            change.to = last.from.clone();
        }
    }
}

fn column_of(cell: TreeCell) -> TreeColumn {
    match cell {
        TreeCell::Status => TreeColumn::Status,
        TreeCell::Note => TreeColumn::Note,
    }
}

fn header(bytes: &[u8]) -> Option<Header> {
    table(bytes).map(|table| table.header().clone())
}

fn table(bytes: &[u8]) -> Option<Table> {
    Table::new(bytes, &[TreeColumn::TreeId], &mut Findings::of(trees::FILE))
}

/// Where the line of a tree begins; `see` gets it.
fn find_line(
    bytes: &[u8],
    plot: &Plot,
    ix: TreeIx,
    see: &mut dyn FnMut(&Line<'_>),
) -> Option<usize> {
    let (mut table, mut findings) = (table(bytes)?, Findings::of(trees::FILE));
    let id = plot.tree(ix).id().as_str();
    loop {
        let (start, faults) = (table.at(), findings.faults());
        let mut is_it = false;
        let more = table.step(bytes, 1, &mut findings, &mut |line| {
            if line.text(TreeColumn::TreeId) == Some(id) && trees::is_line_of(line, plot, ix) {
                is_it = true;
                see(line);
            }
        });
        if is_it && findings.faults() == faults {
            return Some(start);
        }
        if !more {
            return None;
        }
    }
}

fn cell_of(bytes: &[u8], plot: &Plot, ix: TreeIx, column: TreeColumn) -> Option<Range<usize>> {
    let header = header(bytes)?;
    let nth = header.known.iter().position(|known| *known == Some(column.nth()))?;
    let start = find_line(bytes, plot, ix, &mut |_| {})?;
    cell_range(bytes, start, nth)
}

/// The file with one column more, its cells empty.
fn with_column(bytes: &[u8], plot: &Plot, column: TreeColumn) -> Result<Vec<u8>, Refusal> {
    let refuse = || {
        let expected = "such a column, since a faulty line would mean something else with it added";
        Refusal::new(column.name(), "no such column in trees.csv", expected)
    };
    let mut table = table(bytes).ok_or_else(refuse)?;
    let (mut findings, mut seen, mut starts) =
        (Findings::of(trees::FILE), HashSet::new(), Vec::new());
    while table.at() < bytes.len() {
        let (start, faults) = (table.at(), findings.faults());
        let mut of = None;
        table.step(bytes, 1, &mut findings, &mut |line| {
            let ix = line.text(TreeColumn::TreeId).and_then(|id| plot.tree_ix(id));
            of = ix.filter(|&ix| trees::is_line_of(line, plot, ix));
        });
        if let Some(ix) = of.filter(|_| findings.faults() == faults)
            && seen.insert(ix)
        {
            starts.push(start);
        }
    }
    let grown = with_columns(bytes, &[column.name()], &starts);
    // Read again: each line must say what it said.
    if reads_as(&grown, plot) { Ok(grown) } else { Err(refuse()) }
}

/// Whether a file gives the trees of a plot, no more and no fewer.
fn reads_as(bytes: &[u8], plot: &Plot) -> bool {
    let mut findings = Findings::of(trees::FILE);
    let mut again = Plot::new(plot.head().clone()).expect("the head of a plot");
    let Some(mut reading) = TreeReading::new(bytes, &mut findings) else { return false };
    while reading.step(bytes, u64::MAX, &mut again, &mut findings) {}
    again.trees() == plot.trees()
}

fn no_line(change: &TreeChange) -> Refusal {
    let found = format!("no line of tree \"{}\"", change.tree);
    Refusal::new("tree_id", found, "the line in trees.csv that it was read from")
}

/// A cell as RFC 4180 writes it: in quotes where it must be.
fn written(text: &str) -> Vec<u8> {
    if text.contains([',', '"', '\r', '\n']) {
        return format!("\"{}\"", text.replace('"', "\"\"")).into_bytes();
    }
    text.as_bytes().to_vec()
}

#[cfg(test)]
mod tests;
