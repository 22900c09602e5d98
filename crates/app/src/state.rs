//! The one state of the page: the open plot, what was found out about it, what is chosen and what
//! is saved.
//!
//! [`App`] is a small `Copy` handle, found in context by every component. It holds signals of
//! plain structs, never a signal per tree. Components read it and call [`App::perform`]; nothing
//! else changes a plot.

mod clock_check;
mod command;
mod edits;
mod grown;
mod handed;
mod in_step;
mod judged;
mod lookup;
mod open;
pub mod reading;
mod saving;
pub mod spoken;
mod theme;
mod together;

pub use command::{Command, NewDecision, NewEdit, NewScore};
pub use edits::in_words;
pub use grown::{GrowingNow, KnownGrown};
pub use in_step::InStep;
pub use judged::{Judged, Judging, Question};
pub use lookup::Lookup;
pub use open::{Busy, Origin, Refused};
pub use saving::{OnShelf, Saving, Standing};
pub use theme::Theme;
pub use together::{NewsSaid, Together};

use files::Book;
use handed::Handed;
use judge::Growing;
use leptos::prelude::*;
use plot::{Decisions, Plot, Problem, TreeId, TreeIx};
use std::collections::BTreeMap;
use walk::Finder;
use web_sys::Worker;

use crate::route::{self, Route};
use crate::work::mirror::Mirror;

/// Addresses of the files that the page calls while it runs.
#[derive(Clone, Debug)]
pub struct Addresses {
    /// The keeper's worker.
    pub keeper: String,
    /// The judge's worker.
    pub judge: String,
    /// Script of the worker that reads workbooks.
    pub sheets: String,
    /// Script of the worker that writes a plot as one file.
    pub writer: String,
    /// The demo plot, a zip of a plot folder.
    pub demo: String,
}

/// The page's state; found by [`app`].
#[derive(Clone, Copy, Debug)]
pub struct App {
    /// Where the person is.
    pub route: RwSignal<Route>,
    /// What was found wrong in the open plot's files.
    pub problems: RwSignal<Vec<Problem>>,
    /// The tree whose card is shown.
    pub chosen: RwSignal<Option<TreeIx>>,
    /// What is being opened, with the way to stop it.
    pub busy: RwSignal<Option<Busy>>,
    /// What was chosen last and could not be opened.
    pub refused: RwSignal<Option<Refused>>,
    /// What went wrong last, in words, until the person puts it away.
    pub trouble: RwSignal<Option<String>>,
    /// What an edit was that was just undone or done again, or why it stays.
    pub told: RwSignal<Option<String>>,
    /// What the judge said, by what was asked.
    pub reports: RwSignal<BTreeMap<Question, Judged>>,
    /// The judgement that runs now.
    pub judging: RwSignal<Option<Judging>>,
    /// Models of vigour that run now.
    pub growing_now: RwSignal<Option<GrowingNow>>,
    /// What the judge said of vigour.
    grown: RwSignal<Vec<KnownGrown>>,
    /// How far the scores are on disk.
    pub saving: RwSignal<Saving>,
    /// Plots that this browser keeps beside the open one, the newest first.
    pub shelf: RwSignal<Vec<OnShelf>>,
    /// How a folder that is kept in step stands to the plot.
    pub in_step: RwSignal<InStep>,
    /// Whether a list is to be brought in next.
    pub list_wanted: RwSignal<bool>,
    /// The disease whose plan is to be walked next.
    pub walk_wanted: RwSignal<Option<String>>,
    /// Light, dark, or as the system has it.
    pub theme: RwSignal<Theme>,
    book: StoredValue<Option<Book>, LocalStorage>,
    lookup: StoredValue<Option<Lookup>, LocalStorage>,
    finder: RwSignal<Option<Finder>>,
    version: RwSignal<u64>,
    /// Counts the decisions made here: no judgement grows old by them.
    decided: RwSignal<u64>,
    /// Counts the plots that were opened.
    opened: RwSignal<u64>,
    addresses: StoredValue<Addresses>,
    keeper: StoredValue<Option<Worker>, LocalStorage>,
    judge: StoredValue<Option<Worker>, LocalStorage>,
    handed: StoredValue<Handed>,
    clock_seen: StoredValue<clock_check::ClockSeen>,
    /// The keeper's name for the open plot.
    plot_id: StoredValue<String>,
    mirror: StoredValue<Option<Mirror>, LocalStorage>,
    is_stepping: StoredValue<bool>,
    step_again: StoredValue<bool>,
    /// What somebody reads a report of.
    wanted: StoredValue<Vec<Question>>,
    /// What somebody asks of vigour.
    grow_wanted: StoredValue<Option<Growing>>,
}

