//! What the hand reaches beside scoring: take back, again, skip, could not be scored, the tree.

use language::say;
use leptos::prelude::*;
use plot::{Plot, TreeCell};
use walk::{Command, TakenBack};

use super::asked::TraitKeys;
use super::facts::{Facts, Gone};
use super::head::words_of;
use super::keys::Keys;
use super::reasons::Reasons;
use super::walker::Walker;

/// What unfolds in place of the keys.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unfolded {
    /// Why it cannot be scored.
    Reasons,
    /// What is to be said of the tree itself.
    Facts,
}

/// What the hand reaches: what was said last, the smaller keys, and below them the keys that score
/// or whatever unfolds in their place.
#[component]
pub fn Hand(walker: Walker) -> impl IntoView {
    let unfolded = RwSignal::new(None::<Unfolded>);
    let is_gone = Memo::new(move |_| {
        let gone = walker.read(|walk| walk.cursor().is_some_and(|at| walk.is_gone(at.stop)));
        gone == Some(true)
    });
    view! {
        <div class="walk-hand">
            <p class="walk-last" role="status">{move || walker.last_said()}</p>
            <SideKeys walker unfolded />
            {move || match (is_gone.get(), unfolded.get()) {
                (true, _) => view! { <Gone walker /> }.into_any(),
                (false, None) => view! { <TraitKeys walker /> <Keys walker /> }.into_any(),
                (false, Some(Unfolded::Reasons)) => view! { <Reasons walker unfolded /> }.into_any(),
                (false, Some(Unfolded::Facts)) => view! { <Facts walker unfolded /> }.into_any(),
            }}
            <p class="walk-hint">
                {say!("On a keyboard: digits score, S skips, Backspace or Ctrl Z takes back, Ctrl Y brings again.")}
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
        unfolded.set(None);
        walker.undo();
    };
    let redo = move |_| {
        unfolded.set(None);
        walker.redo();
    };
    view! {
        <div class="walk-side">
            <button
                class="side-key"
                disabled=move || walker.read(|walk| walk.undo_takes_back().is_none()) == Some(true)
                aria-keyshortcuts="Backspace"
                on:click=undo
            >
                {say!("Undo")}
            </button>
            <button
                class="side-key"
                disabled=move || walker.read(|walk| !walk.can_redo()) == Some(true)
                on:click=redo
            >
                {say!("Redo")}
            </button>
            <button class="side-key" aria-keyshortcuts="s" on:click=move |_| say(Command::Skip)>{say!("Skip")}</button>
            <button class="side-key" aria-expanded=is(Unfolded::Reasons) on:click=toggle(Unfolded::Reasons)>
                {say!("Can’t score")}
            </button>
            <button class="side-key" aria-expanded=is(Unfolded::Facts) on:click=toggle(Unfolded::Facts)>
                {say!("Tree, note")}
            </button>
        </div>
    }
}

/// What undo would take back, in few words.
pub fn taken_back(walk: &walk::Walk, plot: &Plot) -> Option<String> {
    let name = |stop: usize| plot.tree(walk.route().stops[stop]).name();
    Some(match walk.undo_takes_back()? {
        TakenBack::Said(at, content) => {
            let asked = walk.setup().traits[at.slot];
            format!("{}: {}", name(at.stop), words_of(plot, asked, content))
        }
        TakenBack::Told(stop, TreeCell::Status, "") => {
            say!("{tree}: that it stands", tree = name(stop))
        }
        TakenBack::Told(stop, TreeCell::Status, word) => {
            let word = match word {
                "empty" => say!("nothing here"),
                "dead" => say!("dead"),
                other => other,
            };
            format!("{}: {word}", name(stop))
        }
        TakenBack::Told(stop, TreeCell::Note, _) => {
            say!("{tree}: the last word of its note", tree = name(stop))
        }
        TakenBack::Skip(at) => say!("skipping {tree}", tree = name(at.stop)),
    })
}
