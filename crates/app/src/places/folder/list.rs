//! Bring in a list: the way to what reads it, which is fetched when it is first wanted.

use leptos::html;
use leptos::prelude::*;

use crate::parts::lean::{button, changing};
use crate::parts::piece;
use crate::places;
use crate::state::app;

/// A button, and what it leads to.
#[component]
pub fn List() -> impl IntoView {
    let app = app();
    let is_wanted = RwSignal::new(false);
    let head = NodeRef::<html::H2>::new();
    // A new plot whose trees come from a list.
    Effect::new(move || {
        if app.list_wanted.get() {
            app.list_wanted.set(false);
            is_wanted.set(true);
            request_animation_frame(move || {
                if let Some(head) = head.get_untracked() {
                    let _ = head.focus();
                    head.scroll_into_view();
                }
            });
        }
    });
    view! {
        <section aria-labelledby="folder-list">
            <h2 id="folder-list" tabindex="-1" node_ref=head>"Bring in a list"</h2>
            <p>
                "Trees from any table: their places, tags and crosses, or what is new about them. You \
                 see every line and every fault first; nothing is taken before you say so."
            </p>
            {changing(move || match is_wanted.get() {
                true => piece::fetched(|| Box::pin(async { places::bring_list().await.ok() })),
                false => button("button", "Bring in a list", move || is_wanted.set(true)),
            })}
        </section>
    }
}
