//! How far something is that takes longer than a blink, with a way to stop it.

use language::say;
use leptos::prelude::*;
use scene::words;

use crate::state::app;

/// What is being opened.
#[component]
pub fn Progress() -> impl IntoView {
    let app = app();
    move || {
        app.busy.get().map(|busy| {
            let (done, of) = (busy.done as u64, busy.of as u64);
            view! { <Bar what=busy.what done of stop=move || app.stop_opening() /> }
        })
    }
}

/// What is being judged.
#[component]
pub fn JudgeProgress() -> impl IntoView {
    let app = app();
    move || {
        app.judging.get().map(|judging| {
            let disease = &judging.question.disease;
            let name = app.plot_now(|plot| words::disease(plot, disease)).unwrap_or_default();
            let what = say!("Judging {name}");
            let (done, of) = (judging.done, judging.of);
            view! { <Bar what done of stop=move || app.stop_judging() /> }
        })
    }
}

/// Models of vigour that are fitted.
#[component]
pub fn GrowingProgress() -> impl IntoView {
    let app = app();
    move || {
        app.growing_now.get().map(|now| {
            let what = say!("Fitting the trend of the field").to_owned();
            view! { <Bar what done=now.done of=now.of stop=move || app.stop_growing() /> }
        })
    }
}

/// A bar with words before it and a way to stop.
#[component]
pub fn Bar(
    /// What is being done.
    what: String,
    /// Pieces done.
    done: u64,
    /// Pieces in all; 0: not known.
    of: u64,
    /// What stops it.
    stop: impl Fn() + 'static,
) -> impl IntoView {
    let share = (of > 0).then(|| done as f64 / of as f64);
    view! {
        <div class="progress" role="status">
            <span>{what}</span>
            <progress max="1" value=share.map(|share| format!("{share:.3}"))></progress>
            <button class="button button-small" on:click=move |_| stop()>{say!("Stop")}</button>
        </div>
    }
}
