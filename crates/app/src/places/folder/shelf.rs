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
        let lacks = match plot.outside.lacks {
            0 => String::new(),
            lacks => say!(", {lacks} scores that no copy outside holds"),
        };
        let warning = say!(
            "This takes \"{name}\" out of this browser for good{lacks}. Open it and save a copy first \
             if you may want it again.",
            name = plot.name
        );
        view! {
            <li>
                <span class="shelf-name">{plot.name}</span>
                <span class="shelf-since">{say!("kept since {put_ms}{lacks}", put_ms = clock::said(plot.put_ms))}</span>
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
