//! Edits of the trees: taken whole or not at all, checked as the file is when it is read, undone
//! and done again.

mod take_back;

use std::collections::{HashMap, HashSet};
use std::sync::Arc;

use language::say;
use plot::{Edit, EditId, EditPart, Edits, Head, Plot, Problem, Refusal, TreeField, TreeId, When};

use crate::findings::Findings;
use crate::head::{self, HeadSheet};
use crate::tree_sheet::TreeSheet;
use crate::trees::{self, TreeReading};
use crate::{Book, CSV_BYTES, caps, edit_line};

impl Book {
    /// Changes trees, all parts of the edit or none: in the plot, and in `trees.csv`, where every
    /// byte that no part touches stays as it was. New lines go to the end; a column that is missing
    /// is added, empty in each sound line. Gives the edit as a record for a log, which
    /// [`replay_trees`](Self::replay_trees) takes.
    ///
    /// `from` of each part is taken from the file, and cells that say so already are left out. Where
    /// a tree gets another row or place, the lines of its grafts that give them follow.
    ///
    /// # Errors
    /// Whatever the file would be faulted for when it is read with the edit in it: an id that is
    /// used, a carrier that is not there, a day that does not exist, a place too far off … An edit
    /// that would change nothing, touches a cell or line twice, takes out a line (only
    /// [`turn_over`](Self::turn_over) does), or has words longer than a cell may be. A column that
    /// is missing where adding it would make a faulty line mean something. Nothing is changed then.
    pub fn edit(&mut self, mut edit: Edit) -> Result<Vec<u8>, Refusal> {
        if self.edits.get(&edit.id).is_some() {
            return Err(Refusal::new(
                "edit",
                say!("\"{id}\" twice", id = edit.id),
                say!("a new name"),
            ));
        }
        let mut sheets = self.sheets()?;
        fill(&sheets, &mut edit)?;
        self.take_grafts_along(&sheets.trees, &mut edit);
        apply(&mut sheets, &edit)?;
        self.keep(sheets.finish(), edit)
    }

    /// Takes an edit back, or does it again where it was taken back: an edit of its own, which
    /// leads back to what each cell said. Gives its record, as [`edit`](Self::edit).
    ///
    /// A note keeps what was added behind since. An added line is taken out whole; its id is never
    /// given again.
    ///
    /// # Errors
    /// No such edit; a cell that says something else by now; an added tree that has scores or
    /// grafts, or that a later edit changed. Nothing is changed then.
    pub fn turn_over(
        &mut self,
        edit: &EditId,
        id: EditId,
        done_on: When,
    ) -> Result<Vec<u8>, Refusal> {
        let mut sheets = self.sheets()?;
        let inverse = self.inverse(&sheets, edit, id, done_on)?;
        apply(&mut sheets, &inverse)?;
        self.keep(sheets.finish(), inverse)
    }

    /// Every edit that was made or replayed.
    pub fn edits(&self) -> &Edits {
        &self.edits
    }

    /// The records of all edits, in their order: for the log of a copy whose files hold them.
    pub fn edit_records(&self) -> impl Iterator<Item = Vec<u8>> {
        self.edits.all().iter().map(edit_line::line)
    }

