//! What is saved, and how safely: this browser's storage, its promise, the last copy outside.

use language::{count, say};
use leptos::prelude::*;
use leptos::task::spawn_local;

use crate::state::{Saving, Standing, app};
use crate::work::{clock, room};

/// What is saved.
#[component]
pub fn Safety() -> impl IntoView {
    let app = app();
    let room = RwSignal::new(None::<room::Room>);
    let look = move || spawn_local(async move { room.set(room::look().await) });
    look();
    let was_refused = RwSignal::new(false);
    let ask = move |_| {
        spawn_local(async move {
            was_refused.set(!room::ask_to_keep().await);
            room.set(room::look().await);
        });
    };
    view! {
        <section aria-labelledby="folder-safety">
            <h2 id="folder-safety">{say!("What is saved")}</h2>
            <p class="saved">{move || app.saving.with(said)}</p>
            <p>{move || app.saving.with(outside_said)}</p>
            {move || {
                room.get().map(|room| view! {
                    <p>{room.said()}</p>
                    <Show when=move || !room.persistent>
                        <button class="button" on:click=ask>{say!("Ask the browser to keep it")}</button>
                    </Show>
                    <Show when=move || was_refused.get() && !room.persistent>
                        <p role="status">
                            {say!("The browser said no. It may say yes once Leeward is installed or \
                             bookmarked; until then a copy outside is what counts.")}
                        </p>
                    </Show>
                })
            }}
            <p class="hint">
                {say!("A browser may clear its storage, and an installed app may not see what a tab \
                 keeps: save a copy after each walk.")}
            </p>
        </section>
    }
}

fn said(saving: &Saving) -> String {
    let waiting = saving.taken - saving.kept;
    let now = match saving.standing {
        Standing::Starting => say!("Looking for storage …").to_owned(),
        Standing::ReadOnly => {
            say!("Another tab has this plot: this one only reads. Nothing can be scored here.")
                .to_owned()
        }
        Standing::Outdated => say!(
            "A newer version of Leeward has written what is kept here. This page left it as it is."
        )
        .to_owned(),
        Standing::Nowhere => say!(
            "This browser gives no storage: scores are lost when this tab is closed. Save a copy \
             before you leave."
        )
        .to_owned(),
        Standing::Writing if waiting == 0 => {
            say!("Everything is saved in this browser; each score is written as it is taken.")
                .to_owned()
        }
        Standing::Writing => say!("{waiting} scores are being written …"),
    };
    match saving.torn {
        0 => now,
        torn => {
            let torn = say!(
                "When this plot was read back, {torn} bytes at the end of its log were not whole \
                 and were left out: a score that was never shown as saved."
            );
            format!("{now} {torn}")
        }
    }
}

fn outside_said(saving: &Saving) -> String {
    let when = saving.outside.at_ms.map(clock::said);
    match (when, saving.outside.lacks) {
        (None, 0) => {
            say!("No copy outside of this browser was made yet; no score since it was opened.")
                .to_owned()
        }
        (None, lacks) => count!(
            lacks,
            "No copy outside of this browser was made yet; 1 score since it was opened.",
            "No copy outside of this browser was made yet; {lacks} scores since it was opened."
        ),
        (Some(when), 0) => say!("Last copy outside of this browser: {when}; no score since."),
        (Some(when), lacks) => count!(
            lacks,
            "Last copy outside of this browser: {when}; 1 score since.",
            "Last copy outside of this browser: {when}; {lacks} scores since."
        ),
    }
}
