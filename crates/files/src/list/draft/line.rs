//! One line of a list.

use language::{count, say};
use plot::{Plot, TreeDraft, TreeField as F, TreeId, TreeIx, Weight};

use super::{Draft, Skipped, grafts};
use crate::findings::quoted;
use crate::list::cells::{self, Halves};
use crate::list::heading::one_line;
use crate::list::matching::Match;
use crate::list::{Columns, Rows, Target, words};
use crate::trees;

/// One line of a list that is about a tree.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// Its line.
    pub line: u64,
    /// Its row among the rows read.
    pub row: usize,
    /// What comes of it.
    pub what: What,
}

/// What comes of a line.
#[derive(Clone, Debug, PartialEq)]
pub enum What {
    /// A new tree.
    New(Taken),
    /// Cells of a tree that is there change.
    Change(Taken),
    /// It says what the plot says already.
    Same(TreeId),
    /// It has faults.
    Faulty,
}

/// What a sound line brings.
#[derive(Clone, Debug, PartialEq)]
pub struct Taken {
    /// The tree.
    pub id: TreeId,
    /// Its cells: what they will say, and what they say now.
    pub cells: Vec<(F, String, String)>,
}

/// A fault of a line: column, what was found, what was expected.
type Fault = (Option<usize>, String, String);

impl Draft {
    pub(super) fn row(&mut self, plot: &Plot, rows: &Rows, row: usize) {
        let filled = rows.filled(row);
        if filled == 0 {
            return;
        }
        let line = rows.line(row);
        let no_tree = self.is_no_tree(rows, row, filled);
        if let Some(why) = no_tree.filter(|_| rows.broken(row).is_none()) {
            self.skipped.push((line, why));
            return;
        }
        let says_row = |column: usize| !rows.cell(row, column).is_empty();
        if self.choices.columns.of(Target::Field(F::Row)).is_some_and(says_row) {
            self.row_above = Some(row);
        }
        // Lent, not copied for each line.
        let columns = std::mem::take(&mut self.choices.columns);
        let read = self.read(plot, rows, row, &columns);
        self.choices.columns = columns;
        let what = match read {
            Ok(what) => what,
            Err(faults) => {
                for (column, found, expected) in faults {
                    self.fault(Some(line), column, found, expected);
                }
                What::Faulty
            }
        };
        let counts = &mut self.counts;
        *match what {
            What::New(_) => &mut counts.new,
            What::Change(_) => &mut counts.changed,
            What::Same(_) => &mut counts.same,
            What::Faulty => &mut counts.faulty,
        } += 1;
        self.lines.push(Line { line, row, what });
    }

    fn is_no_tree(&self, rows: &Rows, row: usize, filled: usize) -> Option<Skipped> {
        let columns = &self.choices.columns;
        let mut cells = (0..rows.cells(row)).map(|column| rows.cell(row, column));
        let first = cells.find(|cell| !cell.is_empty()).unwrap_or_default();
        let heading = self.choices.heading;
        let again = |header: usize| {
            (0..columns.heads.len())
                .all(|column| rows.cell(row, column) == rows.cell(header, column))
        };
        if (heading.row..heading.end()).any(again) {
            Some(Skipped::Header)
        } else if columns.is_own {
            // In a table that the plot wrote every line was a tree's.
            None
        } else if words::is_total(first) && filled < self.usually_filled.max(2) {
            Some(Skipped::Total)
        } else if filled == 1 && self.usually_filled > 2 && first.contains(char::is_alphabetic) {
            Some(Skipped::Remark)
        } else {
            None
        }
    }