/// The page's state.
///
/// # Panics
/// Outside of the page's component tree.
pub fn app() -> App {
    expect_context()
}

impl App {
    /// A page without a plot, its workers started.
    pub fn start(addresses: Addresses) -> Self {
        let app = Self::new(addresses);
        app.start_keeper();
        app.ask_before_leaving();
        app.follow_steps();
        app.follow_plot();
        app
    }

    fn new(addresses: Addresses) -> Self {
        Self {
            route: route::follow(),
            problems: RwSignal::default(),
            chosen: RwSignal::default(),
            busy: RwSignal::default(),
            refused: RwSignal::default(),
            trouble: RwSignal::default(),
            told: RwSignal::default(),
            reports: RwSignal::default(),
            judging: RwSignal::default(),
            growing_now: RwSignal::default(),
            grown: RwSignal::default(),
            saving: RwSignal::default(),
            shelf: RwSignal::default(),
            in_step: RwSignal::default(),
            list_wanted: RwSignal::default(),
            walk_wanted: RwSignal::default(),
            theme: RwSignal::new(Theme::remembered()),
            book: StoredValue::new_local(None),
            lookup: StoredValue::new_local(None),
            finder: RwSignal::new(None),
            version: RwSignal::new(0),
            decided: RwSignal::new(0),
            opened: RwSignal::new(0),
            addresses: StoredValue::new(addresses),
            keeper: StoredValue::new_local(None),
            judge: StoredValue::new_local(None),
            handed: StoredValue::new(Handed::default()),
            clock_seen: StoredValue::default(),
            plot_id: StoredValue::default(),
            mirror: StoredValue::new_local(None),
            is_stepping: StoredValue::new(false),
            step_again: StoredValue::new(false),
            wanted: StoredValue::new(Vec::new()),
            grow_wanted: StoredValue::new(None),
        }
    }

    /// Reads the open plot; none without one. Within an effect, memo or view this runs again
    /// whenever the plot changes.
    pub fn plot<R>(self, read: impl FnOnce(&Plot) -> R) -> Option<R> {
        self.version.track();
        self.plot_now(read)
    }

    /// Reads the open plot without following its changes.
    pub fn plot_now<R>(self, read: impl FnOnce(&Plot) -> R) -> Option<R> {
        self.book_now(|book| read(book.plot()))
    }

    /// Reads the open book without following its changes.
    pub fn book_now<R>(self, read: impl FnOnce(&Book) -> R) -> Option<R> {
        let (mut read, mut answer) = (Some(read), None);
        self.open_book(&mut |book| answer = read.take().map(|read| read(book)));
        answer
    }

    /// One look into the store serves every reader, so that each of them stays small.
    fn open_book(self, read: &mut dyn FnMut(&Book)) {
        self.book.with_value(|book| {
            if let Some(book) = book {
                read(book);
            }
        });
    }

    /// Reads the open book (the plot with its files); follows its changes.
    pub fn book<R>(self, read: impl FnOnce(&Book) -> R) -> Option<R> {
        self.version.track();
        self.book_now(read)
    }

    /// Has what reads decisions run again when one is made.
    pub fn follow_decisions(self) {
        self.decided.track();
    }

    /// Reads what was decided on a tree of the open plot; follows it.
    pub fn decisions_of<R>(
        self,
        tree: TreeIx,
        read: impl FnOnce(&Decisions, &TreeId) -> R,
    ) -> Option<R> {
        self.follow_decisions();
        self.plot(|plot| read(plot.decisions(), plot.tree(tree).id()))
    }

    /// The address of the worker that reads workbooks.
    pub fn sheets_address(self) -> String {
        self.addresses.with_value(|addresses| addresses.sheets.clone())
    }

    /// The address of the worker that writes a plot as one file.
    pub fn writer_address(self) -> String {
        self.addresses.with_value(|addresses| addresses.writer.clone())
    }

    /// The address of the demo plot.
    pub fn demo_address(self) -> String {
        self.addresses.with_value(|addresses| addresses.demo.clone())
    }

    /// Counts the changes of the plot: a cheap thing to compare and to follow.
    pub fn version(self) -> u64 {
        self.version.get()
    }

    /// Counts the plots that were put in place of one another; follows.
    pub fn opened(self) -> u64 {
        self.opened.get()
    }

    /// Whether a plot is open; follows.
    pub fn is_open(self) -> bool {
        self.plot(|_| ()).is_some()
    }

    fn changed(self) {
        self.version.update(|version| *version += 1);
    }
}
