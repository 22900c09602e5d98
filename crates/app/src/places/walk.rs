//! Walk: scores one tree after another.

use leptos::prelude::*;

/// The walk-through.
#[component]
pub fn Walk() -> impl IntoView {
    view! { <section class="walk"><h1>"Walk"</h1></section> }
}
