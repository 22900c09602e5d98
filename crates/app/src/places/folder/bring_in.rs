//! What can be brought in, a list or a receiver's positions: the way to what reads it, which is
//! fetched when it is first wanted.

use language::text;
use leptos::prelude::*;

use crate::parts::go_to;
use crate::parts::lean::{button, changing, said};
use crate::parts::piece::{self, Fetch};
use crate::places;
use crate::state::app;

/// A way in: its head, what it is, and what reads it.
struct Way {
    id: &'static str,
    head: &'static str,
    words: &'static str,
    press: &'static str,
    fetch: Fetch,
}

const LIST: Way = Way {
    id: "folder-list",
    head: text!("Bring in a list"),
    words: text!(
        "Trees from any table: their places, tags and crosses, or what is new about them. You see \
            every line and every fault first; nothing is taken before you say so."
    ),
    press: text!("Bring in a list"),
    fetch: || Box::pin(async { places::bring_list().await.ok() }),
};

const POSITIONS: Way = Way {
    id: "folder-positions",
    head: text!("Positions from a receiver"),
    words: text!(
        "Where the plot lies on earth, and where each tree stands, from a satellite receiver \
            carried along the rows. You see how well it fits the plan first."
    ),
    press: text!("Bring in positions"),
    fetch: || Box::pin(async { places::receiver().await.ok() }),
};

/// The ways in.
#[component]
pub fn BringIn() -> impl IntoView {
    let app = app();
    let list_wanted = RwSignal::new(false);
    // A new plot whose trees come from a list.
    Effect::new(move || {
        if app.list_wanted.get() {
            app.list_wanted.set(false);
            list_wanted.set(true);
            request_animation_frame(|| go_to(LIST.id));
        }
    });
    [way(&LIST, list_wanted), way(&POSITIONS, RwSignal::new(false))]
}

/// A button, and what it leads to.
fn way(way: &'static Way, is_wanted: RwSignal<bool>) -> AnyView {
    view! {
        <section aria-labelledby=way.id>
            <h2 id=way.id>{language::said(way.head)}</h2>
            {said("p", "", language::said(way.words))}
            {changing(move || match is_wanted.get() {
                true => piece::fetched(way.fetch),
                false => button("button", language::said(way.press), move || is_wanted.set(true)),
            })}
        </section>
    }
    .into_any()
}
