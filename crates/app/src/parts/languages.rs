//! The choice of the language that the page speaks.

use language::say;
use leptos::prelude::*;

use crate::state::{Saving, app, spoken};

/// A select of the languages, each by its own name. The page starts anew in another one, and so
/// waits until every score is on disk.
#[component]
pub fn Languages() -> impl IntoView {
    let app = app();
    let now = spoken::tag();
    let option = |(tag, name): (&'static str, &'static str)| {
        view! { <option value=tag lang=tag selected=tag == now>{name}</option> }
    };
    view! {
        <label class="field languages">
            <span>{say!("Language")}</span>
            <select
                disabled=move || !app.saving.with(Saving::is_all_kept)
                on:change=move |event| spoken::switch_to(&event_target_value(&event))
            >
                {spoken::LANGUAGES.map(option).collect_view()}
            </select>
        </label>
    }
}