    /// Both files that edits change, laid open.
    pub(crate) fn sheets(&self) -> Result<Sheets<'_>, Refusal> {
        Ok(Sheets {
            trees: TreeSheet::of(self.trees_file(), &self.plot)?,
            head: HeadSheet::of(self.files.get(head::FILE).map_or(&[], Vec::as_slice)),
        })
    }

    fn trees_file(&self) -> &[u8] {
        self.files.get(trees::FILE).map_or(&[], Vec::as_slice)
    }

    /// The row and place that a line of a graft gives itself follow those of its carrier.
    fn take_grafts_along(&self, sheet: &TreeSheet<'_>, edit: &mut Edit) {
        let is_place = |field| matches!(field, TreeField::Row | TreeField::Place);
        let mut moved: HashMap<(&str, TreeField), Arc<str>> = HashMap::new();
        for part in &edit.parts {
            if let EditPart::Set { tree, field, to, .. } = part
                && is_place(*field)
            {
                moved.insert((tree.as_str(), *field), to.clone());
            }
        }
        if moved.is_empty() {
            return;
        }
        let mut more = Vec::new();
        // A graft is always taken in after its carrier.
        for tree in self.plot.trees() {
            let (Some(carrier), id) = (tree.carrier(), tree.id().as_str()) else { continue };
            let carrier = self.plot.tree(carrier).id().as_str();
            for field in [TreeField::Row, TreeField::Place] {
                if let Some(to) = moved.get(&(carrier, field)).cloned()
                    && !moved.contains_key(&(id, field))
                {
                    moved.insert((id, field), to.clone());
                    let from = sheet.text(id, field).filter(|from| !from.is_empty());
                    more.extend(from.filter(|from| **from != *to).map(|from| EditPart::Set {
                        tree: tree.id().clone(),
                        field,
                        from: from.into(),
                        to,
                    }));
                }
            }
        }
        edit.parts.extend(more);
    }

    fn keep(&mut self, written: Written, edit: Edit) -> Result<Vec<u8>, Refusal> {
        let touched = edit.parts.iter().filter_map(EditPart::tree).collect();
        self.put(written, &touched)?;
        let line = edit_line::line(&edit);
        self.remember(edit);
        Ok(line)
    }

    /// Keeps an edit that the files hold.
    pub(crate) fn remember(&mut self, edit: Edit) {
        let trees = edit.parts.iter().filter_map(EditPart::tree);
        trees.for_each(|tree| self.plot.never_give_again(tree));
        self.edits.push(edit);
    }

    /// Puts files in place of those before, with their trees, which are read from them.
    ///
    /// # Errors
    /// They give other trees than these, or other trees than the touched ones changed; an origin
    /// that is none.
    pub(crate) fn put(
        &mut self,
        Written { bytes, trees, head }: Written,
        touched: &HashSet<&TreeId>,
    ) -> Result<(), Refusal> {
        if bytes.len() as u64 > CSV_BYTES {
            let expected = say!("at most {most} bytes", most = CSV_BYTES);
            return Err(Refusal::new(
                "trees.csv",
                say!("{bytes} bytes", bytes = bytes.len()),
                expected,
            ));
        }
        let (now, problems) = match &head {
            Some(head) => read(&bytes, &self.head_of(head)?),
            None => read(&bytes, self.plot.head()),
        };
        let is_so = now.as_ref().is_some_and(|now| {
            let mere_lines = self.mere_lines(now);
            // Degrees mean something only where the plot has an origin: then there may be more.
            (now.trees().len() == trees.len() || head.is_some())
                && trees.keys().all(|id| now.tree_ix(id).is_some() || mere_lines.contains(&**id))
                && self.plot.trees().iter().all(|tree| {
                    let id = tree.id();
                    touched.contains(id)
                        || match now.tree_ix(id.as_str()) {
                            // A graft goes where its carrier goes.
                            Some(ix) => {
                                now.tree(ix).draft() == tree.draft() || tree.carrier().is_some()
                            }
                            None => mere_lines.contains(id.as_str()),
                        }
                })
        });
        let Some(now) = now.filter(|_| is_so) else {
            return Err(self.first_new(problems));
        };
        self.plot.take_trees_of(now)?;
        self.of_trees = Some(problems);
        self.files.insert(trees::FILE.to_owned(), bytes);
        if let Some(head) = head {
            self.files.insert(head::FILE.to_owned(), head);
        }
        Ok(())
    }

    /// Trees of which nothing is known but their line. Where the plot now lies nowhere any more,
    /// they may be mere lines again, as they were before it was said where it lies.
    fn mere_lines(&self, now: &Plot) -> HashSet<&str> {
        if now.head().origin == self.plot.head().origin || now.head().origin.is_some() {
            return HashSet::new();
        }
        let changed = self.plot.changes().iter().map(|change| &change.tree);
        let standing = self.edits.made().filter(|(_, stands)| *stands);
        let edited = standing.flat_map(|(edit, _)| edit.parts.iter().filter_map(EditPart::tree));
        let known: HashSet<&TreeId> = changed.chain(edited).collect();
        let unknown = self
            .plot
            .trees_ix()
            .filter(|(ix, tree)| self.plot.lines_of(*ix) == 0 && !known.contains(tree.id()));
        unknown.map(|(_, tree)| tree.id().as_str()).collect()
    }

    /// What a `plot.json` says that differs in its origin alone.
    fn head_of(&self, bytes: &[u8]) -> Result<Head, Refusal> {
        let mut findings = Findings::of(head::FILE);
        let head = head::read(bytes, &mut findings);
        let of_origin = |problem: &Problem| {
            let column = problem.column.as_deref().unwrap_or_default();
            problem.weight == plot::Weight::Fault && column.starts_with("origin")
        };
        if let Some(fault) = findings.into_problems().into_iter().find(of_origin) {
            return Err(Refusal::new("origin", fault.found, fault.expected));
        }
        let without = |head: &Head| Head { origin: None, ..head.clone() };
        head.filter(|head| without(head) == without(self.plot.head())).ok_or_else(|| {
            Refusal::new(
                "origin",
                say!("a plot.json that says something else"),
                say!("the origin alone"),
            )
        })
    }

    /// What a file is faulted for that the one before was not.
    fn first_new(&self, problems: Vec<Problem>) -> Refusal {
        let mut known = read(self.trees_file(), self.plot.head()).1;
        let is_same = |one: &Problem, other: &Problem| {
            (&one.column, &one.found, &one.expected)
                == (&other.column, &other.found, &other.expected)
        };
        let is_new =
            |problem: &Problem| match known.iter().position(|other| is_same(problem, other)) {
                Some(at) => {
                    known.swap_remove(at);
                    false
                }
                None => true,
            };
        let faults = problems.into_iter().filter(|problem| problem.weight == plot::Weight::Fault);
        let Some(problem) = { faults }.find(is_new) else {
            let expected =
                say!("such a column, or no faulty line that would mean something by the change");
            return Refusal::new(
                "trees.csv",
                say!("lines that would say something else"),
                expected,
            );
        };
        let column = problem.column.as_deref().and_then(TreeField::parse);
        let column = column.map_or("tree_id", TreeField::as_str);
        Refusal::new(column, problem.found, problem.expected)
    }
}

