//! Light or dark.

use language::say;
use leptos::prelude::*;

use crate::state::{Theme, app};

/// The choice of colours.
#[component]
pub fn Look() -> impl IntoView {
    let app = app();
    let choice = move |theme: Theme| {
        let name = match theme {
            Theme::System => say!("As the system has it"),
            Theme::Light => say!("Paper"),
            Theme::Dark => say!("Evening"),
        };
        view! {
            <label class="check">
                <input
                    type="radio"
                    name="theme"
                    prop:checked=move || app.theme.get() == theme
                    on:change=move |_| app.theme.set(theme)
                />
                {name}
            </label>
        }
    };
    view! {
        <fieldset class="look">
            <legend>{say!("Colours")}</legend>
            {Theme::ALL.map(choice).collect_view()}
        </fieldset>
    }
}
