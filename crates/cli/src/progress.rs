//! How far long work is, said on standard error while someone watches.

use std::cell::Cell;
use std::io::IsTerminal;
use std::time::{Duration, Instant};

/// Work that takes less is not worth a word.
const QUIET: Duration = Duration::from_millis(500);
/// Pause between two sayings.
const PAUSE: Duration = Duration::from_millis(100);

thread_local! {
    static IS_HUSHED: Cell<bool> = const { Cell::new(false) };
}

/// From here on nothing is said of work on this thread: several at once would share one line.
pub(crate) fn hush() {
    IS_HUSHED.set(true);
}

/// A line that is written over; taken away when dropped.
pub(crate) struct Progress {
    what: String,
    began: Instant,
    said: Option<Instant>,
    watched: bool,
}

impl Progress {
    /// Of a piece of work, such as `reading`.
    pub(crate) fn new(what: impl Into<String>) -> Self {
        let watched = std::io::stderr().is_terminal() && !IS_HUSHED.get();
        Self { what: what.into(), began: Instant::now(), said: None, watched }
    }

    /// Says how far it is, if it is time to.
    pub(crate) fn at(&mut self, done: usize, of: usize) {
        let quiet =
            self.began.elapsed() < QUIET || self.said.is_some_and(|said| said.elapsed() < PAUSE);
        if self.watched && !quiet && of > 0 {
            eprint!("\r{}: {} % ", self.what, done * 100 / of);
            self.said = Some(Instant::now());
        }
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        if self.said.is_some() {
            eprint!("\r{:1$}\r", "", self.what.len() + 10);
        }
    }
}
