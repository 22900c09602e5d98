//! The planting list as the plot says it now, made once for all that is read along a row.

use std::sync::Arc;

use leptos::prelude::*;
use walk::PlantingList;

use crate::parts::made_once;
use crate::state::App;

/// The list, made when it is first read and anew when the plot has changed.
#[derive(Clone, Copy, Debug)]
pub struct Planted(Signal<Option<Arc<PlantingList>>>);

impl Planted {
    /// Of the open plot.
    pub fn new(app: App) -> Self {
        Self(made_once(move || {
            app.version();
            app.look_up(|plot, look| Arc::new(PlantingList::of(plot, &look.rows)))
        }))
    }

    /// Reads the list; none without a plot. Follows.
    pub fn read<R>(self, read: impl FnOnce(&PlantingList) -> R) -> Option<R> {
        self.0.with(|list| list.as_deref().map(read))
    }
}

/// Find's list.
///
/// # Panics
/// Outside of Find.
pub fn planted() -> Planted {
    expect_context()
}
