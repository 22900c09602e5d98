//! One of several ways, chosen by a tap.

use leptos::prelude::*;

/// A radio button of a group, with its words.
pub fn choice(
    group: &'static str,
    words: String,
    is_chosen: impl Fn() -> bool + Send + Sync + 'static,
    choose: impl Fn() + 'static,
) -> AnyView {
    view! {
        <label class="check">
            <input type="radio" name=group prop:checked=is_chosen on:change=move |_| choose() />
            <span>{words}</span>
        </label>
    }
    .into_any()
}
