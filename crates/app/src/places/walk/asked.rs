//! The traits of a walk at one tree: what each of them says so far, and which one is asked for.

use language::{decimal, say};
use leptos::prelude::*;
use walk::{Command, Content, Cursor};

use super::walker::Walker;

/// A key for each trait; nothing for a walk with only one.
#[component]
pub fn TraitKeys(walker: Walker) -> impl IntoView {
    let count = walker.read(|walk| walk.setup().traits.len()).unwrap_or_default();
    let keys = (0..count).map(|slot| trait_key(walker, slot)).collect_view();
    (count > 1)
        .then(|| view! { <div class="walk-traits" role="group" aria-label=say!("Traits of this tree")>{keys}</div> })
}

fn trait_key(walker: Walker, slot: usize) -> AnyView {
    let label = walker
        .read_on_now(|walk, plot| plot.trait_of(walk.setup().traits[slot]).label.clone())
        .unwrap_or_default();
    let said = move || walker.read(|walk| said(walk, slot)).unwrap_or_default();
    let is_asked = move || {
        let asked = walker.read(|walk| walk.cursor().is_some_and(|at| at.slot == slot));
        (asked == Some(true)).then_some("true")
    };
    view! {
        <button
            class="walk-trait"
            aria-current=is_asked
            on:click=move |_| { walker.say(Command::GoToTrait(slot)); }
        >
            <span class="walk-trait-name">{label}</span>
            <strong>{said}</strong>
        </button>
    }
    .into_any()
}

/// In a word or two: what a trait says at the tree where one stands.
fn said(walk: &walk::Walk, slot: usize) -> String {
    let Some(stop) = walk.cursor().map(|at| at.stop) else { return String::new() };
    match walk.content(Cursor { stop, slot }) {
        Content::Open => say!("not scored").to_owned(),
        Content::CouldNot { .. } => say!("could not").to_owned(),
        Content::Scored { value, .. } => decimal(value.to_string()),
    }
}
