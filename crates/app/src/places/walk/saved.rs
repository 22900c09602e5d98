//! Whether what was tapped is on disk: only what the keeper has acknowledged is called saved.

use leptos::prelude::*;

use crate::state::{Standing, app};

/// A few words in the corner.
#[component]
pub fn Saved() -> impl IntoView {
    let app = app();
    let said = move || {
        app.saving.with(|saving| match (saving.standing, &saving.trouble) {
            // Why, is said above every place.
            (Standing::Writing, Some(_)) => {
                ("bad", format!("Not saved: {} wait", saving.taken - saving.kept))
            }
            (Standing::ReadOnly, _) => {
                ("bad", "Another tab writes; this one only reads".to_owned())
            }
            (Standing::Outdated, _) => ("bad", "Not saved: this page is too old".to_owned()),
            (Standing::Nowhere, _) => ("bad", "Not saved: this browser keeps nothing".to_owned()),
            (Standing::Starting, _) => ("wait", "Storage is starting …".to_owned()),
            (Standing::Writing, None) if saving.is_all_kept() => ("good", "All saved".to_owned()),
            (Standing::Writing, None) => {
                ("wait", format!("Saving {} …", saving.taken - saving.kept))
            }
        })
    };
    view! {
        <p class="walk-saved" data-how=move || said().0>{move || said().1}</p>
    }
}
