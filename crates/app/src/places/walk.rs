//! Walk: scoring tree by tree, one tap each.

mod asked;
mod awake;
mod caution;
mod choice;
mod corner;
mod facts;
mod head;
mod keys;
mod number_pad;
mod over;
mod photo;
mod reasons;
mod remembered;
mod round_choice;
mod rows;
mod saved;
mod scorer;
mod setup;
mod side;
mod walker;
mod walking;
mod which;

use leptos::prelude::*;

use crate::state::app;
use remembered::Remembered;
use setup::WalkSetup;
use walker::Walker;
use walking::Walking;

/// The walk-through: set up first, then tree by tree. A walk that was left goes on at once.
#[component]
pub fn Walk() -> impl IntoView {
    let app = app();
    let walker = Walker::new(app);
    let remembered = app.plot_now(Remembered::of).flatten();
    if let Some(left) = remembered.filter(|left| left.on_the_way)
        && let Some(setup) = app.plot_now(|plot| left.setup(plot)).flatten()
    {
        // What no longer fits the plot is set up anew.
        let _ = walker.begin(setup, Some(&left.bookmark));
    }
    view! {
        <section class="walk">
            <Show when=move || walker.is_on_the_way() fallback=move || view! { <WalkSetup walker /> }>
                <Walking walker />
            </Show>
        </section>
    }
}
