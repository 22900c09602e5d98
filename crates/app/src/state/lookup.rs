//! Where the trees of the open plot are found: its rows, what its ends are called, and the search.

use judge::breathe;
use leptos::prelude::*;
use leptos::task::spawn_local;
use plot::Plot;
use walk::{Ends, Finder, Found, Indexing, Rows};

use super::App;

/// Trees indexed between two looks at what the person does.
const TREES_AT_ONCE: usize = 3_000;

/// Made when it is first asked for, and again for another plot: scores do not change it.
#[derive(Clone, Debug)]
pub struct Lookup {
    /// The rows as one walks them.
    pub rows: Rows,
    /// What the ends of the rows are called.
    pub ends: Ends,
}

impl App {
    /// Reads the open plot with its lookup; none without a plot. Does not follow changes.
    pub fn look_up<R>(self, read: impl FnOnce(&Plot, &Lookup) -> R) -> Option<R> {
        if self.lookup.with_value(Option::is_none) {
            let rows = self.book_now(|book| Rows::of(book.plot()));
            let made = rows.map(|rows| Lookup { rows, ends: self.row_ends() });
            self.lookup.set_value(made);
        }
        self.lookup.with_value(|lookup| self.plot_now(|plot| Some(read(plot, lookup.as_ref()?))))?
    }

    /// What the ends of the rows are called.
    pub fn row_ends(self) -> Ends {
        self.book_now(|book| book.row_ends().into()).unwrap_or_default()
    }

    /// The best trees for what was typed; none while the search is not ready. Follows.
    pub fn find(self, typed: &str, limit: usize) -> Option<Found> {
        self.finder.with(|finder| {
            let finder = finder.as_ref()?;
            self.look_up(|plot, look| finder.find(plot, &look.rows, typed, limit))
        })
    }

    /// Makes the search ready in short pieces, unless it is. Follows the plot: what changes while
    /// it is made ends it, and whoever follows begins it anew.
    pub fn ready_to_find(self) {
        self.version.track();
        if self.finder.with_untracked(Option::is_some) {
            return;
        }
        let (opened, version) = (self.opened.get_untracked(), self.version.get_untracked());
        spawn_local(async move {
            let mut indexing = Indexing::default();
            loop {
                let step = self.plot_now(|plot| indexing.step(plot, TREES_AT_ONCE));
                match step {
                    Some((done, of)) if done < of => breathe().await,
                    Some(_) => break,
                    None => return,
                }
                let now = (self.opened.get_untracked(), self.version.get_untracked());
                if now != (opened, version) {
                    return;
                }
            }
            self.finder.set(Some(indexing.finish()));
        });
    }

    /// For another plot it is made anew.
    pub(super) fn forget_lookup(self) {
        self.lookup.set_value(None);
        self.finder.set(None::<Finder>);
    }
}
