//! Positions from a receiver: the way to what reads them, which is fetched when it is first wanted.

use leptos::prelude::*;

use crate::parts::lean::{button, changing};
use crate::parts::piece;
use crate::places;

/// A button, and what it leads to.
#[component]
pub fn Positions() -> impl IntoView {
    let is_wanted = RwSignal::new(false);
    view! {
        <section aria-labelledby="folder-positions">
            <h2 id="folder-positions">"Positions from a receiver"</h2>
            <p>
                "Where the plot lies on earth, and where each tree stands, from a satellite receiver \
                 carried along the rows. You see how well it fits the plan first."
            </p>
            {changing(move || match is_wanted.get() {
                true => piece::fetched(|| Box::pin(async { places::receiver().await.ok() })),
                false => button("button", "Bring in positions", move || is_wanted.set(true)),
            })}
        </section>
    }
}
