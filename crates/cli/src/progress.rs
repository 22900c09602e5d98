//! How far long work is, said on standard error while someone watches.

use std::cell::Cell;
use std::io::IsTerminal;
use std::sync::mpsc::{RecvTimeoutError, channel};
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

/// Pause between two sayings of how long it takes.
const TICK: Duration = Duration::from_secs(1);

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
        Self { what: what.into(), began: Instant::now(), said: None, watched: is_watched() }
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

    /// Takes the line away, so that something else can be said; it comes back by itself.
    pub(crate) fn clear(&mut self) {
        if self.said.take().is_some() {
            eprint!("\r{:1$}\r", "", self.what.len() + 10);
        }
    }
}

/// Does work that cannot tell how far it is, and says how long it has taken so far.
pub(crate) fn timed<T>(what: &str, work: impl FnOnce() -> T) -> T {
    if !is_watched() {
        return work();
    }
    let (end, ended) = channel::<()>();
    std::thread::scope(|scope| {
        scope.spawn(move || {
            let began = Instant::now();
            let mut said = String::new();
            while ended.recv_timeout(TICK) == Err(RecvTimeoutError::Timeout) {
                said = format!("{what}: {} s ", began.elapsed().as_secs());
                eprint!("\r{said}");
            }
            if !said.is_empty() {
                eprint!("\r{:1$}\r", "", said.len());
            }
        });
        let done = work();
        drop(end);
        done
    })
}

fn is_watched() -> bool {
    std::io::stderr().is_terminal() && !IS_HUSHED.get()
}

impl Drop for Progress {
    fn drop(&mut self) {
        self.clear();
    }
}
