//! Folder: where the plot lives, what is saved, and its faults.

mod bring_in;
mod decide;
mod in_step;
mod look;
mod other_phone;
mod safety;
mod save_as;
mod shelf;
mod writing;

use language::say;
use leptos::prelude::*;
use plot::Weight;

use crate::first::{NewPlot, OpenFolder, open_demo};
use crate::parts::{Languages, ProblemList, Progress, RefusedPlot};
use crate::route::Route;
use crate::state::app;
use bring_in::BringIn;
use in_step::InStep;
use look::Look;
use other_phone::OtherPhone;
use safety::Safety;
use save_as::SaveAs;
use shelf::Shelf;

/// The place of the plot's files.
#[component]
pub fn Folder() -> impl IntoView {
    let app = app();
    let title = move || {
        app.plot(|plot| plot.head().name.clone())
            .unwrap_or_else(|| say!("No plot is open").to_owned())
    };
    view! {
        <section class="folder">
            <h1>{say!("Folder")}</h1>
            <p class="folder-name">{title}</p>
            <Progress />
            <RefusedPlot />
            <Show when=move || app.is_open()>
                <Holds />
                <Safety />
                <SaveAs />
                <section aria-labelledby="folder-print">
                    <h2 id="folder-print">{say!("Print")}</h2>
                    <p>{say!("Field sheets, tags with a square code, the map, a report; and a copy for a colleague.")}</p>
                    <p><a class="button" href=Route::Print.address()>{say!("Print")}</a></p>
                </section>
                <BringIn />
                <OtherPhone />
                <InStep />
                <Faults />
            </Show>
            <section aria-labelledby="folder-other">
                <h2 id="folder-other">{say!("Another plot")}</h2>
                <p>{say!("The plot that is open now stays in this browser, with every score.")}</p>
                <OpenFolder />
                <div class="row">
                    <button class="button" on:click=move |_| open_demo(app)>{say!("Open the demo plot")}</button>
                    <Show when=move || app.is_open()>
                        <button class="button" on:click=move |_| app.close()>{say!("Close this plot")}</button>
                    </Show>
                </div>
                <details class="folder-new">
                    <summary>{say!("Start a new plot")}</summary>
                    <NewPlot />
                </details>
            </section>
            <Shelf />
            <Look />
            <Languages />
        </section>
    }
}

/// What the plot holds, in numbers.
#[component]
fn Holds() -> impl IntoView {
    let app = app();
    let facts = move || {
        app.plot(|plot| {
            [
                (say!("Trees and grafts"), plot.trees().len().to_string()),
                (say!("Scores"), plot.standing_scores().count().to_string()),
                (say!("Rounds"), plot.rounds(|_| true).len().to_string()),
                (say!("Traits"), traits_said(plot)),
            ]
        })
    };
    let fact = |(what, value): (&'static str, String)| view! { <dt>{what}</dt><dd>{value}</dd> };
    view! { <dl class="facts">{move || facts().map(|facts| facts.map(fact).collect_view())}</dl> }
}

fn traits_said(plot: &plot::Plot) -> String {
    let labels: Vec<&str> = plot.head().traits.iter().map(|one| one.label.as_str()).collect();
    labels.join(", ")
}

#[component]
fn Faults() -> impl IntoView {
    let app = app();
    let said = move || {
        app.problems.with(|problems| {
            let faults = problems.iter().filter(|one| one.weight == Weight::Fault).count();
            match (faults, problems.len() - faults) {
                (0, 0) => say!("No fault was found in the files.").to_owned(),
                (0, notices) => say!("No fault; {notices} worth a look."),
                (faults, _) => say!(
                    "{faults} lines or fields break a rule. They are not part of the plot, but \
                     stay in their files byte for byte, also in every copy."
                ),
            }
        })
    };
    view! {
        <section aria-labelledby="folder-faults">
            <h2 id="folder-faults">{say!("Faults")}</h2>
            <p>{said}</p>
            {move || {
                let problems = app.problems.get();
                (!problems.is_empty()).then(|| view! { <ProblemList problems /> })
            }}
        </section>
    }
}
