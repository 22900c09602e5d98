//! A log of changes and edits taken once more over the files it began with.

use language::say;
use plot::{Edit, EditPart, Problem, Refusal, TreeChange, TreeId, Weight};

use crate::changes::{self, ChangeColumn};
use crate::findings::Findings;
use crate::table::{Header, Table};
use crate::tree_sheet::TreeSheet;
use crate::{Book, edit_line, editing};

/// What a log holds of the trees.
#[derive(Clone, Copy, Debug)]
pub enum TreeRecord<'a> {
    /// Lines that [`Book::change_tree`] gave.
    Changes(&'a [u8]),
    /// What [`Book::edit`] or [`Book::turn_over`] gave.
    Edit(&'a [u8]),
    /// The same of an edit that the files hold already.
    Past(&'a [u8]),
}

enum Act {
    Change(TreeChange),
    Edit(Edit),
    Past(Edit),
}

impl Book {
    /// Takes what a log holds, in its order. What the files hold already is taken once more without
    /// a trace in them; what no longer fits is told and left out.
    ///
    /// The scores of the log come after it: an edit may have added the tree that was scored.
    pub fn replay_trees<'a>(
        &mut self,
        records: impl IntoIterator<Item = TreeRecord<'a>>,
    ) -> Vec<Problem> {
        // They stand in no file of the folder.
        let mut findings = Findings::of(say!("changes of trees.csv"));
        let mut acts = Vec::new();
        for record in records {
            read(record, &mut findings, &mut acts);
        }
        // What comes after another origin may be about trees that only it made of their lines.
        for acts in acts.split_inclusive(Act::is_of_origin) {
            for (name, Refusal { column, found, expected }) in self.take_together(acts) {
                let found = say!("{found} for {name}");
                findings.push(Weight::Fault, None, Some(column.to_owned()), found, expected);
            }
        }
        findings.into_problems()
    }

    /// All at once; and one by one where all together do not make a sound file. Gives what does not
    /// fit.
    fn take_together(&mut self, acts: &[Act]) -> Vec<(String, Refusal)> {
        let mut refused = Vec::new();
        if self.take(acts, &mut refused).is_err() {
            refused.clear();
            for act in acts {
                let mut own = Vec::new();
                match self.take(std::slice::from_ref(act), &mut own) {
                    Ok(()) => refused.extend(own),
                    Err(refusal) => refused.push((act.name(), refusal)),
                }
            }
        }
        refused
    }

    fn take(&mut self, acts: &[Act], refused: &mut Vec<(String, Refusal)>) -> Result<(), Refusal> {
        if acts.iter().all(|act| matches!(act, Act::Past(_))) {
            acts.iter().for_each(|act| _ = self.taken(act));
            return Ok(());
        }
        let mut sheets = self.sheets()?;
        let mut fitting = Vec::new();
        for act in acts {
            let fits = match act {
                Act::Change(change) => changed(&mut sheets.trees, change),
                Act::Edit(edit) => editing::apply(&mut sheets, edit),
                Act::Past(_) => Ok(()),
            };
            match fits {
                Err(refusal) => refused.push((act.name(), refusal)),
                Ok(()) => fitting.push(act),
            }
        }
        let touched = fitting.iter().flat_map(|act| act.touched()).collect();
        self.put(sheets.finish(), &touched)?;
        for act in fitting {
            self.taken(act)?;
        }
        Ok(())
    }

    fn taken(&mut self, act: &Act) -> Result<(), Refusal> {
        match act {
            Act::Change(change) => return self.plot.remember_change(change.clone()),
            Act::Edit(edit) | Act::Past(edit) => self.remember(edit.clone()),
        }
        Ok(())
    }
}

impl Act {
    /// The trees whose lines it changes.
    fn touched(&self) -> Vec<&TreeId> {
        match self {
            Self::Change(change) => vec![&change.tree],
            Self::Edit(edit) => edit.parts.iter().filter_map(EditPart::tree).collect(),
            Self::Past(_) => Vec::new(),
        }
    }

    /// Whether it says anew where the plot lies.
    fn is_of_origin(&self) -> bool {
        let is_it = |part: &EditPart| matches!(part, EditPart::Lie { .. });
        matches!(self, Self::Edit(edit) if edit.parts.iter().any(is_it))
    }

    fn name(&self) -> String {
        match self {
            Self::Change(change) => say!("tree \"{tree}\"", tree = change.tree),
            Self::Edit(edit) | Self::Past(edit) => format!("\"{}\"", edit.words),
        }
    }
}

fn read(record: TreeRecord<'_>, findings: &mut Findings, acts: &mut Vec<Act>) {
    let (bytes, act): (_, fn(Edit) -> Act) = match record {
        TreeRecord::Edit(bytes) => (bytes, Act::Edit),
        TreeRecord::Past(bytes) => (bytes, Act::Past),
        TreeRecord::Changes(lines) => {
            let mut table = Table::continued(Header::full::<ChangeColumn>());
            table.step(lines, u64::MAX, findings, &mut |line| {
                acts.extend(changes::change(line).map(Act::Change));
            });
            return;
        }
    };
    match edit_line::edit(bytes) {
        Ok(edit) => acts.push(act(edit)),
        Err(why) => findings.whole(say!("no edit: {why}"), say!("an edit as JSON")),
    }
}

/// Makes the cell say what a change leads to.
fn changed(sheet: &mut TreeSheet<'_>, change: &TreeChange) -> Result<(), Refusal> {
    let (tree, field) = (change.tree.as_str(), change.cell.into());
    let now = sheet.text(tree, field).ok_or_else(|| Refusal::no_tree(tree))?;
    change.check(&now)?;
    if now != *change.to {
        sheet.set(tree, field, &change.to);
    }
    Ok(())
}
