//! A box to tick.

use leptos::prelude::*;

/// A box with words; `is` says whether it is ticked.
pub(in crate::places) fn tick(is: RwSignal<bool>, words: String) -> AnyView {
    view! {
        <label class="check">
            <input type="checkbox" prop:checked=move || is.get()
                on:change=move |event| is.set(event_target_checked(&event)) />
            {words}
        </label>
    }
    .into_any()
}
