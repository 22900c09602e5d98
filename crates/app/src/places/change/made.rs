//! What was changed on this device, the newest first, each with its way back.

use language::say;
use leptos::prelude::*;
use plot::{Edit, EditId};

use crate::parts::lean::{changing, element, said};
use crate::state::App;

/// So many are listed.
const LISTED: usize = 30;

/// The list; nothing while nothing was changed.
pub(super) fn made(app: App) -> AnyView {
    changing(move || {
        let made = app.book(|book| {
            let line = |(edit, stands): (&Edit, bool)| {
                (edit.id.clone(), edit.words.to_string(), edit.done_on.date().to_string(), stands)
            };
            book.edits().made().take(LISTED).map(line).collect::<Vec<_>>()
        });
        let made = made.unwrap_or_default();
        if made.is_empty() {
            return ().into_any();
        }
        let lines = made.into_iter().map(|line| one(app, line)).collect();
        let parts = vec![said("summary", "", say!("Changes made")), element("ul", "", lines)];
        element("details", "change-made", parts)
    })
}

fn one(app: App, (id, words, day, stands): (EditId, String, String, bool)) -> AnyView {
    let (class, way, label) = match stands {
        true => ("", say!("Undo"), say!("Undo: {words}")),
        false => ("change-undone", say!("Do again"), say!("Do again: {words}")),
    };
    view! {
        <li>
            <span class=class>{words}<span class="hint">{if stands { day } else { say!("undone").to_owned() }}</span></span>
            <button class="button button-small" aria-label=label on:click=move |_| app.turn_over(&id)>{way}</button>
        </li>
    }
    .into_any()
}
