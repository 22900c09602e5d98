//! A select whose choice follows a signal, its label above it.

use leptos::prelude::*;

/// What can be chosen: a value, and its words.
pub(super) type Options = Vec<(String, String)>;

/// A select; `choose` gets the value.
pub(super) fn select(
    label: impl Into<String>,
    options: Options,
    chosen: impl Fn() -> String + Send + Sync + 'static,
    choose: impl Fn(String) + Send + Sync + 'static,
) -> AnyView {
    erased(label.into(), options, Box::new(chosen), Box::new(choose))
}

fn erased(
    label: String,
    options: Options,
    chosen: Box<dyn Fn() -> String + Send + Sync>,
    choose: Box<dyn Fn(String) + Send + Sync>,
) -> AnyView {
    let first = untrack(&chosen);
    let option = |(value, words): (String, String)| {
        let selected = value == first;
        view! { <option value=value selected=selected>{words}</option> }
    };
    let options: Vec<_> = options.into_iter().map(option).collect();
    view! {
        <label class="field">
            <span>{label}</span>
            <select
                prop:value=chosen
                on:change=move |event| choose(event_target_value(&event))
            >
                {options}
            </select>
        </label>
    }
    .into_any()
}
