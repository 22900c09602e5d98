//! The first page: three ways to a plot.

use leptos::prelude::*;

/// Shown while no plot is open.
#[component]
pub fn FirstPage() -> impl IntoView {
    view! {
        <section class="first">
            <h1>"Leeward"</h1>
            <p class="lead">
                "Where each seedling stands, what was scored on it, and whether a clean one was \
                 proven or only lucky."
            </p>
        </section>
    }
}
