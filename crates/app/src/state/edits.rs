//! Taking edits back and doing them again, from wherever the person is.

use leptos::prelude::*;
use plot::{Edit, EditId, Edits, Refusal};

use super::{App, Command};

impl App {
    /// Takes an edit back, or does it again, and tells it.
    pub fn turn_over(self, edit: &EditId) {
        let done = self.perform(Command::TurnOver(edit.clone()));
        self.told.set(Some(match done {
            Ok(()) => self.last_words().unwrap_or_default(),
            Err(refusal) => format!("It stays: {}", in_words(&refusal)),
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
                let words = if redo { "Nothing to do again." } else { "Nothing to undo." };
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
    let label = label.map(|label| format!("{label}: ")).unwrap_or_default();
    format!("{label}{}; expected {}.", refusal.found, refusal.expected)
}
