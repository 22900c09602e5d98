//! Opening a plot: from files to an open book, in pieces, so that the page never freezes.

use files::{Book, FileSet, Opening};
use leptos::prelude::*;
use plot::Problem;

use super::App;
use crate::route::Route;
use crate::work::clock;
use crate::work::pick::{NotPicked, Picked};

/// Lines read between two looks at the clock.
const LINES_AT_ONCE: usize = 500;
/// How long is read between two looks at what the person does, milliseconds. A look costs a few of
/// them: browsers make those wait who ask for the next turn again and again.
const READ_MS: f64 = 40.0;

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
    /// The open plot, changed by what was brought together with it.
    Together {
        /// Lines that no copy outside holds by that.
        changed: u64,
    },
    /// The open plot, united with what another folder of it held.
    Merged,
}

/// Something that takes longer than a blink.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
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

/// A plot that could not be opened, and why.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refused {
    /// What the person chose.
    pub name: String,
    /// What is wrong with it.
    pub problems: Vec<Problem>,
}

impl App {
    /// Opens what a person chose in place of the open plot, which stays on the shelf. If it cannot
    /// be used, the open plot stays and [`App::refused`](App) says why.
    pub async fn open(self, picked: Picked, origin: Origin) {
        self.refused.set(None);
        if self.would_lose_scores() {
            return;
        }
        let name = picked.name.clone();
        match self.read_on(picked.into_opening()).await {
            Some((Some(book), problems)) => {
                self.show(Some(book));
                self.problems.set(problems);
                self.put(&origin);
                Route::Map.go();
            }
            Some((None, problems)) => self.refused.set(Some(Refused { name, problems })),
            None => {}
        }
    }

    /// Opens a plot that was made here.
    pub fn open_new(self, book: Book) {
        self.refused.set(None);
        if self.would_lose_scores() {
            return;
        }
        self.show(Some(book));
        self.problems.set(Vec::new());
        self.put(&Origin::New);
        Route::Map.go();
    }

    /// Tells why something that a person handed in was not even read.
    pub fn not_picked(self, name: &str, why: NotPicked) {
        if let NotPicked::Unusable(problem) = why {
            self.refused.set(Some(Refused { name: name.to_owned(), problems: vec![*problem] }));
        }
    }

    /// Asks for what is being opened to be stopped.
    pub fn stop_opening(self) {
        self.busy.update(|busy| {
            if let Some(busy) = busy {
                busy.stop = true;
            }
        });
    }

    /// Reads files to the end; none when they are no plot.
    pub(super) async fn read(self, files: FileSet) -> Option<(Book, Vec<Problem>)> {
        let (book, problems) = self.read_on(Opening::new(files)).await?;
        Some((book?, problems))
    }

    /// None: the person stopped it.
    pub(super) async fn read_on(
        self,
        mut opening: Opening,
    ) -> Option<(Option<Book>, Vec<Problem>)> {
        let what = "Reading the plot".to_owned();
        self.busy.set(Some(Busy { what, ..Busy::default() }));
        let mut looked = clock::since_opened_ms();
        loop {
            let (done, of) = opening.step(LINES_AT_ONCE);
            if done >= of {
                break;
            }
            if clock::since_opened_ms() - looked < READ_MS {
                continue;
            }
            self.busy.update(|busy| {
                if let Some(busy) = busy {
                    (busy.done, busy.of) = (done, of);
                }
            });
            judge::breathe().await;
            if self.busy.with_untracked(|busy| busy.as_ref().is_some_and(|busy| busy.stop)) {
                self.busy.set(None);
                return None;
            }
            looked = clock::since_opened_ms();
        }
        self.busy.set(None);
        Some(opening.finish())
    }

    /// Puts a book, or none, in place of the open one.
    pub(super) fn show(self, book: Option<Book>) {
        self.chosen.set(None);
        self.forget_judged();
        self.book.set_value(book);
        self.forget_lookup();
        self.clock_seen.set_value(super::clock_check::ClockSeen::default());
        self.opened.update(|opened| *opened += 1);
        self.changed();
    }
}
