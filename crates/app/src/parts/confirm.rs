//! A button that asks before it does something that cannot be taken back.

use leptos::prelude::*;

/// Asks in place; the second tap does it.
#[component]
pub fn Confirm(
    /// The button's words.
    what: &'static str,
    /// What will happen, said before the second tap.
    warning: String,
    /// Words of the second tap.
    yes: &'static str,
    /// What to do.
    then: impl Fn() + Send + Sync + Clone + 'static,
) -> impl IntoView {
    let asking = RwSignal::new(false);
    let warning = StoredValue::new(warning);
    let then = StoredValue::new(then);
    view! {
        <Show
            when=move || asking.get()
            fallback=move || view! {
                <button class="button" on:click=move |_| asking.set(true)>{what}</button>
            }
        >
            <div class="confirm" role="alertdialog" aria-label=what>
                <p>{warning.get_value()}</p>
                <button class="button button-danger" on:click=move |_| {
                    asking.set(false);
                    then.with_value(|then| then());
                }>{yes}</button>
                <button class="button" on:click=move |_| asking.set(false)>"Leave it"</button>
            </div>
        </Show>
    }
}
