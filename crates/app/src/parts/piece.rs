//! A part of the page that is fetched when it is first wanted.

use std::pin::Pin;

use language::say;
use leptos::prelude::*;
use leptos::task::spawn_local;

use super::lean::{button, changing, element, said};
use crate::places::Make;

/// Gives what makes the view, once it is here; none when it cannot be had.
pub type Fetch = fn() -> Pin<Box<dyn Future<Output = Option<Make>>>>;

/// The view, and until it is here, words.
pub fn fetched(fetch: Fetch) -> AnyView {
    let piece = RwSignal::new(None::<Option<Make>>);
    let again = move || {
        piece.set(None);
        spawn_local(async move { _ = piece.try_set(Some(fetch().await)) });
    };
    again();
    changing(move || match piece.get() {
        Some(Some(make)) => make(),
        Some(None) => {
            let why =
                say!("The form could not be fetched, and it was not kept on this machine yet.");
            let again = button("button", say!("Try again"), again);
            element("div", "", vec![said("p", "fault", why), again])
        }
        None => said("p", "on-its-way", say!("One moment…")),
    })
}