    fn read(
        &mut self,
        plot: &Plot,
        rows: &Rows,
        row: usize,
        columns: &Columns,
    ) -> Result<What, Vec<Fault>> {
        if let Some((found, expected)) = rows.broken(row) {
            return Err(vec![(None, found.to_owned(), expected.to_owned())]);
        }
        if rows.width(row) > columns.targets.len() {
            let found = count!(rows.width(row), "1 cell", "{cells} cells", cells = rows.width(row));
            let expected =
                say!("at most {most}, one for each column", most = columns.targets.len());
            return Err(vec![(None, found, expected)]);
        }
        // What the line says by itself finds its tree; then it is said of that tree, if there is one.
        let mut said = TreeDraft::new(TreeId::new(""));
        let mut halves = Halves::default();
        let faults = self.put_all(rows, row, columns, &mut said, &mut halves, false);
        if !faults.is_empty() {
            return Err(faults);
        }
        // An id may have spaces that words have not.
        if let Some(column) = columns.of(Target::TreeId)
            && let Some(ix) = plot.tree_ix(rows.whole_cell(row, column))
        {
            said.id = plot.tree(ix).id().clone();
        }
        let own = match self.check.find(&said, plot) {
            Match::None => None,
            Match::One(ix) => Some(ix),
            Match::Several(column, found) => {
                let expected = say!("one tree that the line is about");
                return Err(vec![(column_of(columns, column), found, expected.to_owned())]);
            }
        };
        let named = plot.tree_ix(said.id.as_str());
        if named != own && !(named.is_none() && said.id.as_str().is_empty()) {
            let found = match own {
                Some(own) => {
                    say!("\"{id}\" for tree \"{tree}\"", id = said.id, tree = plot.tree(own).id())
                }
                None => say!("\"{id}\", a tree of the plot", id = said.id),
            };
            let expected = say!("its own id, or lines matched by tree_id");
            return Err(vec![(columns.of(Target::TreeId), found, expected.to_owned())]);
        }
        let faults = lost_letters(rows, row, columns, own.map(|own| plot.tree(own).draft()));
        if !faults.is_empty() {
            return Err(faults);
        }
        let mut draft = said;
        if let Some(own) = own {
            draft = plot.tree(own).draft().clone();
            halves = Halves::default();
            self.put_all(rows, row, columns, &mut draft, &mut halves, true);
            draft.id = plot.tree(own).id().clone();
        }
        if let Err((field, expected)) = cells::settle(halves, &mut draft) {
            let column = columns.of(Target::Field(field));
            return Err(vec![(column, say!("nothing").to_owned(), expected.to_owned())]);
        }
        add_notes(rows, row, columns, &mut draft);
        if draft.id.as_str().is_empty() {
            draft.id = self.new_id(plot);
        }
        self.judge(plot, (rows.line(row), columns), draft, own)
    }

    fn judge(
        &mut self,
        plot: &Plot,
        (line, columns): (u64, &Columns),
        mut draft: TreeDraft,
        own: Option<TreeIx>,
    ) -> Result<What, Vec<Fault>> {
        if let Some(earlier) = self.check.first_about(&draft.id, line) {
            let found = say!(
                "tree \"{id}\" again, which line {line} is about",
                id = draft.id,
                line = earlier
            );
            return Err(vec![(None, found, say!("one line for each tree").to_owned())]);
        }
        let before = own.map(|own| plot.tree(own).draft());
        if let Some(before) = before
            && before.grafted_on.is_some()
            && before.grafted_on != draft.grafted_on
        {
            // It goes where its new carrier stands.
            leave_place(&mut draft, before);
        }
        let mut changed = Vec::new();
        for &field in F::ALL {
            let to = trees::cell(&draft, field);
            let from = before.map(|before| trees::cell(before, field)).unwrap_or_default();
            if !field.says_the_same(&from, &to) {
                changed.push((field, to, from));
            }
        }
        let taken = Taken { id: draft.id.clone(), cells: changed };
        if before.is_some() && taken.cells.is_empty() {
            return Ok(What::Same(taken.id));
        }
        if let Some(refusal) = self.check.refuses(&draft) {
            let column = column_of(columns, refusal.column);
            return Err(vec![(column, refusal.found, refusal.expected)]);
        }
        for (column, found, expected) in self.check.looks(&draft, own, line, plot) {
            let column = column_of(columns, column).map(|column| columns.name(column));
            self.findings.push(Weight::Notice, Some(line), column, found, expected);
        }
        if draft.grafted_on.is_some() {
            if let Some(before) = before.filter(|before| before.grafted_on.is_some()) {
                leave_place(&mut draft, before);
            }
            self.check.grafts.push((line, self.lines.len(), draft));
        }
        Ok(if before.is_some() { What::Change(taken) } else { What::New(taken) })
    }

