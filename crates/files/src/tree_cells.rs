//! One cell of `trees.csv` made to say something else on a walk; every other byte stays as it was.

use std::collections::HashSet;

use language::say;
use plot::{Refusal, TreeChange};

use crate::{Book, caps, changes, trees};

impl Book {
    /// Makes a cell of a tree say something else: in the plot, and in the one line of `trees.csv`
    /// that the tree was read from. Gives the change as a line for a log, which
    /// [`replay_trees`](Self::replay_trees) takes.
    ///
    /// `from` is taken from the file: it need not be right. A file without that column gets it:
    /// its name in the header and an empty cell in each sound line; faulty lines stay as they are.
    ///
    /// # Errors
    /// As [`Plot::change_tree`](plot::Plot::change_tree); words longer than a cell may be
    /// ([`CELL_BYTES`](crate::CELL_BYTES)); a missing column where adding it would make a faulty
    /// line mean something. Nothing is changed then.
    pub fn change_tree(&mut self, mut change: TreeChange) -> Result<Vec<u8>, Refusal> {
        caps::check_cell(change.cell.as_str(), &change.to)?;
        if self.plot.tree_ix(change.tree.as_str()).is_none() {
            return Err(self.plot.change_tree(change).expect_err("there is no such tree"));
        }
        let mut sheets = self.sheets()?;
        let sheet = &mut sheets.trees;
        let from = sheet.text(change.tree.as_str(), change.cell.into());
        change.from = from.ok_or_else(|| no_line(&change))?.into();
        self.back_to_its_words(&mut change);
        change.check(&change.from)?;
        if change.from != change.to {
            sheet.set(change.tree.as_str(), change.cell.into(), &change.to);
        }
        let is_wider = sheet.has_more_columns();
        let written = sheets.finish();
        if is_wider {
            // Read again: each line must say what it said.
            self.put(written, &HashSet::from([&change.tree]))?;
            self.plot.remember_change(change.clone())?;
        } else {
            self.plot.change_tree(change.clone())?;
            self.files.insert(trees::FILE.to_owned(), written.bytes);
        }
        Ok(changes::line(&change))
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

fn no_line(change: &TreeChange) -> Refusal {
    let found = say!("no line of tree \"{tree}\"", tree = change.tree);
    Refusal::new("tree_id", found, say!("the line in trees.csv that it was read from"))
}

#[cfg(test)]
mod tests;
