//! What a person must know wherever they are: trouble, a tab that only reads, faults in files.

use language::{count, say};
use leptos::prelude::*;
use plot::Weight;

use crate::route::Route;
use crate::state::{App, Saving, Standing, app};

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
    view! {
        <div class="notices">
            {move || {
                app.trouble.get().map(|what| view! {
                    <p class="notice-bar notice-bad" role="alert">
                        <span>{what}</span>
                        <button class="button button-small" on:click=move |_| app.trouble.set(None)>
                            {say!("Put away")}
                        </button>
                    </p>
                })
            }}
            <NotKept />
            <Outdated />
            <div aria-live="polite">
                <NewerVersion />
                <OtherTab />
                <Show when=move || faults.get() != 0 && faults.get() != seen.get()>
                    <p class="notice-bar notice-faults">
                        <span>
                            {move || count!(
                                faults.get(),
                                "One line or field of the files breaks a rule; the rest is open.",
                                "{faults} lines or fields of the files break a rule; the rest is open.",
                                faults = faults.get()
                            )}
                        </span>
                        <a class="button button-small" href=Route::Folder.address()
                            on:click=move |_| seen.set(faults.get_untracked())>{say!("See them")}</a>
                    </p>
                </Show>
            </div>
        </div>
    }
}

/// Scores that no storage holds.
#[component]
fn NotKept() -> impl IntoView {
    let app = app();
    let what = Memo::new(move |_| {
        app.saving.with(|saving| {
            let why = saving.trouble.clone().unwrap_or_default();
            let is_lost = saving.standing == Standing::Nowhere && !saving.can_try_again;
            let rest = match (is_lost, why.is_empty()) {
                (true, _) => say!(
                    "This browser gives no storage here: scores do not survive this tab. Save a \
                     copy in Folder before you leave."
                ),
                (false, false) => say!(
                    "The scores are still in this tab: save a copy in Folder before you close it."
                ),
                (false, true) => return None,
            };
            Some(format!("{why} {rest}"))
        })
    });
    let again = move || app.saving.with(|saving| saving.can_try_again && saving.trouble.is_some());
    move || {
        what.get().map(|what| {
            view! {
                <p class="notice-bar notice-bad" role="alert">
                    <span>{what}</span>
                    <Show when=again>
                        <button class="button button-small" on:click=move |_| app.try_again()>
                            {say!("Try again")}
                        </button>
                    </Show>
                    <a class="button button-small" href=Route::Folder.address()>{say!("Folder")}</a>
                </p>
            }
        })
    }
}

/// Another tab has what is kept.
#[component]
fn OtherTab() -> impl IntoView {
    let app = app();
    let standing = standing(app);
    let sleeps = Memo::new(move |_| app.saving.with(|saving| saving.writer_sleeps));
    let who = move || match sleeps.get() {
        false => say!("Open in another tab. This one only reads, so that no score is lost."),
        true => say!(
            "Open in another tab that does not answer: it may be asleep. Go to that tab, or close \
             it; this one then goes on by itself. Until then it only reads."
        ),
    };
    view! {
        <Show when=move || standing.get() == Standing::ReadOnly>
            <p class="notice-bar">
                <span>{who}</span>
                <Show when=move || !sleeps.get()>
                    <button class="button button-small" on:click=move |_| app.take_over()>
                        {say!("Score in this tab")}
                    </button>
                </Show>
            </p>
        </Show>
    }
}

fn standing(app: App) -> Memo<Standing> {
    Memo::new(move |_| app.saving.with(|saving| saving.standing))
}

/// A newer version has what is kept.
#[component]
fn Outdated() -> impl IntoView {
    let standing = standing(app());
    view! {
        <Show when=move || standing.get() == Standing::Outdated>
            <p class="notice-bar notice-bad" role="alert">
                <span>
                    {say!("A newer version of Leeward has written what is kept here. This page is older \
                     and left it as it is, with every score.")}
                </span>
                <button class="button button-small" on:click=take_newer_version>
                    {say!("Take the newer version")}
                </button>
            </p>
        </Show>
    }
}

fn take_newer_version(_: leptos::ev::MouseEvent) {
    if let Ok(event) = web_sys::Event::new("leeward-take-newer-version") {
        let _ = window().dispatch_event(&event);
    }
}

/// A newer version of the page waits; it is taken on a tap, once every score is on disk.
#[component]
fn NewerVersion() -> impl IntoView {
    let app = app();
    let waits = RwSignal::new(false);
    window_event_listener_untyped("leeward-newer-version", move |_| waits.set(true));
    let is_kept = move || app.saving.with(Saving::is_all_kept);
    view! {
        <Show when=move || waits.get()>
            <p class="notice-bar">
                <span>{say!("A newer version of Leeward is here. It opens where you are now.")}</span>
                <button class="button button-small" disabled=move || !is_kept() on:click=take_newer_version>
                    {say!("Take it")}
                </button>
            </p>
        </Show>
    }
}
