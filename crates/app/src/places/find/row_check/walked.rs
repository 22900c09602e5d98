//! What was read along a row so far, and what it comes to.

use leptos::prelude::*;
use serde::{Deserialize, Serialize};
use walk::{Differs, End, PlantingList, RowChecked, Seen};

use crate::places::find::kept::{keep, kept};
use crate::state::App;

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
    list: Memo<Listed>,
}

/// The planting list of one state of the plot.
#[derive(Clone, Debug)]
struct Listed(u64, StoredValue<Option<PlantingList>>);

impl PartialEq for Listed {
    fn eq(&self, other: &Self) -> bool {
        self.0 == other.0
    }
}

impl Walked {
    /// The one of this plot that the tab still remembers.
    pub fn new(app: App) -> Self {
        let list = Memo::new(move |_| {
            let version = app.version();
            let list = app.look_up(|plot, look| PlantingList::of(plot, &look.rows));
            Listed(version, StoredValue::new(list))
        });
        Self {
            app,
            walk: RwSignal::new(kept(app, KEPT).unwrap_or_default()),
            settled: RwSignal::default(),
            typed: RwSignal::default(),
            list,
        }
    }

    /// Changes the walk and keeps it.
    pub fn change(self, change: impl FnOnce(&mut Walk)) {
        self.walk.update(change);
        self.typed.set(String::new());
        self.walk.with_untracked(|walk| keep(self.app, KEPT, walk));
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
        let list = self.list.get().1;
        self.app
            .plot(|plot| {
                list.with_value(|list| {
                    list.as_ref()?
                        .check_row(plot, walk.row?, walk.begun_at(), &walk.steps, walk.ended)
                        .ok()
                })
            })
            .flatten()
    }

    /// Tags that come next. Follows.
    pub fn offered(self) -> Vec<String> {
        let walk = self.walk.get();
        let typed = self.typed.get();
        let Some(row) = walk.row else { return Vec::new() };
        let offered = self.list.get().1.with_value(|list| {
            let list = list.as_ref()?;
            Some(match typed.trim() {
                "" => list.next_tags(row, walk.begun_at(), &walk.steps, OFFERED),
                typed => list.suggest(typed, None, Some(row), OFFERED),
            })
        });
        offered.unwrap_or_default()
    }
}
