//! What leads back to where an edit came from, and why it sometimes cannot.

use std::collections::{HashMap, HashSet};

use language::{count, say};
use plot::{Edit, EditId, EditPart, Later, Refusal, TreeField, TreeId, TreeLine, When};

use super::Sheets;
use crate::tree_sheet::TreeSheet;
use crate::{Book, head};

/// What may keep an added line from going.
struct InTheWay<'a> {
    /// What was made since.
    later: Later<'a>,
    /// By tree: a graft on it.
    grafts: HashMap<&'a TreeId, &'a TreeId>,
}

impl Book {
    /// The edit that turns another one over, fitted to what the file says now.
    ///
    /// # Errors
    /// No such edit; something that was made after it stands in the way.
    pub(super) fn inverse(
        &self,
        sheets: &Sheets<'_>,
        edit: &EditId,
        id: EditId,
        done_on: When,
    ) -> Result<Edit, Refusal> {
        let link = self.edits.last_link(edit).ok_or_else(|| {
            Refusal::new("edit", format!("\"{edit}\""), say!("an edit of this plot on this device"))
        })?;
        let sheet = &sheets.trees;
        let mut inverse = link.inverse(id, done_on);
        let later = self.edits.later(&link.id);
        // What is done again goes on top of all that stands, and is the first to be undone.
        let is_undo = self.edits.stands(&link.id);
        // A graft that goes, too, is not in the way.
        let own: HashSet<&TreeId> = link.parts.iter().filter_map(EditPart::tree).collect();
        let stays = self.plot.trees().iter().filter(|tree| !own.contains(tree.id()));
        let grafts = stays.filter_map(|tree| Some((tree.draft().grafted_on.as_ref()?, tree.id())));
        let in_the_way = InTheWay { later, grafts: grafts.collect() };
        for part in &mut inverse.parts {
            match part {
                EditPart::Set { tree, field, from, to } => {
                    let now = sheet.text(tree.as_str(), *field).ok_or_else(|| {
                        Refusal::new(
                            "edit",
                            say!("no line of \"{tree}\""),
                            say!("the line it changed"),
                        )
                    })?;
                    if let Some(added) = added_behind(*field, &now, from) {
                        let kept = [&**to, added].join(if to.is_empty() { "" } else { "; " });
                        (*from, *to) = (now.into(), kept.into());
                        continue;
                    }
                    // It may say the same again: what made it so could not be undone then.
                    let later = in_the_way.later.of_cell(tree, *field);
                    if is_undo && later.is_some() || !field.says_the_same(&now, from) {
                        return Err(changed_since(later, tree, *field, &now));
                    }
                }
                EditPart::TakeOut(line) => self.may_go(sheet, &in_the_way, line)?,
                EditPart::Add(line) if sheet.has(line.id.as_str()) => {
                    let found = say!("a line of \"{id}\"", id = line.id);
                    return Err(Refusal::new(
                        "edit",
                        found,
                        say!("none, since it is to be added again"),
                    ));
                }
                EditPart::Add(_) => {}
                EditPart::Lie { from, .. } => {
                    let (now, later) = (sheets.head.origin(), in_the_way.later.of_origin());
                    if is_undo && later.is_some() || !head::is_same(now, from) {
                        let found =
                            later.map_or(say!("another origin by now").to_owned(), made_after);
                        let expected = say!("nothing that changed it since: undo that first");
                        return Err(Refusal::new("origin", found, expected));
                    }
                }
            }
        }
        Ok(inverse)
    }

    /// Whether an added line may be taken out again.
    fn may_go(
        &self,
        sheet: &TreeSheet<'_>,
        way: &InTheWay<'_>,
        line: &TreeLine,
    ) -> Result<(), Refusal> {
        let id = line.id.as_str();
        let refuse = |found: String, expected: &str| Err(Refusal::new("edit", found, expected));
        let decisions = self.plot.decisions().of(&line.id).count();
        let lines = self.plot.tree_ix(id).map_or(0, |ix| self.plot.lines_of(ix));
        let scores = lines - decisions;
        if scores > 0 {
            let found = count!(scores, "1 score of \"{id}\"", "{scores} scores of \"{id}\"");
            let expected = say!("no score, also none withdrawn, of a tree whose line is to go");
            return refuse(found, expected);
        }
        if decisions > 0 {
            let found =
                count!(decisions, "1 decision of \"{id}\"", "{decisions} decisions of \"{id}\"");
            let expected = say!("no decision, also none taken back, of a tree whose line is to go");
            return refuse(found, expected);
        }
        if let Some(graft) = way.grafts.get(&line.id) {
            let found = say!("\"{graft}\" grafted on \"{id}\"");
            return refuse(found, say!("no graft on a tree whose line is to go"));
        }
        if let Some(later) = way.later.of_tree(&line.id) {
            let expected = say!("nothing that changed the tree since: undo that first");
            return refuse(made_after(later), expected);
        }
        let unknown = sheet.filled_unknown(id);
        if !sheet.has(id) || !sheet.says(line) || unknown.is_some() {
            let found = match unknown {
                None => say!("a line of \"{id}\" that says something else by now"),
                Some(column) => say!(
                    "a line of \"{id}\" that says something else by now, also in column {column}"
                ),
            };
            return refuse(found, say!("the line as it was added"));
        }
        Ok(())
    }
}

fn changed_since(later: Option<&Edit>, tree: &TreeId, field: TreeField, now: &str) -> Refusal {
    let found = match later {
        Some(later) => made_after(later),
        None => say!("that {column} of \"{tree}\" says \"{now}\" by now", column = field.as_str()),
    };
    Refusal::new("edit", found, say!("nothing that changed it since: undo that first"))
}

fn made_after(later: &Edit) -> String {
    say!("\"{words}\", made after it", words = later.words)
}

/// What was put behind a note since it said `then`.
fn added_behind<'a>(field: TreeField, now: &'a str, then: &str) -> Option<&'a str> {
    let added = now.strip_prefix(then).filter(|_| field == TreeField::Note)?;
    if then.is_empty() { None } else { added.strip_prefix("; ") }
}
