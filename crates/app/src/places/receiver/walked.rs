//! In which order the places were walked.

use language::say;
use leptos::prelude::*;

use super::state::Receiver;
use crate::parts::lean::changing;
use crate::places::intake::{SHOWN, problem_lines};

/// A field for the order, and what is wrong with it.
pub(super) fn walked(receiver: Receiver) -> AnyView {
    let shown = RwSignal::new(SHOWN);
    let faults = changing(move || {
        receiver.faults.with(|faults| match faults.is_empty() {
            true => ().into_any(),
            false => problem_lines(faults, say!("Together"), shown),
        })
    });
    view! {
        <section>
            <h4>{say!("Which places were walked")}</h4>
            <label class="field">
                <span>{say!("Rows and places in walking order, a row on each line")}</span>
                <textarea class="receiver-places" rows="4" autocomplete="off" spellcheck="false"
                    prop:value=move || receiver.places.get()
                    on:input=move |event| receiver.places.set(event_target_value(&event))></textarea>
            </label>
            <p class="hint">
                {say!("Such as \"row 3: 1 to 40\", and on the way back \"row 4: 40 to 1\". One position for \
                 each place; \"row 5: 7\" is one place. Where the numbers come out even, the order \
                 from the first row on, up one row and down the next, is put there as a guess: \
                 look whether it is what you walked.")}
            </p>
            <div role="status">{faults}</div>
        </section>
    }
    .into_any()
}
