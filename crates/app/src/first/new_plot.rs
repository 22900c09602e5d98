//! The form of a new plot, fetched when it is first wanted.

use leptos::prelude::*;

use crate::parts::piece;
use crate::places;

/// The form that makes a plot.
#[component]
pub fn NewPlot() -> impl IntoView {
    piece::fetched(|| Box::pin(async { places::new_plot().await.ok() }))
}
