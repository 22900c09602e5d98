//! What a person must know wherever they are: trouble, a tab that only reads, faults in files.

use leptos::prelude::*;
use plot::Weight;

use crate::route::Route;
use crate::state::{Saving, Standing, app};

/// Above every place.
#[component]
pub fn Notices() -> impl IntoView {
    let app = app();
    let seen = RwSignal::new(0_usize);
    let faults = Memo::new(move |_| {
        app.problems.with(|problems| {
            problems.iter().filter(|problem| problem.weight == Weight::Fault).count()
        })
    });
    let standing = Memo::new(move |_| app.saving.with(|saving| saving.standing));
    let trouble = move || app.saving.with(|saving| saving.trouble.clone());
    view! {
        <div class="notices" aria-live="polite">
            {move || {
                app.trouble.get().map(|what| view! {
                    <p class="notice-bar notice-bad" role="alert">
                        <span>{what}</span>
                        <button class="button button-small" on:click=move |_| app.trouble.set(None)>
                            "Put away"
                        </button>
                    </p>
                })
            }}
            {move || {
                trouble().map(|what| view! {
                    <p class="notice-bar notice-bad" role="alert">
                        <span>
                            {what}
                            " The scores are still in this tab: save a copy in Folder before you \
                             close it."
                        </span>
                        <a class="button button-small" href=Route::Folder.address()>"Folder"</a>
                    </p>
                })
            }}
            <NewerVersion />
            <Show when=move || standing.get() == Standing::ReadOnly>
                <p class="notice-bar">
                    <span>"Open in another tab. This one only reads, so that no score is lost."</span>
                    <button class="button button-small" on:click=move |_| app.take_over()>
                        "Score in this tab"
                    </button>
                </p>
            </Show>
            <Show when=move || standing.get() == Standing::Nowhere>
                <p class="notice-bar notice-bad">
                    <span>
                        "This browser gives no storage here: scores do not survive this tab. Save \
                         a copy in Folder before you leave."
                    </span>
                </p>
            </Show>
            <Show when=move || faults.get() != 0 && faults.get() != seen.get()>
                <p class="notice-bar notice-faults">
                    <span>
                        {move || match faults.get() {
                            1 => "One line or field of the files breaks a rule; the rest is open.".to_owned(),
                            more => format!("{more} lines or fields of the files break a rule; the rest is open."),
                        }}
                    </span>
                    <a class="button button-small" href=Route::Folder.address()
                        on:click=move |_| seen.set(faults.get_untracked())>"See them"</a>
                </p>
            </Show>
        </div>
    }
}

/// A newer version of the page waits; it is taken on a tap, once every score is on disk.
#[component]
fn NewerVersion() -> impl IntoView {
    let app = app();
    let waits = RwSignal::new(false);
    window_event_listener_untyped("leeward-newer-version", move |_| waits.set(true));
    let is_kept = move || app.saving.with(Saving::is_all_kept);
    let take = move |_| {
        if let Ok(event) = web_sys::Event::new("leeward-take-newer-version") {
            let _ = window().dispatch_event(&event);
        }
    };
    view! {
        <Show when=move || waits.get()>
            <p class="notice-bar">
                <span>"A newer version of Leeward is here. It opens where you are now."</span>
                <button class="button button-small" disabled=move || !is_kept() on:click=take>
                    "Take it"
                </button>
            </p>
        </Show>
    }
}