/// The trees of a file, in a plot of a head; none where it is no table of trees.
fn read(bytes: &[u8], head: &Head) -> (Option<Plot>, Vec<Problem>) {
    let mut findings = Findings::of(trees::FILE);
    let mut again = Plot::new(head.clone()).expect("the head of a plot");
    let Some(mut reading) = TreeReading::new(bytes, &mut findings) else {
        return (None, findings.into_problems());
    };
    while reading.step(bytes, u64::MAX, &mut again, &mut findings) {}
    reading.finish(&again, &mut findings);
    (Some(again), findings.into_problems())
}

/// The files that edits change.
pub(crate) struct Sheets<'a> {
    pub(crate) trees: TreeSheet<'a>,
    pub(crate) head: HeadSheet<'a>,
}

/// The files as they are after an edit.
pub(crate) struct Written {
    /// `trees.csv`.
    pub(crate) bytes: Vec<u8>,
    /// The trees that have a record in it.
    trees: HashMap<String, usize>,
    /// `plot.json`, where it is another than before.
    head: Option<Vec<u8>>,
}

impl Sheets<'_> {
    pub(crate) fn finish(self) -> Written {
        let (bytes, trees) = self.trees.finish();
        Written { bytes, trees, head: self.head.finish() }
    }
}

/// Puts to each part what its cell says now, and leaves out what says so already.
fn fill(sheets: &Sheets<'_>, edit: &mut Edit) -> Result<(), Refusal> {
    let sheet = &sheets.trees;
    let mut parts = Vec::with_capacity(edit.parts.len());
    for part in std::mem::take(&mut edit.parts) {
        match part {
            EditPart::Set { tree, field, to, .. } => {
                let from = sheet
                    .text(tree.as_str(), field)
                    .ok_or_else(|| Refusal::no_tree(tree.as_str()))?;
                if !field.says_the_same(&from, &to) {
                    parts.push(EditPart::Set { tree, field, from: from.into(), to });
                }
            }
            EditPart::Add(line) if sheet.has(line.id.as_str()) => {
                let found = say!("\"{id}\", which another line has", id = line.id);
                return Err(Refusal::new("tree_id", found, say!("an id of its own")));
            }
            EditPart::TakeOut(line) => {
                let found = say!("the line of \"{id}\" to be taken out", id = line.id);
                return Err(Refusal::new("tree_id", found, say!("a status such as removed")));
            }
            EditPart::Add(_) => parts.push(part),
            EditPart::Lie { to, .. } => {
                let from = sheets.head.origin();
                let origin = head::said(&to).ok_or_else(|| {
                    Refusal::new(
                        "origin",
                        format!("\"{to}\""),
                        say!("longitude, latitude and bearing"),
                    )
                })?;
                if head::said(from) != Some(origin) {
                    let to = head::saying(from, &origin).into();
                    parts.push(EditPart::Lie { from: from.into(), to });
                }
            }
        }
    }
    if parts.is_empty() {
        return Err(Refusal::new(
            "edit",
            say!("nothing that would change"),
            say!("something else than it says"),
        ));
    }
    edit.parts = parts;
    Ok(())
}

