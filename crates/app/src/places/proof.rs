//! Proof: season strength, verdicts and luck for a disease.

use leptos::prelude::*;

/// The proof.
#[component]
pub fn Proof() -> impl IntoView {
    view! { <section class="proof"><h1>"Proof"</h1></section> }
}
