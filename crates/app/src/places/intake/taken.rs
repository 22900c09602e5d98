//! What was taken last, with the way back.

use language::say;
use leptos::prelude::*;
use plot::EditId;

use crate::parts::lean::{changing, said};
use crate::state::{App, Command};

/// What was taken.
#[derive(Clone, Debug, PartialEq)]
pub(in crate::places) struct Taken {
    edit: EditId,
    words: String,
    is_undone: bool,
}

impl Taken {
    /// The edit that was made last, in these words.
    pub(in crate::places) fn last(app: App, words: String) -> Option<Self> {
        let last = app.book_now(|book| book.edits().all().last().map(|edit| edit.id.clone()));
        last.flatten().map(|edit| Self { edit, words, is_undone: false })
    }
}

/// What was taken last, with its undo.
pub(in crate::places) fn taken(
    app: App,
    taken: RwSignal<Option<Taken>>,
    trouble: RwSignal<Option<String>>,
) -> AnyView {
    let turn_over = move || {
        let Some(it) = taken.get_untracked() else { return };
        match app.perform(Command::TurnOver(it.edit.clone())) {
            Ok(()) => {
                trouble.set(None);
                taken.set(Some(Taken { is_undone: !it.is_undone, ..it }));
            }
            Err(refusal) => trouble.set(Some(say!("Nothing was changed: {refusal}."))),
        }
    };
    changing(move || {
        let Some(Taken { words, is_undone, .. }) = taken.get() else { return ().into_any() };
        let (says, press) = match is_undone {
            false => (say!("Taken: {words}."), say!("Undo")),
            true => (say!("Taken back: {words}. The plot is as it was."), say!("Take it again")),
        };
        view! {
            <div class="bring-taken" role="status">
                {said("p", "", says)}
                <p class="row">
                    <button class="button" on:click=move |_| turn_over()>{press}</button>
                    <a class="button" href="#/map">{say!("See the map")}</a>
                </p>
            </div>
        }
        .into_any()
    })
}
