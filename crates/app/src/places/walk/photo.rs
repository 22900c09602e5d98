//! A picture of the tree, kept in the plot folder with the score it goes with.

use language::say;
use leptos::prelude::*;
use leptos::task::spawn_local;
use wasm_bindgen::prelude::*;
use wasm_bindgen_futures::JsFuture;
use web_sys::{File, HtmlInputElement};

use super::side::Unfolded;
use super::walker::Walker;

/// The key that opens the camera, where the browser has one.
#[component]
pub fn PhotoKey(walker: Walker, unfolded: RwSignal<Option<Unfolded>>) -> impl IntoView {
    let take = move |event: web_sys::Event| {
        let input: HtmlInputElement = event_target(&event);
        let Some(file) = input.files().and_then(|files| files.get(0)) else { return };
        unfolded.set(None);
        spawn_local(async move {
            if let Ok(bytes) = read(&file).await {
                walker.photo(&ending(&file), bytes);
            }
        });
    };
    view! {
        <label class="side-key walk-photo">
            <span>{say!("Take a photo")}</span>
            <input type="file" accept="image/*" capture="environment" on:change=take />
        </label>
    }
}

async fn read(file: &File) -> Result<Vec<u8>, JsValue> {
    let buffer = JsFuture::from(file.array_buffer()).await?;
    Ok(js_sys::Uint8Array::new(&buffer).to_vec())
}

/// How the picture's name ends: as the file's does, else by its kind.
fn ending(file: &File) -> String {
    let name = file.name().to_lowercase();
    let of_name = name.rsplit_once('.').map(|(_, ending)| ending.to_owned());
    let is_plain = |it: &String| it.len() <= 5 && it.bytes().all(|it| it.is_ascii_alphanumeric());
    let of_kind = file.type_().rsplit_once('/').map(|(_, kind)| kind.to_owned());
    of_name.filter(is_plain).or(of_kind.filter(is_plain)).unwrap_or_else(|| "jpg".to_owned())
}
