//! What a screen reader hears wherever one is: that all is saved, that a disease is judged, that the
//! network went or came. Of a walk's many scores it is said once, when the hand rests.

use std::time::Duration;

use leptos::prelude::*;
use scene::words;

use crate::parts::Turn;
use crate::state::{App, Judging, Saving, app};

/// How long nothing more must have been scored.
const REST: Duration = Duration::from_secs(2);

/// The words, seen by nobody.
#[component]
pub(super) fn Heard() -> impl IntoView {
    let app = app();
    let heard = RwSignal::new(String::new());
    follow_saving(app, heard);
    follow_judge(app, heard);
    follow_network(heard);
    view! { <p class="hidden-words" role="status">{heard}</p> }
}

fn follow_saving(app: App, heard: RwSignal<String>) {
    let turn = Turn::default();
    let saved = Memo::new(move |_| {
        app.saving.with(|saving| (saving.is_all_kept() && saving.taken != 0).then_some(saving.taken))
    });
    Effect::new(move || {
        let nth = turn.next();
        if saved.get().is_some() {
            let say = move || {
                if turn.is_of(nth) && app.saving.with_untracked(Saving::is_all_kept) {
                    heard.set("All saved".to_owned());
                }
            };
            set_timeout(say, REST);
        } else {
            // The next time it is said anew.
            heard.set(String::new());
        }
    });
}

fn follow_judge(app: App, heard: RwSignal<String>) {
    Effect::new(move |before: Option<Option<Judging>>| {
        let now = app.judging.get();
        if let (Some(Some(before)), None) = (before, &now) {
            let disease = &before.question.disease;
            let is_judged =
                app.reports.with_untracked(|reports| reports.contains_key(&before.question));
            let name = app.plot_now(|plot| words::disease(plot, disease));
            if let Some(name) = name.filter(|_| is_judged) {
                heard.set(format!("Judged: {name}"));
            }
        }
        now
    });
}

fn follow_network(heard: RwSignal<String>) {
    let say = |event: &'static str, words: &'static str| {
        let listener = window_event_listener_untyped(event, move |_| heard.set(words.to_owned()));
        on_cleanup(move || listener.remove());
    };
    say("offline", "Offline. Plot and scores are on this machine; go on.");
    say("online", "Online again.");
}
