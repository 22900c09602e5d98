//! The field for a tag that is typed, with the button that adds it.

use language::say;
use leptos::prelude::*;

/// The field, named by `label`; Enter and the button submit the form around it.
pub fn tag_field(id: &'static str, label: &'static str, typed: RwSignal<String>) -> AnyView {
    view! {
        <label class="field which-tag">
            <span>{label}</span>
            <input
                type="text"
                id=id
                enterkeyhint="next"
                autocomplete="off"
                autocapitalize="characters"
                spellcheck="false"
                prop:value=typed
                on:input=move |event| typed.set(event_target_value(&event))
            />
        </label>
        <button class="button which-add">{say!("Add")}</button>
    }
    .into_any()
}