/// Takes all parts into the sheets. A part that is there already is passed over, so that the same
/// log may be taken twice.
///
/// # Errors
/// A part that does not fit; the sheets are as they were then.
pub(crate) fn apply(sheets: &mut Sheets<'_>, edit: &Edit) -> Result<(), Refusal> {
    let mut lines: HashSet<&TreeId> = HashSet::new();
    let mut cells: HashSet<(&TreeId, TreeField)> = HashSet::new();
    let mut lies = 0;
    for part in &edit.parts {
        let is_first = match part {
            EditPart::Set { tree, field, .. } => cells.insert((tree, *field)),
            EditPart::Add(line) | EditPart::TakeOut(line) => lines.insert(&line.id),
            EditPart::Lie { .. } => std::mem::replace(&mut lies, 1) == 0,
        };
        if !is_first {
            let found = part
                .tree()
                .map_or(say!("the origin twice").to_owned(), |tree| say!("tree \"{tree}\" twice"));
            return Err(Refusal::new("edit", found, say!("each cell and each line once")));
        }
        fits(sheets, part)?;
    }
    if let Some((tree, _)) = cells.iter().find(|(tree, _)| lines.contains(tree)) {
        let found = say!("tree \"{tree}\" twice");
        return Err(Refusal::new("edit", found, say!("each cell and each line once")));
    }
    let sheet = &mut sheets.trees;
    for part in &edit.parts {
        match part {
            EditPart::Set { tree, field, to, .. } => {
                if sheet.text(tree.as_str(), *field).as_deref() != Some(to) {
                    sheet.set(tree.as_str(), *field, to);
                }
            }
            EditPart::Add(line) if !sheet.has(line.id.as_str()) => sheet.add(line),
            EditPart::Add(_) => {}
            EditPart::TakeOut(line) => sheet.take_out(line.id.as_str()),
            EditPart::Lie { to, .. } => sheets.head.set_origin(to),
        }
    }
    Ok(())
}

fn fits(sheets: &Sheets<'_>, part: &EditPart) -> Result<(), Refusal> {
    let sheet = &sheets.trees;
    match part {
        EditPart::Set { tree, field, from, to } => {
            caps::check_cell(field.as_str(), to)?;
            let now =
                sheet.text(tree.as_str(), *field).ok_or_else(|| Refusal::no_tree(tree.as_str()))?;
            field.check(&now, from, to)?;
        }
        EditPart::Add(line) => {
            caps::check_cell("tree_id", line.id.as_str())?;
            for (field, text) in &line.cells {
                caps::check_cell(field.as_str(), text)?;
            }
            if sheet.has(line.id.as_str()) && !sheet.says(line) {
                let found = say!("\"{id}\", which another line has", id = line.id);
                return Err(Refusal::new("tree_id", found, say!("an id of its own")));
            }
        }
        EditPart::TakeOut(line) => {
            if sheet.has(line.id.as_str()) && !sheet.says(line) {
                let found =
                    say!("a line of \"{id}\" that says something else by now", id = line.id);
                return Err(Refusal::new("tree_id", found, say!("the line as it was added")));
            }
        }
        EditPart::Lie { from, to } => {
            let now = sheets.head.origin();
            if !head::is_same(now, from) && !head::is_same(now, to) {
                let expected = say!("the origin that the plot had when it was changed");
                return Err(Refusal::new("origin", format!("\"{now}\""), expected));
            }
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests;
