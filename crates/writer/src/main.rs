//! The worker that writes a plot as one file, or lays it out for paper, beside the page: a wasm of
//! its own, fetched when something is first saved or printed. It is ended when it has answered.

use std::cell::RefCell;

use judge::link;
use writer::{Desk, FromWriter};

thread_local! {
    static DESK: RefCell<Desk> = RefCell::default();
}

/// Hears the page from now on.
fn main() {
    link::listen(|bytes| {
        let answer = link::message(bytes)
            .and_then(|message| DESK.with_borrow_mut(|desk| desk.hear(message)));
        if let Some(answer) = answer {
            link::tell_page(&answer);
        }
    });
    link::tell_page(&FromWriter::Ready);
}
