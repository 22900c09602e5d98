//! The first page: three ways to a plot.

mod new_plot;
mod open_folder;

use language::say;
use leptos::prelude::*;
use leptos::task::spawn_local;

use crate::parts::{Languages, Progress, RefusedPlot};
use crate::state::{App, Origin, Standing, app};
use crate::work::pick;
pub use new_plot::NewPlot;
pub use open_folder::{HandIn, OpenFolder};

/// Which of the three was taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Way {
    Folder,
    New,
}

/// Shown while no plot is open.
#[component]
pub fn FirstPage() -> impl IntoView {
    let app = app();
    let way = RwSignal::new(None::<Way>);
    let toggle =
        move |one: Way| move |_| way.update(|way| *way = (*way != Some(one)).then_some(one));
    let is = move |one: Way| move || (way.get() == Some(one)).to_string();
    let is_starting = move || app.saving.with(|saving| saving.standing == Standing::Starting);
    view! {
        <section class="first">
            <h1>"Leeward"</h1>
            <p class="lead">
                {say!("Where each seedling stands, what was scored on it, and whether a clean one was \
                 proven or only lucky.")}
            </p>
            <Show
                when=move || !is_starting()
                fallback=|| view! { <p class="first-starting">{say!("Looking for what this browser keeps …")}</p> }
            >
                <div class="ways">
                    <button class="way" on:click=move |_| open_demo(app)>
                        <span class="way-name">{say!("Open the demo plot")}</span>
                        <span class="way-what">{say!("An invented orchard, to try everything on.")}</span>
                    </button>
                    <button class="way" aria-expanded=is(Way::Folder) on:click=toggle(Way::Folder)>
                        <span class="way-name">{say!("Open a plot folder")}</span>
                        <span class="way-what">{say!("plot.json, trees.csv and scores.csv, or a zip of them.")}</span>
                    </button>
                    <Show when=move || way.get() == Some(Way::Folder)>
                        <OpenFolder />
                    </Show>
                    <button class="way" aria-expanded=is(Way::New) on:click=toggle(Way::New)>
                        <span class="way-name">{say!("Start a new plot")}</span>
                        <span class="way-what">{say!("Rows, places and crosses give a tree for every place.")}</span>
                    </button>
                    <Show when=move || way.get() == Some(Way::New)>
                        <NewPlot />
                    </Show>
                </div>
            </Show>
            <Progress />
            <RefusedPlot />
            <p class="first-note">
                {say!("Everything stays on this machine. No request leaves it after the page is loaded. ")}
                <a href="guide.html" hreflang="en">{say!("Guide")}</a>
            </p>
            <Languages />
        </section>
    }
}

/// Fetches and opens the demo plot.
pub fn open_demo(app: App) {
    spawn_local(async move {
        match pick::fetched("demo-plot.zip", &app.demo_address()).await {
            Ok(picked) => app.open(picked, Origin::Demo).await,
            Err(why) => app.not_picked(say!("the demo plot"), why),
        }
    });
}
