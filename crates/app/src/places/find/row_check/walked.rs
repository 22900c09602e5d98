//! What was read along a row so far, and what it comes to.

use leptos::prelude::*;
use plot::Plot;
use serde::{Deserialize, Serialize};
use walk::{Differs, End, RowChecked, Seen};

use crate::places::find::planted::{Planted, planted};
use crate::state::App;
use crate::work::kept::{For, keep, kept};

/// Tags offered at most.
const OFFERED: usize = 4;
/// The name under which the tab keeps it.
const KEPT: &str = "row";

/// A row as it was walked so far.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Walk {
    /// The row; none: none is chosen.
    pub row: Option<i32>,
    /// Whether it was begun where place numbers are high.
    pub from_high: bool,
    /// The trees in walking order.
    pub steps: Vec<Seen>,
    /// Whether its other end is reached.
    pub ended: bool,
}

impl Walk {
    /// The end where it was begun.
    pub fn begun_at(&self) -> End {
        if self.from_high { End::High } else { End::Low }
    }
}

/// The walk and what was settled of it; a handle to copy.
#[derive(Clone, Copy, Debug)]
pub struct Walked {
    app: App,
    /// The walk.
    pub walk: RwSignal<Walk>,
    /// Differences that were accepted or left, so that they are not shown again.
    pub settled: RwSignal<Vec<Differs>>,
    /// The tag being typed.
    pub typed: RwSignal<String>,
    planted: Planted,
}

impl Walked {
    /// The one of this plot that the tab still remembers.
    pub fn new(app: App) -> Self {
        Self {
            app,
            walk: RwSignal::new(
                app.plot_now(|plot| kept(For::Tab, plot, KEPT)).flatten().unwrap_or_default(),
            ),
            settled: RwSignal::default(),
            typed: RwSignal::default(),
            planted: planted(),
        }
    }

    /// Changes the walk and keeps it.
    pub fn change(self, change: impl FnOnce(&mut Walk)) {
        self.walk.update(change);
        self.typed.set(String::new());
        self.app.plot_now(|plot| self.walk.with_untracked(|walk| keep(For::Tab, plot, KEPT, walk)));
    }

    /// Adds the next tree.
    pub fn add(self, seen: Seen) {
        self.change(|walk| walk.steps.push(seen));
    }

    /// Begins anew, in another row or from another end.
    pub fn begin(self, row: Option<i32>, from_high: bool) {
        self.settled.set(Vec::new());
        self.change(|walk| *walk = Walk { row, from_high, ..Walk::default() });
    }

    /// What ground and list differ in, so far. Follows.
    pub fn checked(self) -> Option<RowChecked> {
        let walk = self.walk.get();
        let check = |plot: &Plot| {
            self.planted.read(|list| {
                list.check_row(plot, walk.row?, walk.begun_at(), &walk.steps, walk.ended).ok()
            })
        };
        self.app.plot(check).flatten().flatten()
    }

    /// Tags that come next. Follows.
    pub fn offered(self) -> Vec<String> {
        let walk = self.walk.get();
        let typed = self.typed.get();
        let Some(row) = walk.row else { return Vec::new() };
        let offered = self.planted.read(|list| match typed.trim() {
            "" => list.next_tags(row, walk.begun_at(), &walk.steps, OFFERED),
            typed => list.suggest(typed, None, Some(row), OFFERED),
        });
        offered.unwrap_or_default()
    }
}
