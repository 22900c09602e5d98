//! Whether what was tapped is on disk: only what the keeper has acknowledged is called saved.

use language::say;
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
                ("bad", say!("Not saved: {scores} wait", scores = saving.taken - saving.kept))
            }
            (Standing::ReadOnly, _) => {
                ("bad", say!("Another tab writes; this one only reads").to_owned())
            }
            (Standing::Outdated, _) => ("bad", say!("Not saved: this page is too old").to_owned()),
            (Standing::Nowhere, _) => {
                ("bad", say!("Not saved: this browser keeps nothing").to_owned())
            }
            (Standing::Starting, _) => ("wait", say!("Storage is starting …").to_owned()),
            (Standing::Writing, None) if saving.is_all_kept() => {
                ("good", say!("All saved").to_owned())
            }
            (Standing::Writing, None) => {
                ("wait", say!("Saving {scores} …", scores = saving.taken - saving.kept))
            }
        })
    };
    view! {
        <p class="walk-saved" data-how=move || said().0>{move || said().1}</p>
    }
}
