//! Ways to hand in a plot folder: a folder, files, a zip, or a drop.

use language::say;
use leptos::prelude::*;
use leptos::task::spawn_local;
use wasm_bindgen::JsCast as _;
use web_sys::{DragEvent, Event, HtmlInputElement};

use crate::state::{App, Origin, app};
use crate::work::folders;
use crate::work::pick::{self, NotPicked, Picked};

/// Opens a plot folder that is handed in.
#[component]
pub fn OpenFolder() -> impl IntoView {
    let app = app();
    let take = move |picked| spawn_local(open(app, picked));
    view! { <HandIn take=Callback::new(take) /> }
}

/// Buttons and a drop area for a plot folder.
#[component]
pub fn HandIn(
    /// Gets what was handed in.
    take: Callback<Result<Picked, NotPicked>>,
) -> impl IntoView {
    let over = RwSignal::new(false);
    let by_picker = move |_| spawn_local(async move { take.run(pick::folder().await) });
    let by_input = move |event: Event| {
        let input: HtmlInputElement = event_target(&event);
        let Some(list) = input.files() else { return };
        spawn_local(async move {
            let picked = pick::of_list(&list).await;
            // So that choosing the same files again is a change, too.
            input.set_value("");
            take.run(picked);
        });
    };
    let on_drop = move |event: DragEvent| {
        event.prevent_default();
        over.set(false);
        let Some(transfer) = event.data_transfer() else { return };
        spawn_local(async move { take.run(pick::of_drop(&transfer).await) });
    };
    let folder = if folders::has_picker() {
        view! { <button class="button" on:click=by_picker>{say!("Choose the folder")}</button> }
            .into_any()
    } else {
        view! {
            <label class="button">
                {say!("Choose the folder")}
                <input type="file" prop:webkitdirectory=true multiple class="folder-input" on:change=by_input />
            </label>
        }
        .into_any()
    };
    view! {
        <div
            class="hand-in"
            class:over=over
            on:dragover=move |event: DragEvent| {
                event.prevent_default();
                over.set(true);
            }
            on:dragleave=move |_| over.set(false)
            on:drop=on_drop
        >
            {folder}
            <label class="button">
                {say!("Choose files or a zip")}
                <input type="file" multiple class="files-input" on:change=by_input />
            </label>
            <p class="hand-in-drop">{say!("Or drop a folder, its files or a zip here.")}</p>
        </div>
    }
}

async fn open(app: App, picked: Result<Picked, NotPicked>) {
    match picked {
        Ok(picked) => {
            let origin = Origin::Chosen(picked.name.clone());
            app.open(picked, origin).await;
        }
        Err(why) => app.not_picked(say!("what you chose"), why),
    }
}

fn event_target(event: &Event) -> HtmlInputElement {
    event.target().expect("an input's own event has a target").unchecked_into()
}
