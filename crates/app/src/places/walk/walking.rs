//! A walk on its way: the tree above, the keys under the thumb.

use language::say;
use leptos::html;
use leptos::prelude::*;
use walk::Command;
use web_sys::KeyboardEvent;

use super::awake::stay_awake;
use super::head::TreeHead;
use super::keys::key_for;
use super::over::WalkOver;
use super::rows::RowProgress;
use super::saved::Saved;
use super::side::Hand;
use super::walker::Walker;

/// The walk.
#[component]
pub fn Walking(walker: Walker) -> impl IntoView {
    stay_awake();
    let here = NodeRef::<html::Div>::new();
    // The keyboard's digits count while the walk has the focus.
    Effect::new(move || {
        if let Some(here) = here.get() {
            focus(&here);
        }
    });
    // A key that was tapped may be gone after the tap, and the focus with it.
    Effect::new(move || {
        walker.read(|_| ());
        request_animation_frame(move || {
            let is_lost = document().active_element().is_none_or(|it| it.tag_name() == "BODY");
            if is_lost && let Some(here) = here.get_untracked() {
                focus(&here);
            }
        });
    });
    let is_over = Memo::new(move |_| walker.read(|walk| walk.cursor().is_none()) == Some(true));
    view! {
        <div
            class="walking"
            node_ref=here
            tabindex="-1"
            role="group"
            aria-label=say!("The walk")
            on:keydown=move |event| press(walker, &event)
        >
            <div class="walk-bar">
                <h1 class="hidden-words">{say!("Walk")}</h1>
                <RowProgress walker />
                <Saved />
            </div>
            <Show when=move || !is_over.get() fallback=move || view! { <WalkOver walker /> }>
                <TreeHead walker />
                <Hand walker />
            </Show>
        </div>
    }
}

fn focus(here: &web_sys::HtmlElement) {
    let options = web_sys::FocusOptions::new();
    options.set_prevent_scroll(true);
    let _ = here.focus_with_options(&options);
}

/// The keyboard: digits score, the rest is beside the keys' words.
fn press(walker: Walker, event: &KeyboardEvent) {
    let is_typing = event_target_is_field(event);
    if is_typing || event.alt_key() {
        return;
    }
    let with_control = event.ctrl_key() || event.meta_key();
    match (event.key().as_str(), with_control, event.shift_key()) {
        ("z" | "Z", true, false) | ("Backspace", false, _) => walker.undo(),
        ("z" | "Z", true, true) | ("y" | "Y", true, _) => walker.redo(),
        ("s" | "S", false, _) => {
            walker.say(Command::Skip);
        }
        (key, false, _) => match key_for(walker, key) {
            Some((value, words)) => walker.say_of_tree(Command::Score(value), &words),
            None => return,
        },
        _ => return,
    }
    event.prevent_default();
}

fn event_target_is_field(event: &KeyboardEvent) -> bool {
    use wasm_bindgen::JsCast;
    let target = event.target().and_then(|target| target.dyn_into::<web_sys::Element>().ok());
    target
        .is_some_and(|target| matches!(target.tag_name().as_str(), "INPUT" | "TEXTAREA" | "SELECT"))
}
