//! The card of the chosen tree: what it is, its scores, its verdict with reasons.

use leptos::prelude::*;

/// The card of [`App::chosen`](crate::state::App).
#[component]
pub fn Card() -> impl IntoView {
    view! { <aside class="card"></aside> }
}
