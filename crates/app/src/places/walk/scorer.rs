//! Who scores, and whether blind: without seeing what was scored before.

use language::say;
use leptos::prelude::*;

/// The name and the choice.
#[component]
pub fn ScorerChoice(scorer: RwSignal<String>, blind: RwSignal<bool>) -> impl IntoView {
    view! {
        <fieldset>
            <legend>{say!("Who scores")}</legend>
            <label class="field">
                <span>{say!("Name or initials (may stay empty)")}</span>
                <input type="text" autocomplete="nickname" prop:value=scorer on:input=move |event| scorer.set(event_target_value(&event)) />
            </label>
            <label class="check">
                <input
                    type="checkbox"
                    prop:checked=blind
                    on:change=move |event| blind.set(event_target_checked(&event))
                />
                <span>{say!("Blind: hide what was scored before")}</span>
            </label>
            <Show when=move || blind.get()>
                <p class="hint">
                    {say!("For a second scorer: every tree is asked, whatever another wrote in this \
                     round. Sick trees do not come last then, since that would tell.")}
                </p>
            </Show>
        </fieldset>
    }
}
