//! What was just done to the trees, with the way back.

use language::say;
use leptos::prelude::*;

use super::lean::button;
use crate::state::App;

/// What was just done, with the way back.
pub fn done_line(app: App, done: RwSignal<Option<String>>) -> AnyView {
    let Some(words) = done.get() else { return ().into_any() };
    let undo = button("button button-small", say!("Undo"), move || {
        app.turn_over_last(false);
        done.set(None);
    });
    view! { <p class="change-done" role="status"><span>{words}</span>{undo}</p> }.into_any()
}
