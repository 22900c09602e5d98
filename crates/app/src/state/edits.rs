//! Taking edits back and doing them again, from wherever the person is.

use language::say;
use leptos::prelude::*;
use plot::{Act, Edit, EditId, Edits, Plan, Refusal};
use time::Date;

use super::{App, Command, NewEdit};

impl App {
    /// What an act on a day would do; follows the plot.
    ///
    /// # Errors
    /// Why it cannot be, in words.
    pub fn plan(self, act: &Act, day: Date) -> Result<Plan, String> {
        let planned =
            self.plot(|plot| plot.plan(act, day)).unwrap_or_else(|| Err(super::command::no_plot()));
        planned.map_err(|refusal| in_words(&refusal))
    }

    /// Does what was planned; gives what was done.
    ///
    /// # Errors
    /// As [`plan`](Self::plan).
    pub fn carry_out(self, plan: Plan) -> Result<String, String> {
        let Plan { words, parts, .. } = plan;
        let edit = Command::Edit(NewEdit { words: words.clone(), parts });
        self.perform(edit).map(|()| words).map_err(|refusal| in_words(&refusal))
    }

    /// Takes an edit back, or does it again, and tells it.
    pub fn turn_over(self, edit: &EditId) {
        let done = self.perform(Command::TurnOver(edit.clone()));
        self.told.set(Some(match done {
            Ok(()) => self.last_words().unwrap_or_default(),
            Err(refusal) => say!("It stays: {why}", why = in_words(&refusal)),
        }));
    }

    /// Takes back what was made last, or does again what was taken back last, and tells it.
    pub fn turn_over_last(self, redo: bool) {
        let find = |edits: &Edits| {
            let last = if redo { edits.to_redo() } else { edits.to_undo() };
            last.map(|edit| edit.id.clone())
        };
        match self.book_now(|book| find(book.edits())).flatten() {
            Some(edit) => self.turn_over(&edit),
            None => {
                let words = match redo {
                    true => say!("Nothing to do again."),
                    false => say!("Nothing to undo."),
                };
                self.told.set(Some(words.to_owned()));
            }
        }
    }

    /// What was made, undone or done again last.
    fn last_words(self) -> Option<String> {
        let words = |edit: &Edit| edit.words.to_string();
        self.book_now(|book| book.edits().all().last().map(words)).flatten()
    }
}

/// A refusal as a person reads it beside the form.
pub fn in_words(refusal: &Refusal) -> String {
    let label = plot::TreeField::parse(refusal.column).map(plot::TreeField::label);
    let Refusal { found, expected, .. } = refusal;
    match label {
        Some(place) => say!("{place}: {found}; expected {expected}."),
        None => say!("{found}; expected {expected}."),
    }
}