    /// Puts every cell of a line that is not empty into a draft, which may be that of a tree that
    /// is there already; gives the faults.
    fn put_all(
        &self,
        rows: &Rows,
        row: usize,
        columns: &Columns,
        draft: &mut TreeDraft,
        halves: &mut Halves,
        is_there: bool,
    ) -> Vec<Fault> {
        let mut faults = Vec::new();
        for (column, &target) in columns.targets.iter().enumerate() {
            let mut text = rows.cell(row, column);
            if text.is_empty() && target == Target::Field(F::Row) && self.choices.fill_rows {
                text = self.row_above.map_or("", |above| rows.cell(above, column));
            }
            if text.is_empty() || target == Target::Skip {
                continue;
            }
            if is_there && is_as_before(target, text, draft) {
                continue;
            }
            if let Err(expected) = cells::put(target, text, self.manners[column], draft, halves) {
                faults.push((Some(column), quoted(text), expected.to_owned()));
            }
        }
        faults
    }

    /// Looks, once all lines are read, whether every graft has a tree that can carry it.
    pub(super) fn grafts(&mut self, plot: &Plot) {
        let of_list = std::mem::take(&mut self.check.grafts);
        for (line, nth, refusal) in grafts::refused(plot, &self.check.scratch, &of_list) {
            let column = column_of(&self.choices.columns, refusal.column);
            self.fault(Some(line), column, refusal.found, refusal.expected);
            if let Some(line) = self.lines.get_mut(nth) {
                match line.what {
                    What::New(_) => self.counts.new -= 1,
                    _ => self.counts.changed -= 1,
                }
                self.counts.faulty += 1;
                line.what = What::Faulty;
            }
        }
        self.findings.sort();
    }
}

/// Leaves out row and place where they are those of before.
fn leave_place(draft: &mut TreeDraft, before: &TreeDraft) {
    let (now, was) = (&mut draft.location, &before.location);
    now.row = now.row.filter(|_| now.row != was.row);
    now.place = now.place.filter(|_| now.place != was.place);
}

/// Cells with letters that the list's encoding does not have, unless the tree has them, too.
fn lost_letters(rows: &Rows, row: usize, columns: &Columns, own: Option<&TreeDraft>) -> Vec<Fault> {
    let mut faults = Vec::new();
    for (column, &target) in columns.targets.iter().enumerate() {
        let text = rows.cell(row, column);
        if target == Target::Skip || !text.contains(char::REPLACEMENT_CHARACTER) {
            continue;
        }
        if !own.is_some_and(|own| is_as_before(target, text, own)) {
            let expected = say!("text that this encoding has; choose another one above");
            faults.push((Some(column), quoted(text), expected.to_owned()));
        }
    }
    faults
}

/// Whether a cell says what the tree says already, word for word.
fn is_as_before(target: Target, text: &str, own: &TreeDraft) -> bool {
    match target {
        Target::Field(field) => one_line(text) == one_line(&field.in_draft(own)),
        _ => false,
    }
}

/// The column that a refusal of the plot is about.
fn column_of(columns: &Columns, name: &str) -> Option<usize> {
    let target = Target::parse(name)?;
    let of = |target| columns.of(target);
    of(target).or_else(|| match target {
        Target::Field(F::Row | F::Place) => of(Target::RowPlace),
        Target::Field(F::SeedParent | F::PollenParent) => of(Target::Cross),
        _ => None,
    })
}

/// Puts notes behind those that are there, or in place of them in a table that the plot wrote; a
/// column that is no note by its head gives its head.
fn add_notes(rows: &Rows, row: usize, columns: &Columns, draft: &mut TreeDraft) {
    for (column, target) in columns.targets.iter().enumerate() {
        let text = rows.cell(row, column);
        if *target != Target::Field(F::Note) || text.is_empty() {
            continue;
        }
        if columns.is_own {
            if !is_as_before(*target, text, draft) {
                draft.note = Some(text.into());
            }
            continue;
        }
        let head = columns.heads.get(column).map_or("", String::as_str);
        let is_note =
            head.is_empty() || matches!(words::head(head), Some((Target::Field(F::Note), _)));
        let text = if is_note { text.to_owned() } else { format!("{head}: {text}") };
        let before = draft.note.as_deref().unwrap_or_default();
        if before.split("; ").any(|said| said == text) || before == text {
            continue;
        }
        let parts: Vec<&str> = [before, &text].into_iter().filter(|it| !it.is_empty()).collect();
        draft.note = Some(parts.join("; ").into());
    }
}
