//! Where the trees of the open plot are found: its rows, the search, and what its ends are called.

use leptos::prelude::*;
use plot::Plot;
use walk::{Ends, Finder, Rows};

use super::App;

/// Made when it is first asked for, and again for another plot: scores do not change it.
#[derive(Clone, Debug)]
pub struct Lookup {
    /// The rows as one walks them.
    pub rows: Rows,
    /// The search.
    pub finder: Finder,
    /// What the ends of the rows are called.
    pub ends: Ends,
}

impl App {
    /// Reads the open plot with its lookup; none without a plot. Does not follow changes.
    pub fn look_up<R>(self, read: impl FnOnce(&Plot, &Lookup) -> R) -> Option<R> {
        if self.lookup.with_value(Option::is_none) {
            let made = self.book_now(|book| {
                let [low, high] = book.row_ends().map(|name| name.map(Into::into));
                Lookup {
                    rows: Rows::of(book.plot()),
                    finder: Finder::new(book.plot()),
                    ends: Ends { low, high },
                }
            });
            self.lookup.set_value(made);
        }
        self.lookup.with_value(|lookup| self.plot_now(|plot| Some(read(plot, lookup.as_ref()?))))?
    }
}
