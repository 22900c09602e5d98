//! A copy for a colleague: one file to be looked at without Leeward.

use language::say;
use leptos::prelude::*;

use super::desk::{Desk, ForColleague};

/// The button, what it gives, and what came of it.
#[component]
pub(super) fn Colleague(desk: Desk) -> impl IntoView {
    let is_wanted = move || desk.copy.get() == ForColleague::Wanted;
    let said = move || match desk.copy.get() {
        ForColleague::Unwanted => String::new(),
        ForColleague::Wanted => say!("The copy is being made, every disease judged.").to_owned(),
        ForColleague::Told(said) => said,
    };
    view! {
        <section aria-labelledby="print-copy">
            <h2 id="print-copy">{say!("A copy for a colleague")}</h2>
            <p>
                {say!("One HTML file that opens in any browser, without Leeward and without a network: the \
                 map, the verdicts, a card for each tree, and the plot folder in it. It can only be \
                 read.")}
            </p>
            <div class="row">
                <button class="button" disabled=is_wanted on:click=move |_| desk.copy.set(ForColleague::Wanted)>
                    {say!("Save a copy for a colleague")}
                </button>
            </div>
            <p class="saved" role="status">{said}</p>
        </section>
    }
}
