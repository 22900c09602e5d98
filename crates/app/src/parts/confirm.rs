//! A button that asks before it does something that cannot be taken back.

use language::say;
use leptos::html;
use leptos::prelude::*;

/// Asks in place; the second tap does it. The keyboard goes to the way out, and back.
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
    let (asker, way_out) = (NodeRef::<html::Button>::new(), NodeRef::<html::Button>::new());
    let turn = move |asks: bool| {
        asking.set(asks);
        let next = if asks { way_out } else { asker };
        request_animation_frame(move || {
            _ = next.get_untracked().is_some_and(|next| next.focus().is_ok());
        });
    };
    let warning = StoredValue::new(warning);
    let then = StoredValue::new(then);
    view! {
        <Show
            when=move || asking.get()
            fallback=move || view! {
                <button class="button" node_ref=asker on:click=move |_| turn(true)>{what}</button>
            }
        >
            <div
                class="confirm"
                role="alertdialog"
                aria-label=warning.get_value()
                on:keydown=move |event| {
                    if event.key() == "Escape" {
                        turn(false);
                    }
                }
            >
                <p>{warning.get_value()}</p>
                <button class="button button-danger" on:click=move |_| {
                    asking.set(false);
                    then.with_value(|then| then());
                }>{yes}</button>
                <button class="button" node_ref=way_out on:click=move |_| turn(false)>{say!("Leave it")}</button>
            </div>
        </Show>
    }
}
