//! Find: a tree by tag, cross, place or nearness, the answer said in words.

use leptos::prelude::*;

/// The search.
#[component]
pub fn Find() -> impl IntoView {
    view! { <section class="find"><h1>"Find"</h1></section> }
}
