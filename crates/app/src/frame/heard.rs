//! What a screen reader hears wherever one is: that all is saved, that a disease is judged, that the
//! network went or came. Of a walk's many scores it is said once, when the hand rests.

use std::time::Duration;

use language::say;
use leptos::prelude::*;
use scene::words;

use crate::parts::Turn;
use crate::state::{App, Question, app};

/// How long nothing more must have been scored.
const REST: Duration = Duration::from_secs(2);

/// The words, seen by nobody.
#[component]
pub(super) fn Heard() -> impl IntoView {
    let app = app();
    let heard = RwSignal::new(String::new());
    follow_work(app, heard);
    follow_network(heard);
    view! { <p class="hidden-words" role="status">{heard}</p> }
}

/// The keeper and the judge. One effect for both: each of them costs the first visit a kilobyte.
fn follow_work(app: App, heard: RwSignal<String>) {
    let turn = Turn::default();
    Effect::new(move |before: Option<(Option<u64>, Option<Question>)>| {
        let (was_kept, was_judged) = before.unwrap_or_default();
        let kept = app.saving.with(|saving| saving.is_all_kept().then_some(saving.taken));
        let judged = app.judging.with(|it| it.as_ref().map(|it| it.question.clone()));
        if kept != was_kept {
            let nth = turn.next();
            // The next time it is said anew.
            heard.set(String::new());
            let say = move || {
                if turn.is_of(nth) {
                    heard.set(say!("All saved").to_owned());
                }
            };
            if kept.is_some_and(|taken| taken != 0) {
                set_timeout(say, REST);
            }
        }
        if let (Some(was), None) = (was_judged, &judged)
            && app.reports.with_untracked(|reports| reports.contains_key(&was))
        {
            let name = app.plot_now(|plot| words::disease(plot, &was.disease));
            heard.set(say!("Judged: {name}", name = name.unwrap_or_default()));
        }
        (kept, judged)
    });
}

fn follow_network(heard: RwSignal<String>) {
    let say = |event: &'static str, words: &'static str| {
        let listener = window_event_listener_untyped(event, move |_| heard.set(words.to_owned()));
        on_cleanup(move || listener.remove());
    };
    say("offline", say!("Offline. Plot and scores are on this machine; go on."));
    say("online", say!("Online again."));
}
