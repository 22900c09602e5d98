//! What the hand reaches beside scoring: take back, again, skip, could not be scored, a note.

use leptos::prelude::*;
use walk::{Command, TakenBack};

use super::head::words_of;
use super::keys::Keys;
use super::walker::Walker;

/// Why a tree cannot be scored, as one says it (common practice, no source).
const REASONS: [&str; 8] = [
    "leaves fallen",
    "cut out before it was seen",
    "cannot be reached",
    "dead",
    "nothing here",
    "two trees here",
    "no tag",
    "in doubt",
];

/// What unfolds above the keys.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Unfolded {
    Reasons,
    Note,
}

/// What the hand reaches: what was said last, the smaller keys, and below them the keys that score
/// or whatever unfolds in their place.
#[component]
pub fn Hand(walker: Walker) -> impl IntoView {
    let unfolded = RwSignal::new(None::<Unfolded>);
    view! {
        <div class="walk-hand">
            <p class="walk-last" role="status">{move || walker.last_said()}</p>
            <SideKeys walker unfolded />
            {move || match unfolded.get() {
                None => view! { <Keys walker /> }.into_any(),
                Some(Unfolded::Reasons) => view! { <Reasons walker unfolded /> }.into_any(),
                Some(Unfolded::Note) => view! { <NoteField walker unfolded /> }.into_any(),
            }}
            <p class="walk-hint">
                "On a keyboard: digits score, S skips, Backspace or Ctrl Z takes back, Ctrl Y brings again."
            </p>
        </div>
    }
}

#[component]
fn SideKeys(walker: Walker, unfolded: RwSignal<Option<Unfolded>>) -> impl IntoView {
    let toggle = move |one| move |_| unfolded.update(|it| *it = (*it != Some(one)).then_some(one));
    let is = move |one| move || (unfolded.get() == Some(one)).to_string();
    let say = move |command: Command| {
        unfolded.set(None);
        walker.say(command);
    };
    let undo = move |_| {
        if let Some(words) = walker.read_on(taken_back).flatten() {
            unfolded.set(None);
            walker.say_that(Command::Undo, format!("Taken back: {words}"));
        }
    };
    let redo = move |_| {
        unfolded.set(None);
        walker.say_that(Command::Redo, "Brought again".to_owned());
    };
    view! {
        <div class="walk-side">
            <button
                class="side-key"
                disabled=move || walker.read(|walk| walk.undo_takes_back().is_none()) == Some(true)
                aria-keyshortcuts="Backspace"
                on:click=undo
            >
                "Undo"
            </button>
            <button
                class="side-key"
                disabled=move || walker.read(|walk| !walk.can_redo()) == Some(true)
                on:click=redo
            >
                "Redo"
            </button>
            <button class="side-key" aria-keyshortcuts="s" on:click=move |_| say(Command::Skip)>"Skip"</button>
            <button class="side-key" aria-expanded=is(Unfolded::Reasons) on:click=toggle(Unfolded::Reasons)>
                "Can’t score"
            </button>
            <button class="side-key" aria-expanded=is(Unfolded::Note) on:click=toggle(Unfolded::Note)>
                "Note"
            </button>
        </div>
    }
}

#[component]
fn Reasons(walker: Walker, unfolded: RwSignal<Option<Unfolded>>) -> impl IntoView {
    let reason = move |reason: &'static str| {
        let say = move |_| {
            unfolded.set(None);
            let words = format!("could not be scored: {reason}");
            walker.say_of_tree(Command::CouldNot(reason.to_owned()), &words);
        };
        view! { <button class="side-key" on:click=say>{reason}</button> }
    };
    view! {
        <div class="walk-unfolded" role="group" aria-label="Why it cannot be scored">
            <p>"Neither clean nor sick: it stays without a score. Why?"</p>
            <div class="walk-reasons">{REASONS.map(reason)}</div>
        </div>
    }
}

#[component]
fn NoteField(walker: Walker, unfolded: RwSignal<Option<Unfolded>>) -> impl IntoView {
    let waiting = walker
        .read(|walk| walk.cursor().and_then(|at| walk.waiting_note(at.stop)).map(str::to_owned));
    let words = RwSignal::new(waiting.flatten().unwrap_or_default());
    let take = move || {
        walker.say_of_tree(Command::Note(words.get_untracked()), "noted, goes with its score");
        unfolded.set(None);
    };
    view! {
        <form
            class="walk-unfolded"
            on:submit=move |event| {
                event.prevent_default();
                take();
            }
        >
            <label class="field">
                <span>"Note, kept with this tree’s score"</span>
                <input type="text" autofocus prop:value=words on:input=move |event| words.set(event_target_value(&event)) />
            </label>
            <button class="side-key" type="submit">"Keep the note"</button>
        </form>
    }
}

/// What undo would take back, in few words.
fn taken_back(walk: &walk::Walk, plot: &plot::Plot) -> Option<String> {
    let name = |stop: usize| plot.tree(walk.route().stops[stop]).name();
    Some(match walk.undo_takes_back()? {
        TakenBack::Said(at, content) => {
            let asked = walk.setup().traits[at.slot];
            format!("{}: {}", name(at.stop), words_of(plot, asked, content))
        }
        TakenBack::Skip(at) => format!("skipping {}", name(at.stop)),
    })
}
