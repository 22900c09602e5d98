//! Copies of the open plot: as a zip or files, and in the formats of other programs.

use language::{count, say};
use leptos::prelude::*;
use leptos::task::spawn_local;
use scene::words;
use writer::{Format, Written};

use super::writing::{Told, Writing};
use crate::parts::{Bar, ProblemList, file_name};
use crate::state::{App, app};
use crate::work::pick::NotPicked;
use crate::work::{folders, save};

/// A format of other programs: its name, what it is good for, and its button.
type Offer = (Format, &'static str, &'static str, &'static str);

fn formats() -> [Offer; 5] {
    [
        (
            Format::Csv,
            say!("Table for spreadsheets"),
            say!(
                "A line for each tree, a column for each trait and round. What is edited in it \
                 about the trees can be brought back in as a list."
            ),
            say!("Save as CSV"),
        ),
        (
            Format::Xlsx,
            say!("Workbook"),
            say!("A sheet for each table of the folder. A large plot takes some seconds."),
            say!("Save as xlsx"),
        ),
        (
            Format::Geojson,
            say!("Points on earth"),
            say!(
                "Each tree with its latest scores, for any program that shows maps. The plot has \
                 to say where it lies."
            ),
            say!("Save as GeoJSON"),
        ),
        (
            Format::Brapi,
            say!("Breeding data"),
            say!(
                "Observation units, variables and observations of BrAPI 2.1: JSON files in a zip."
            ),
            say!("Save as BrAPI"),
        ),
        (
            Format::DataPackage,
            say!("Data Package"),
            say!(
                "The folder's tables in a zip, with a description of every column. It opens here \
                 as a plot, too."
            ),
            say!("Save as a Data Package"),
        ),
    ]
}

/// What a person can save, and what came of it.
#[component]
pub fn SaveAs() -> impl IntoView {
    let app = app();
    let writing = Writing::new(app);
    let is_busy = move || writing.now.get().is_some();
    let line = |(format, head, hint, press): Offer| {
        view! {
            <li>
                <div><strong>{language::said(head)}</strong><p class="hint">{language::said(hint)}</p></div>
                <button class="button" disabled=is_busy on:click=move |_| writing.begin(format)>{language::said(press)}</button>
            </li>
        }
    };
    view! {
        <section aria-labelledby="folder-save">
            <h2 id="folder-save">{say!("Save a copy")}</h2>
            <p>{say!("The whole plot folder as plain files, old lines byte for byte, new scores at the end.")}</p>
            <div class="row">
                <button class="button button-first" disabled=is_busy on:click=move |_| writing.begin(Format::Zip)>
                    {say!("Save as a zip")}
                </button>
                {folders::has_picker().then(|| view! {
                    <button class="button" on:click=move |_| save_files(app)>{say!("Save as files")}</button>
                })}
            </div>
            <h3>{say!("For other programs")}</h3>
            <ul class="formats">{formats().map(line).collect_view()}</ul>
            <Outcome writing />
        </section>
    }
}

/// How far it is, and what was saved or why nothing was.
#[component]
fn Outcome(writing: Writing) -> impl IntoView {
    move || {
        if writing.now.get().is_some() {
            let what = say!("Writing the file").to_owned();
            return view! { <Bar what done=0 of=0 stop=move || writing.end() /> }.into_any();
        }
        match writing.told.get() {
            None => ().into_any(),
            Some(Told::Saved(written)) => {
                view! { <p class="saved" role="status">{said(&written)}</p> }.into_any()
            }
            Some(Told::Failed(why)) => {
                let said = say!("Nothing was saved: {why}. Every score is still in this browser.");
                view! { <p class="fault" role="status">{said}</p> }.into_any()
            }
            Some(Told::Refused(problems)) => view! {
                <div class="refused" role="status">
                    <p>
                        {say!("This format cannot hold the plot as it is; nothing was saved. The zip holds \
                         everything, faults too.")}
                    </p>
                    <ProblemList problems />
                </div>
            }
            .into_any(),
        }
    }
}

/// `withy-2031.csv: 12 trees. 1 score left out: …`.
fn said(written: &Written) -> String {
    let Written { name, trees, .. } = written;
    let mut said = match *trees {
        0 => say!("Saved as {name}."),
        trees => count!(trees, "Saved as {name}: 1 tree.", "Saved as {name}: {trees} trees."),
    };
    if let Some(left_out) = words::left_out_of_table(written.left_out) {
        said.push_str(&format!(" {left_out}."));
    }
    said
}

fn save_files(app: App) {
    let name = file_name(app);
    let Some(files) = app.book_now(files::Book::to_files) else { return };
    spawn_local(async move {
        match save::into_folder(&name, &files).await.map_err(NotPicked::from) {
            Ok(()) => app.copied(),
            Err(NotPicked::Nothing) => {}
            Err(NotPicked::Unusable(problem)) => app.trouble.set(Some(say!(
                "The copy was not saved: {why}. Every score is still in this browser.",
                why = problem.found
            ))),
        }
    });
}
