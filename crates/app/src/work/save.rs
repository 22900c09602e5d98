//! Copies outside of this browser: a zip to download, or files into a folder that the person
//! chooses. Nothing that is there is ever written over.

use files::FileSet;
use js_sys::{Array, Uint8Array};
use language::say;
use leptos::prelude::{document, window};
use wasm_bindgen::prelude::*;
use wasm_bindgen_futures::JsFuture;
use web_sys::{Blob, HtmlAnchorElement, Url};

use super::folders::{self, ToDo};

/// Gives the person a file to keep.
///
/// # Errors
/// The browser's word.
pub fn download(name: &str, bytes: &[u8]) -> Result<(), JsValue> {
    let blob = Blob::new_with_u8_array_sequence(&Array::of1(&Uint8Array::from(bytes)))?;
    let address = Url::create_object_url_with_blob(&blob)?;
    let link: HtmlAnchorElement = document().create_element("a")?.unchecked_into();
    link.set_href(&address);
    link.set_download(name);
    link.click();
    // Released late: a browser may begin to read only after this call.
    let release = Closure::once_into_js(move || {
        let _ = Url::revoke_object_url(&address);
    });
    window()
        .set_timeout_with_callback_and_timeout_and_arguments_0(release.unchecked_ref(), 60_000)?;
    Ok(())
}

/// Writes the files into a new folder of that name, within one that the person chooses.
///
/// # Errors
/// The person closed the picker; a folder of that name is there and holds something; the
/// browser's word.
pub async fn into_folder(name: &str, files: &FileSet) -> Result<(), JsValue> {
    let chosen = folders::choose(ToDo::Write).await?;
    let folder = folders::folder_in(&chosen, name).await?;
    let first: js_sys::IteratorNext = JsFuture::from(folder.keys().next()?).await?.unchecked_into();
    if !first.done() {
        return Err(say!("the folder {name} is there already").into());
    }
    for (path, bytes) in files {
        let (within, file) = folders::within(&folder, path).await?;
        folders::write(&within, file, bytes).await?;
    }
    Ok(())
}
