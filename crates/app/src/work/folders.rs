//! Folders on this machine, as the browser hands them out: chosen, looked through, written.

use js_sys::{Array, AsyncIterator, IteratorNext, Object, Promise, Reflect, Uint8Array};
use leptos::prelude::window;
use wasm_bindgen::prelude::*;
use wasm_bindgen_futures::JsFuture;
use web_sys::{
    FileSystemDirectoryHandle, FileSystemFileHandle, FileSystemGetDirectoryOptions,
    FileSystemGetFileOptions, FileSystemWritableFileStream,
};

/// How deep folders may lie within the one that was chosen (`photos/…`).
const DEPTH: usize = 4;

/// Most files that a plot folder may hold: more than that is some other folder.
pub const FILES: usize = 20_000;

/// What a folder is chosen for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ToDo {
    /// To be read.
    Read,
    /// To be read and written.
    Write,
}

impl ToDo {
    /// The options that the browser wants.
    pub fn options(self) -> Object {
        let mode = match self {
            Self::Read => "read",
            Self::Write => "readwrite",
        };
        let options = Object::new();
        let _ = Reflect::set(&options, &"mode".into(), &mode.into());
        options
    }
}

/// Whether this browser can open a folder by its own picker.
pub fn has_picker() -> bool {
    Reflect::has(&window(), &"showDirectoryPicker".into()).unwrap_or(false)
}

/// Lets the person choose a folder by the browser's picker.
///
/// # Errors
/// The person closed the picker or said no.
pub async fn choose(to_do: ToDo) -> Result<FileSystemDirectoryHandle, JsValue> {
    let window: WithPicker = window().unchecked_into();
    let chosen = window.show_directory_picker(&to_do.options())?;
    Ok(JsFuture::from(chosen).await?.unchecked_into())
}

/// All files below a folder that are not hidden, by path; of more than [`FILES`] only one more.
///
/// # Errors
/// The browser's word.
pub async fn files_below(
    folder: &FileSystemDirectoryHandle,
) -> Result<Vec<(String, FileSystemFileHandle)>, JsValue> {
    let mut found: Vec<(String, FileSystemFileHandle)> = Vec::new();
    let mut waiting = vec![(folder.clone(), String::new(), 0)];
    while let Some((folder, path, depth)) = waiting.pop() {
        let entries: AsyncIterator = folder.entries();
        loop {
            let next: IteratorNext = JsFuture::from(entries.next()?).await?.unchecked_into();
            if next.done() {
                break;
            }
            if found.len() > FILES {
                return Ok(found);
            }
            let entry: Array = next.value().unchecked_into();
            let name = entry.get(0).as_string().unwrap_or_default();
            if files::is_hidden(&name) {
                continue;
            }
            match entry.get(1).dyn_into::<FileSystemDirectoryHandle>() {
                Ok(inner) if depth < DEPTH => {
                    waiting.push((inner, format!("{path}{name}/"), depth + 1));
                }
                Ok(_) => {}
                Err(file) => found.push((format!("{path}{name}"), file.unchecked_into())),
            }
        }
    }
    Ok(found)
}

/// The folder of that name within another, made if need be.
///
/// # Errors
/// The browser's word.
pub async fn folder_in(
    folder: &FileSystemDirectoryHandle,
    name: &str,
) -> Result<FileSystemDirectoryHandle, JsValue> {
    let options = FileSystemGetDirectoryOptions::new();
    options.set_create(true);
    let made = JsFuture::from(folder.get_directory_handle_with_options(name, &options));
    Ok(made.await?.unchecked_into())
}

/// The folder that a path lies in, made if need be, and the file's own name.
///
/// # Errors
/// The browser's word.
pub async fn within<'path>(
    folder: &FileSystemDirectoryHandle,
    path: &'path str,
) -> Result<(FileSystemDirectoryHandle, &'path str), JsValue> {
    let mut within = folder.clone();
    let (folders, file) = path.rsplit_once('/').unwrap_or(("", path));
    for part in folders.split('/').filter(|part| !part.is_empty()) {
        within = folder_in(&within, part).await?;
    }
    Ok((within, file))
}

/// Writes a file whole; the browser swaps it in when it is closed.
///
/// # Errors
/// No room, or the browser's word.
pub async fn write(
    folder: &FileSystemDirectoryHandle,
    name: &str,
    bytes: &[u8],
) -> Result<(), JsValue> {
    let options = FileSystemGetFileOptions::new();
    options.set_create(true);
    let file: FileSystemFileHandle =
        JsFuture::from(folder.get_file_handle_with_options(name, &options)).await?.unchecked_into();
    let stream: FileSystemWritableFileStream =
        JsFuture::from(file.create_writable()).await?.unchecked_into();
    JsFuture::from(stream.write_with_js_u8_array(&Uint8Array::from(bytes))?).await?;
    JsFuture::from(stream.close()).await?;
    Ok(())
}

#[wasm_bindgen]
extern "C" {
    type WithPicker;
    #[wasm_bindgen(method, catch, js_name = showDirectoryPicker)]
    fn show_directory_picker(this: &WithPicker, options: &Object) -> Result<Promise, JsValue>;
}
