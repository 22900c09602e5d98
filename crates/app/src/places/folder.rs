//! Folder: where the plot lives, what is saved, and its faults.

mod bring_in;
mod decide;
mod in_step;
mod look;
mod other_phone;
mod safety;
mod shelf;

use files::{Book, FileSet};
use leptos::prelude::*;
use leptos::task::spawn_local;
use plot::Weight;

use crate::first::{NewPlot, OpenFolder, open_demo};
use crate::parts::{ProblemList, Progress, RefusedPlot};
use crate::state::{App, app};
use crate::work::{clock, folders, pick, save};
use bring_in::BringIn;
use in_step::InStep;
use look::Look;
use other_phone::OtherPhone;
use safety::Safety;
use shelf::Shelf;

/// The place of the plot's files.
#[component]
pub fn Folder() -> impl IntoView {
    let app = app();
    let title = move || {
        app.plot(|plot| plot.head().name.clone()).unwrap_or_else(|| "No plot is open".to_owned())
    };
    view! {
        <section class="folder">
            <h1>"Folder"</h1>
            <p class="folder-name">{title}</p>
            <Progress />
            <RefusedPlot />
            <Show when=move || app.is_open()>
                <Holds />
                <Safety />
                <SaveCopy />
                <BringIn />
                <OtherPhone />
                <InStep />
                <Faults />
            </Show>
            <section aria-labelledby="folder-other">
                <h2 id="folder-other">"Another plot"</h2>
                <p>"The plot that is open now stays in this browser, with every score."</p>
                <OpenFolder />
                <div class="row">
                    <button class="button" on:click=move |_| open_demo(app)>"Open the demo plot"</button>
                    <Show when=move || app.is_open()>
                        <button class="button" on:click=move |_| app.close()>"Close this plot"</button>
                    </Show>
                </div>
                <details class="folder-new">
                    <summary>"Start a new plot"</summary>
                    <NewPlot />
                </details>
            </section>
            <Shelf />
            <Look />
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
                ("Trees and grafts", plot.trees().len().to_string()),
                ("Scores", plot.standing_scores().count().to_string()),
                ("Rounds", plot.rounds(|_| true).len().to_string()),
                ("Traits", traits_said(plot)),
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
fn SaveCopy() -> impl IntoView {
    let app = app();
    view! {
        <section aria-labelledby="folder-save">
            <h2 id="folder-save">"Save a copy"</h2>
            <p>"The whole plot folder as plain files, old lines byte for byte, new scores at the end."</p>
            <div class="row">
                <button class="button button-first" on:click=move |_| save_zip(app)>"Save as a zip"</button>
                {folders::has_picker().then(|| view! {
                    <button class="button" on:click=move |_| save_files(app)>"Save as files"</button>
                })}
            </div>
        </section>
    }
}

fn save_zip(app: App) {
    let Some((name, files)) = copy(app) else { return };
    let saved = save::download(&format!("{name}.zip"), &files::pack(&files, &name));
    told(app, saved);
}

fn save_files(app: App) {
    let Some((name, files)) = copy(app) else { return };
    spawn_local(async move { told(app, save::into_folder(&name, &files).await) });
}

fn told(app: App, saved: Result<(), wasm_bindgen::JsValue>) {
    match saved.map_err(pick::NotPicked::from) {
        Ok(()) => app.copied(),
        Err(pick::NotPicked::Nothing) => {}
        Err(pick::NotPicked::Unusable(problem)) => app.trouble.set(Some(format!(
            "The copy was not saved: {}. Every score is still in this browser.",
            problem.found
        ))),
    }
}

/// The open plot's files, and a name for them with today's date.
fn copy(app: App) -> Option<(String, FileSet)> {
    app.book_now(|book: &Book| {
        let plain: String = book
            .plot()
            .head()
            .name
            .to_lowercase()
            .split(|letter: char| !letter.is_alphanumeric())
            .filter(|word| !word.is_empty())
            .collect::<Vec<_>>()
            .join("-");
        let name = if plain.is_empty() { "plot".to_owned() } else { plain };
        (format!("{name}-{}", clock::now().date()), book.to_files())
    })
}

#[component]
fn Faults() -> impl IntoView {
    let app = app();
    let said = move || {
        app.problems.with(|problems| {
            let faults = problems.iter().filter(|one| one.weight == Weight::Fault).count();
            match (faults, problems.len() - faults) {
                (0, 0) => "No fault was found in the files.".to_owned(),
                (0, notices) => format!("No fault; {notices} worth a look."),
                (faults, _) => format!(
                    "{faults} lines or fields break a rule. They are not part of the plot, but \
                     stay in their files byte for byte, also in every copy."
                ),
            }
        })
    };
    view! {
        <section aria-labelledby="folder-faults">
            <h2 id="folder-faults">"Faults"</h2>
            <p>{said}</p>
            {move || {
                let problems = app.problems.get();
                (!problems.is_empty()).then(|| view! { <ProblemList problems /> })
            }}
        </section>
    }
}
