//! The way to the rest of something long.

use language::say;
use leptos::prelude::*;

/// Shows so many more of those that `shown` leaves out of `of`; nothing where none is.
pub(in crate::places) fn more(shown: RwSignal<usize>, step: usize, of: usize) -> AnyView {
    let left = of.saturating_sub(shown.get());
    if left == 0 {
        return ().into_any();
    }
    let press = move |_| shown.update(|shown| *shown += step);
    view! {
        <button class="button button-small" on:click=press>
            {say!("Show {step} more of {left}", step = left.min(step))}
        </button>
    }
    .into_any()
}
