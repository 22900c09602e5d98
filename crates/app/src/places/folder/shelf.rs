//! Plots that this browser keeps beside the open one.

use language::say;
use leptos::prelude::*;

use crate::parts::Confirm;
use crate::route::Route;
use crate::state::{OnShelf, app};
use crate::work::clock;

/// The list of them.
#[component]
pub fn Shelf() -> impl IntoView {
    let app = app();
    let line = move |plot: OnShelf| {
        let (bring, forget) = (plot.id.clone(), plot.id);
        let (name, when) = (&plot.name, clock::said(plot.put_ms));
        let (since, warning) = match plot.outside.lacks {
            0 => (
                say!("kept since {when}"),
                say!(
                    "This takes \"{name}\" out of this browser for good. Open it and save a copy \
                     first if you may want it again."
                ),
            ),
            lacks => (
                say!("kept since {when}, {lacks} scores that no copy outside holds"),
                say!(
                    "This takes \"{name}\" out of this browser for good, {lacks} scores that no \
                     copy outside holds. Open it and save a copy first if you may want it again."
                ),
            ),
        };
        view! {
            <li>
                <span class="shelf-name">{plot.name}</span>
                <span class="shelf-since">{since}</span>
                <button class="button" on:click=move |_| {
                    app.bring(&bring);
                    Route::Map.go();
                }>{say!("Open")}</button>
                <Confirm what=say!("Forget") warning yes=say!("Forget it for good") then=move || app.forget(&forget) />
            </li>
        }
    };
    view! {
        <Show when=move || app.shelf.with(|shelf| !shelf.is_empty())>
            <section aria-labelledby="folder-shelf">
                <h2 id="folder-shelf">{say!("Also kept in this browser")}</h2>
                <ul class="shelf">{move || app.shelf.get().into_iter().map(line).collect_view()}</ul>
            </section>
        </Show>
    }
}
