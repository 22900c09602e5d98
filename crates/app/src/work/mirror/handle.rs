//! A folder kept in step: remembered from visit to visit, looked at and written by its handle.

use std::collections::BTreeMap;

use js_sys::{Array, Object, Promise};
use wasm_bindgen::prelude::*;
use wasm_bindgen_futures::JsFuture;
use web_sys::{File, FileSystemDirectoryHandle, FileSystemFileHandle};

use crate::work::base::Base;
use crate::work::folders::{ToDo, files_below, write};

const BASE: &str = "leeward-folders";

/// What tells cheaply that a file was changed: its bytes and when it was changed last.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stamp {
    bytes: f64,
    changed_ms: f64,
}

/// Whether the folder may be written; `ask` only on a person's tap.
pub async fn may_write(folder: &FileSystemDirectoryHandle, ask: bool) -> bool {
    let options = ToDo::Write.options();
    let folder: &WithPermission = folder.unchecked_ref();
    let answer = match ask {
        true => folder.request_permission(&options),
        false => folder.query_permission(&options),
    };
    let Ok(answer) = answer else { return false };
    JsFuture::from(answer).await.is_ok_and(|word| word.as_string().as_deref() == Some("granted"))
}

/// Remembers, or forgets, the folder of a plot.
pub async fn remember(id: &str, folder: Option<&FileSystemDirectoryHandle>) {
    let Ok(base) = Base::open(BASE).await else { return };
    let key = JsValue::from(id);
    // Where it cannot be kept, it is chosen again on the next visit.
    let _ = base
        .write(|store| match folder {
            Some(folder) => store.put_with_key(folder, &key).map(drop),
            None => store.delete(&key).map(drop),
        })
        .await;
}

/// The folder of a plot, if one was remembered.
pub async fn remembered(id: &str) -> Option<FileSystemDirectoryHandle> {
    let found: Array = Base::open(BASE).await.ok()?.all(&id.into()).await.ok()?;
    found.get(0).dyn_into().ok()
}

/// The stamps of all files, by path.
///
/// # Errors
/// The browser's word.
pub async fn stamps(
    folder: &FileSystemDirectoryHandle,
) -> Result<BTreeMap<String, Stamp>, JsValue> {
    let mut stamps = BTreeMap::new();
    for (path, file) in files_below(folder).await? {
        stamps.insert(path, stamp(&file).await?);
    }
    Ok(stamps)
}

/// The stamp of one file; none where there is none.
pub async fn stamp_of(folder: &FileSystemDirectoryHandle, name: &str) -> Option<Stamp> {
    let file = JsFuture::from(folder.get_file_handle(name)).await.ok()?;
    stamp(&file.unchecked_into()).await.ok()
}

async fn stamp(file: &FileSystemFileHandle) -> Result<Stamp, JsValue> {
    let file: File = JsFuture::from(file.get_file()).await?.unchecked_into();
    Ok(Stamp { bytes: file.size(), changed_ms: file.last_modified() })
}

/// Writes a file whole under a name of its own, hidden from readers of the folder; gives the name.
///
/// # Errors
/// No room, or the browser's word.
pub async fn write_copy(
    folder: &FileSystemDirectoryHandle,
    name: &str,
    bytes: &[u8],
) -> Result<String, JsValue> {
    let copy = format!(".{name}.new");
    write(folder, &copy, bytes).await?;
    Ok(copy)
}

/// Moves the copy into place. Where a browser cannot move, it writes the file anew, which it too
/// does beside and swaps at the end; the copy stays until that is done.
///
/// # Errors
/// The browser's word; the copy stays then.
pub async fn move_into_place(
    folder: &FileSystemDirectoryHandle,
    copy: &str,
    name: &str,
    bytes: &[u8],
) -> Result<(), JsValue> {
    let handle = JsFuture::from(folder.get_file_handle(copy)).await?;
    let moved = match handle.unchecked_ref::<WithMove>().move_to(name) {
        Ok(promise) => JsFuture::from(promise).await,
        Err(error) => Err(error),
    };
    if moved.is_err() {
        write(folder, name, bytes).await?;
        remove(folder, copy).await;
    }
    Ok(())
}

/// Removes a file, if it is there.
pub async fn remove(folder: &FileSystemDirectoryHandle, name: &str) {
    let _ = JsFuture::from(folder.remove_entry(name)).await;
}

#[wasm_bindgen]
extern "C" {
    type WithPermission;
    #[wasm_bindgen(method, catch, js_name = queryPermission)]
    fn query_permission(this: &WithPermission, options: &Object) -> Result<Promise, JsValue>;
    #[wasm_bindgen(method, catch, js_name = requestPermission)]
    fn request_permission(this: &WithPermission, options: &Object) -> Result<Promise, JsValue>;

    type WithMove;
    #[wasm_bindgen(method, catch, js_name = move)]
    fn move_to(this: &WithMove, name: &str) -> Result<Promise, JsValue>;
}
