//! Why nothing was read or taken.

use leptos::prelude::*;

use crate::parts::lean::{changing, said};

/// What is in the way, read out as it comes up.
pub(in crate::places) fn in_trouble(trouble: RwSignal<Option<String>>) -> AnyView {
    changing(move || match trouble.get() {
        Some(words) => view! { <div role="alert">{said("p", "fault", words)}</div> }.into_any(),
        None => ().into_any(),
    })
}
