//! Opening a plot: what was read comes in place of what is open.

use files::Book;
use leptos::prelude::*;
use plot::Problem;

use super::App;
use super::reading::Read;
use crate::route::Route;
use crate::work::kept;
use crate::work::pick::{NotPicked, Picked};

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
        self.trouble.set(None);
        if self.would_lose_scores() {
            return;
        }
        let name = picked.name.clone();
        match self.read(picked).await {
            Some(Read { book: Some(book), problems, .. }) => {
                if origin == Origin::Demo {
                    kept::forget(book.plot());
                }
                self.show(Some(book), problems);
                self.put(&origin);
                Route::Map.go();
            }
            Some(Read { problems, .. }) => self.refused.set(Some(Refused { name, problems })),
            None => {}
        }
    }

    /// Opens a plot that was made here; one whose trees come from a list goes on to it.
    pub fn open_new(self, book: Book, is_for_list: bool) {
        self.refused.set(None);
        if self.would_lose_scores() {
            return;
        }
        kept::forget(book.plot());
        self.show(Some(book), Vec::new());
        self.put(&Origin::New);
        self.list_wanted.set(is_for_list);
        if is_for_list { Route::Folder.go() } else { Route::Map.go() }
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

    /// Puts a book with the problems of its files, or none, in place of the open one.
    pub(super) fn show(self, book: Option<Book>, problems: Vec<Problem>) {
        self.chosen.set(None);
        self.forget_judged();
        self.book.set_value(book);
        self.problems.set(problems);
        self.forget_lookup();
        self.clock_seen.set_value(super::clock_check::ClockSeen::default());
        self.opened.update(|opened| *opened += 1);
        self.changed();
    }
}
