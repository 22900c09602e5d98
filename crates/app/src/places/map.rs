//! Map: every tree to scale, and the layers over it.

use leptos::prelude::*;

/// The map.
#[component]
pub fn Map() -> impl IntoView {
    view! { <section class="map"><h1>"Map"</h1></section> }
}
