//! Where it comes from: a file, or a paste.

use js_sys::Uint8Array;
use language::{said, say};
use leptos::html;
use leptos::prelude::*;
use leptos::task::spawn_local;
use wasm_bindgen::JsCast as _;
use wasm_bindgen_futures::JsFuture;
use web_sys::{DragEvent, Event, File, HtmlInputElement};

/// Most bytes of a file (64 MiB).
const MOST_BYTES: f64 = 67_108_864.0;

/// What is said of it.
#[derive(Clone, Copy)]
pub(in crate::places) struct Words {
    /// Endings and types of files.
    pub(in crate::places) accept: &'static str,
    /// What files there may be.
    pub(in crate::places) files: &'static str,
    /// Over the field to paste into.
    pub(in crate::places) paste: &'static str,
    /// On the button that takes what was pasted.
    pub(in crate::places) look: &'static str,
}

/// What was handed in.
pub(in crate::places) enum HandedIn {
    /// A file: its name and its bytes.
    File(String, Vec<u8>),
    /// Text that was pasted.
    Paste(String),
}

/// A button for a file, and a field to paste into; `trouble` says what could not be read.
pub(in crate::places) fn source(
    words: Words,
    trouble: RwSignal<Option<String>>,
    take: Callback<HandedIn>,
) -> AnyView {
    let area = NodeRef::<html::Textarea>::new();
    let by_input = move |event: Event| {
        let target = event.target().expect("an input's own event has a target");
        let input: HtmlInputElement = target.unchecked_into();
        if let Some(file) = input.files().and_then(|files| files.get(0)) {
            spawn_local(open(file, trouble, take));
        }
        // So that choosing the same file again is a change, too.
        input.set_value("");
    };
    let by_drop = move |event: DragEvent| {
        event.prevent_default();
        let files = event.data_transfer().and_then(|transfer| transfer.files());
        if let Some(file) = files.and_then(|files| files.get(0)) {
            spawn_local(open(file, trouble, take));
        }
    };
    let by_paste = move |_| {
        let Some(area) = area.get_untracked() else { return };
        let text = area.value();
        if text.trim().is_empty() {
            trouble.set(Some(say!("There is nothing in the field yet.").to_owned()));
            return;
        }
        take.run(HandedIn::Paste(text));
        area.set_value("");
    };
    view! {
        <div class="bring-source" on:dragover=move |event: DragEvent| event.prevent_default() on:drop=by_drop>
            <p class="row">
                <label class="button">
                    {say!("Choose a file")}
                    <input type="file" class="list-input" accept=words.accept on:change=by_input />
                </label>
                <span class="hint">{said(words.files)}</span>
            </p>
            <label class="field">
                <span>{said(words.paste)}</span>
                <textarea rows="4" node_ref=area autocomplete="off" spellcheck="false"></textarea>
            </label>
            <button class="button" on:click=by_paste>{said(words.look)}</button>
        </div>
    }
    .into_any()
}

async fn open(file: File, trouble: RwSignal<Option<String>>, take: Callback<HandedIn>) {
    let name = file.name();
    if file.size() > MOST_BYTES {
        let words = say!(
            "{name}: found {mib:.0} MiB; expected at most 64 MiB.",
            mib = file.size() / 1_048_576.0
        );
        trouble.set(Some(words));
        return;
    }
    let buffer = JsFuture::from(file.array_buffer()).await;
    // The screen may be gone by now.
    if trouble.is_disposed() {
        return;
    }
    match buffer {
        Ok(buffer) => take.run(HandedIn::File(name, Uint8Array::new(&buffer).to_vec())),
        Err(_) => {
            trouble.set(Some(say!("{name} could not be read. Nothing was changed.")));
        }
    }
}
