//! Facts of the tree itself: it is dead, it has no tag. They are no scores and cannot be mistaken
//! for one; a note goes with the next score.

use language::{say, text};
use leptos::prelude::*;
use plot::{Status, TreeCell};
use walk::{Command, Fact};

use super::photo::PhotoKey;
use super::side::Unfolded;
use super::walker::Walker;

/// What can be told of a tree, and what is said of it then.
const FACTS: [(Fact, &str, &str); 4] = [
    (Fact::Dead, text!("dead"), text!("dead; nothing more is asked of it")),
    (Fact::NothingHere, text!("nothing here"), text!("nothing stands here; nothing more is asked")),
    (Fact::TwoTrees, text!("two trees here"), text!("two trees here, noted at the tree")),
    (Fact::NoTag, text!("no tag"), text!("no tag, noted at the tree")),
];

/// The facts, and the note.
#[component]
pub fn Facts(walker: Walker, unfolded: RwSignal<Option<Unfolded>>) -> impl IntoView {
    let fact = move |(fact, words, said): (Fact, &'static str, &'static str)| {
        let tell = move |_| {
            unfolded.set(None);
            walker.say_of_tree(Command::Tell(fact), language::said(said));
        };
        view! { <button class="side-key" on:click=tell>{language::said(words)}</button> }
    };
    let noted = move || walker.read_on(note_of_tree).flatten();
    let waiting = walker
        .read(|walk| walk.cursor().and_then(|at| walk.waiting_note(at.stop)).map(str::to_owned));
    let words = RwSignal::new(waiting.flatten().unwrap_or_default());
    let take = move || {
        walker
            .say_of_tree(Command::Note(words.get_untracked()), say!("noted, goes with its score"));
        unfolded.set(None);
    };
    view! {
        <div class="walk-unfolded" role="group" aria-label=say!("Facts of the tree")>
            <p>{say!("Facts of the tree, no score:")}</p>
            <div class="walk-reasons">{FACTS.map(fact)}</div>
            <PhotoKey walker unfolded />
            {move || noted().map(|note| view! { <p class="walk-noted">{say!("Noted at the tree: {note}")}</p> })}
            <form
                class="walk-typed"
                on:submit=move |event| {
                    event.prevent_default();
                    take();
                }
            >
                <label class="field">
                    <span>{say!("Note, kept with this tree’s score")}</span>
                    <input type="text" prop:value=words on:input=move |event| words.set(event_target_value(&event)) />
                </label>
                <button class="side-key" type="submit">{say!("Keep the note")}</button>
            </form>
        </div>
    }
}

/// In place of the keys where a tree was found dead or its place empty.
#[component]
pub fn Gone(walker: Walker) -> impl IntoView {
    let said = move || {
        let status = walker.read_on(|walk, plot| Some(plot.tree(walk.tree()?).status())).flatten();
        match status {
            Some(Status::Empty) => say!("Nothing stands here, as was told: nothing is scored."),
            _ => say!("Dead, as was told: nothing is scored here any more."),
        }
    };
    let stands =
        move |_| walker.say_of_tree(Command::Tell(Fact::Stands), say!("it stands after all"));
    view! {
        <div class="walk-unfolded" role="group" aria-label=say!("Facts of the tree")>
            <p>{said}</p>
            <div class="walk-reasons">
                <button class="side-key" on:click=stands>{say!("It stands after all")}</button>
                <button class="side-key" on:click=move |_| { walker.say(Command::Skip); }>{say!("On to the next")}</button>
            </div>
        </div>
    }
}

fn note_of_tree(walk: &walk::Walk, plot: &plot::Plot) -> Option<String> {
    let note = plot.cell_of(walk.tree()?, TreeCell::Note);
    (!note.is_empty()).then(|| note.to_owned())
}
