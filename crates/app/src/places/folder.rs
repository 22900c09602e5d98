//! Folder: where the plot lives, what is saved, and its faults.

use leptos::prelude::*;

/// The folder.
#[component]
pub fn Folder() -> impl IntoView {
    view! { <section class="folder"><h1>"Folder"</h1></section> }
}
