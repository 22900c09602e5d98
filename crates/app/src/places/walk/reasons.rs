//! Why a trait cannot be scored at this tree: neither clean nor sick, and never a number.

use language::{said, say, text};
use leptos::prelude::*;
use walk::Command;

use super::side::Unfolded;
use super::walker::Walker;

/// Why a tree cannot be scored, as one says it (common practice, no source).
const REASONS: [&str; 6] = [
    text!("leaves fallen"),
    text!("cut out before it was seen"),
    text!("cannot be reached"),
    text!("too wet or dark to see"),
    text!("too young to show it"),
    text!("in doubt"),
];

/// A reason as it is read: the file has those of the keys in English, whoever walks.
pub fn as_said(reason: &str) -> &str {
    match REASONS.into_iter().find(|one| *one == reason) {
        Some(known) => said(known),
        None => reason,
    }
}

/// The reasons, one tap each, and a field for one's own.
#[component]
pub fn Reasons(walker: Walker, unfolded: RwSignal<Option<Unfolded>>) -> impl IntoView {
    let write = move |reason: &str| {
        unfolded.set(None);
        let words = say!("could not be scored: {reason}", reason = as_said(reason));
        walker.say_of_tree(Command::CouldNot(reason.to_owned()), &words);
    };
    let one = move |reason: &'static str| {
        view! { <button class="side-key" on:click=move |_| write(reason)>{said(reason)}</button> }
    };
    let typed = RwSignal::new(String::new());
    view! {
        <div class="walk-unfolded" role="group" aria-label=say!("Why it cannot be scored")>
            <p>{move || walker.read_on(asked).flatten()}</p>
            <div class="walk-reasons">{REASONS.map(one)}</div>
            <form
                class="walk-typed"
                on:submit=move |event| {
                    event.prevent_default();
                    write(typed.get_untracked().trim());
                }
            >
                <input
                    type="text"
                    aria-label=say!("In your own words")
                    placeholder=say!("In your own words")
                    prop:value=typed
                    on:input=move |event| typed.set(event_target_value(&event))
                />
                <button class="side-key" type="submit">{say!("Write it")}</button>
            </form>
        </div>
    }
}

fn asked(walk: &walk::Walk, plot: &plot::Plot) -> Option<String> {
    let label = &plot.trait_of(walk.asked()?).label;
    Some(say!("{label}: neither clean nor sick, it stays without a score. Why?"))
}
