//! Where a list comes from: a file, or a paste.

use files::list::Source;
use js_sys::Uint8Array;
use leptos::html;
use leptos::prelude::*;
use leptos::task::spawn_local;
use wasm_bindgen::JsCast as _;
use wasm_bindgen_futures::JsFuture;
use web_sys::{DragEvent, Event, File, HtmlInputElement};

use super::state::Bring;

/// Most bytes of a file (64 MiB).
const MOST_BYTES: f64 = 67_108_864.0;

/// A button for a file, and a field to paste into.
pub(super) fn source(bring: Bring) -> AnyView {
    let area = NodeRef::<html::Textarea>::new();
    let by_input = move |event: Event| {
        let target = event.target().expect("an input's own event has a target");
        let input: HtmlInputElement = target.unchecked_into();
        if let Some(file) = input.files().and_then(|files| files.get(0)) {
            spawn_local(open(bring, file));
        }
        // So that choosing the same file again is a change, too.
        input.set_value("");
    };
    let by_drop = move |event: DragEvent| {
        event.prevent_default();
        let files = event.data_transfer().and_then(|transfer| transfer.files());
        if let Some(file) = files.and_then(|files| files.get(0)) {
            spawn_local(open(bring, file));
        }
    };
    let by_paste = move |_| {
        let Some(area) = area.get_untracked() else { return };
        let text = area.value();
        if text.trim().is_empty() {
            bring.trouble.set(Some("There is nothing in the field yet.".to_owned()));
            return;
        }
        bring.forget_workbook();
        bring.read("pasted list", Source::Pasted(text));
        area.set_value("");
    };
    view! {
        <div class="bring-source" on:dragover=move |event: DragEvent| event.prevent_default() on:drop=by_drop>
            <p class="row">
                <label class="button">
                    "Choose a file"
                    <input type="file" class="list-input" accept=ACCEPTED on:change=by_input />
                </label>
                <span class="hint">"CSV, text, or a workbook (xlsx, ods). It stays on this machine."</span>
            </p>
            <label class="field">
                <span>"Or paste a table"</span>
                <textarea rows="4" node_ref=area autocomplete="off" spellcheck="false"></textarea>
            </label>
            <button class="button" on:click=by_paste>"Look at what was pasted"</button>
        </div>
    }
    .into_any()
}

const ACCEPTED: &str =
    ".csv,.tsv,.txt,.xlsx,.xlsm,.ods,.xls,text/csv,text/plain,text/tab-separated-values";

async fn open(bring: Bring, file: File) {
    let name = file.name();
    if file.size() > MOST_BYTES {
        let words =
            format!("{name}: found {:.0} MiB; expected at most 64 MiB.", file.size() / 1_048_576.0);
        bring.trouble.set(Some(words));
        return;
    }
    let buffer = JsFuture::from(file.array_buffer()).await;
    if !bring.is_alive() {
        return;
    }
    let Ok(buffer) = buffer else {
        bring.trouble.set(Some(format!("{name} could not be read. Nothing was changed.")));
        return;
    };
    let bytes = Uint8Array::new(&buffer).to_vec();
    if bytes.starts_with(b"PK\x03\x04") || bytes.starts_with(b"\xd0\xcf\x11\xe0") {
        bring.open_workbook(name, bytes);
    } else {
        bring.forget_workbook();
        bring.read(&name, Source::Bytes(bytes));
    }
}
