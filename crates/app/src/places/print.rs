//! Print: field sheets, tags, the map and a report, shown as they come out of the printer; and a
//! copy for a colleague.

mod choice;
mod colleague;
mod desk;
mod pages;
mod report;

use language::{count, say};
use leptos::prelude::*;

use crate::parts::{Bar, JudgeProgress};
use crate::state::app;
use choice::Choice;
use colleague::Colleague;
use desk::{Desk, Shown};
use pages::Pages;
use report::ReportOnPaper;

/// The place where a person prints.
#[component]
pub fn Print() -> impl IntoView {
    let app = app();
    let desk = Desk::new(app);
    let title = move || app.plot(|plot| plot.head().name.clone()).unwrap_or_default();
    view! {
        <section class="print">
            <div class="print-head">
                <h1>{say!("Print")}</h1>
                <p class="folder-name">{title}</p>
                <Choice desk />
                <JudgeProgress />
                <Toll desk />
                <Colleague desk />
            </div>
            {move || match desk.shown.get() {
                Some(Shown::Pages { pages, .. }) => view! { <Pages pages desk /> }.into_any(),
                Some(Shown::Report(document)) => view! { <ReportOnPaper document desk /> }.into_any(),
                _ => ().into_any(),
            }}
        </section>
    }
}

/// How many pages there are, what to mind, and the button; or why there are none.
#[component]
fn Toll(desk: desk::Desk) -> impl IntoView {
    let said = move || match desk.shown.get() {
        None => None,
        Some(Shown::Pages { pages, of }) if pages.len() < of => Some(say!(
            "The first {pages} of {of} pages are shown. Choose rows to print the others.",
            pages = pages.len()
        )),
        Some(Shown::Pages { of, .. }) => Some(count!(of, "1 page", "{pages} pages", pages = of)),
        Some(Shown::Report(_)) => {
            Some(say!("The report, on as many sheets as it needs.").to_owned())
        }
        Some(Shown::Cannot(_)) => None,
    };
    let cannot = move || match desk.shown.get() {
        Some(Shown::Cannot(why)) => Some(view! { <p class="fault" role="alert">{why}</p> }),
        _ => None,
    };
    let is_ready = move || {
        let is_there =
            desk.shown.with(|shown| matches!(shown, Some(Shown::Pages { .. } | Shown::Report(_))));
        is_there && !desk.is_busy.get() && desk.loading.get() == 0
    };
    let print = move |_| {
        let _ = window().print();
    };
    view! {
        {cannot}
        <Show when=move || desk.is_busy.get()>
            <Bar what=say!("Laying it out").to_owned() done=0 of=0 stop=move || desk.stop() />
        </Show>
        <p class="print-count" role="status">{said}</p>
        <div class="row">
            <button class="button button-first" disabled=move || !is_ready() on:click=print>{say!("Print")}</button>
        </div>
        <p class="hint">
            {say!("Print at 100 %, not fitted to the page, and hold a ruler against the printed one. For \
             a PDF choose it in the place of a printer.")}
        </p>
    }
}
