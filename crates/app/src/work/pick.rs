//! What a person hands in: a folder, several files, a zip, or any of these dropped on the page.

use files::FileSet;
use js_sys::{Promise, Reflect, Uint8Array};
use language::say;
use leptos::prelude::window;
use plot::{Problem, Weight};
use wasm_bindgen::prelude::*;
use wasm_bindgen_futures::JsFuture;
use web_sys::{DataTransfer, File, FileList, FileSystemDirectoryHandle};

use super::folders::{self, FILES, ToDo};

/// Most bytes in all (512 MiB), also of what a zip unpacks to: what a phone can hold in memory.
pub const MOST_BYTES: u64 = 512 << 20;

/// Files that a person handed in, or one zip of them.
#[derive(Debug, Default)]
pub struct Picked {
    /// What the person would call it.
    pub name: String,
    /// The files by their path.
    pub files: FileSet,
    /// A zip that holds the files.
    pub zip: Option<Vec<u8>>,
    /// Files too large to be read, with their bytes.
    pub left_out: Vec<(String, u64)>,
    bytes: u64,
}

/// Why nothing was handed in.
#[derive(Debug)]
pub enum NotPicked {
    /// The person thought better of it.
    Nothing,
    /// What was handed in cannot be used.
    Unusable(Box<Problem>),
}

impl From<JsValue> for NotPicked {
    fn from(error: JsValue) -> Self {
        let word =
            |key: &str| Reflect::get(&error, &key.into()).ok().and_then(|word| word.as_string());
        if word("name").as_deref() == Some("AbortError") {
            return Self::Nothing;
        }
        let found = word("message").unwrap_or_else(|| say!("no reason given").to_owned());
        unusable(say!("the folder"), found, say!("files that this browser may read"))
    }
}

/// Lets the person choose a folder by the browser's picker.
///
/// # Errors
/// The person closed the picker; a folder that cannot be read or holds too much.
pub async fn folder() -> Result<Picked, NotPicked> {
    of_folder(&folders::choose(ToDo::Read).await?).await
}

/// The files of a file input.
///
/// # Errors
/// No file; a file that cannot be read; too much in all.
pub async fn of_list(list: &FileList) -> Result<Picked, NotPicked> {
    let files: Vec<File> = (0..list.length()).filter_map(|nth| list.get(nth)).collect();
    of_files(files).await
}

/// What was dropped on the page.
///
/// # Errors
/// As [`of_list`] and [`folder`].
pub async fn of_drop(transfer: &DataTransfer) -> Result<Picked, NotPicked> {
    // Both are read before the first wait: afterwards the browser has emptied them.
    let files = transfer.files();
    let items = transfer.items();
    let mut handles = Vec::new();
    for nth in 0..items.length() {
        let item: Option<WithHandle> = items.get(nth).map(JsCast::unchecked_into);
        if let Some(handle) = item.and_then(|item| item.get_handle().ok()) {
            handles.push(handle);
        }
    }
    if let [only] = &handles[..] {
        let handle = JsFuture::from(only.clone()).await?;
        if let Ok(folder) = handle.dyn_into::<FileSystemDirectoryHandle>() {
            return of_folder(&folder).await;
        }
    }
    match files {
        Some(files) => of_list(&files).await,
        None => Err(NotPicked::Nothing),
    }
}

/// A zip that comes with the page.
///
/// # Errors
/// It cannot be fetched.
pub async fn fetched(name: &str, address: &str) -> Result<Picked, NotPicked> {
    let response = JsFuture::from(window().fetch_with_str(address)).await?;
    let response: web_sys::Response = response.unchecked_into();
    if !response.ok() {
        let found = say!("answer {status}", status = response.status());
        return Err(unusable(name, found, say!("a file that comes with the page")));
    }
    let buffer = JsFuture::from(response.array_buffer()?).await?;
    Ok(of_zip(name, Uint8Array::new(&buffer).to_vec()))
}

fn of_zip(name: &str, bytes: Vec<u8>) -> Picked {
    Picked { name: name.to_owned(), zip: Some(bytes), ..Picked::default() }
}

async fn of_files(files: Vec<File>) -> Result<Picked, NotPicked> {
    let mut picked = Picked::default();
    if let [only] = &files[..]
        && only.name().to_ascii_lowercase().ends_with(".zip")
    {
        picked.take("archive.zip".to_owned(), only).await?;
        let bytes = picked.files.remove("archive.zip").unwrap_or_default();
        return Ok(of_zip(&only.name(), bytes));
    }
    for file in &files {
        let within: WithPath = file.clone().unchecked_into();
        let path = within.relative_path().filter(|path| !path.is_empty());
        let path = path.unwrap_or_else(|| file.name());
        if picked.name.is_empty() {
            picked.name = path.split('/').next().unwrap_or_default().to_owned();
        }
        if !files::is_hidden(&path) {
            picked.take(path, file).await?;
        }
    }
    match files.is_empty() {
        true => Err(NotPicked::Nothing),
        false => Ok(picked),
    }
}

/// The files of a folder.
///
/// # Errors
/// A folder that cannot be read or holds too much.
pub async fn of_folder(folder: &FileSystemDirectoryHandle) -> Result<Picked, NotPicked> {
    let mut picked = Picked { name: folder.name(), ..Picked::default() };
    for (path, handle) in folders::files_below(folder).await? {
        let file: File = JsFuture::from(handle.get_file()).await?.unchecked_into();
        picked.take(path, &file).await?;
    }
    Ok(picked)
}

impl From<FileSet> for Picked {
    fn from(files: FileSet) -> Self {
        Self { files, ..Self::default() }
    }
}

impl Picked {
    /// Reads a file, unless its size alone says that it is too large.
    async fn take(&mut self, path: String, file: &File) -> Result<(), NotPicked> {
        let bytes = file.size() as u64;
        let name = path.rsplit('/').next().unwrap_or(&path);
        if files::too_large(name, bytes).is_some() {
            self.left_out.push((name.to_owned(), bytes));
            return Ok(());
        }
        self.bytes += bytes;
        if self.files.len() >= FILES || self.bytes > MOST_BYTES {
            return Err(unusable(
                &self.name,
                say!(
                    "{files} files, {bytes} MiB and more",
                    files = self.files.len() + 1,
                    bytes = self.bytes >> 20
                ),
                say!(
                    "a plot folder of at most {FILES} files and {most} MiB",
                    most = MOST_BYTES >> 20
                ),
            ));
        }
        let buffer = JsFuture::from(file.array_buffer()).await?;
        self.files.insert(path, Uint8Array::new(&buffer).to_vec());
        Ok(())
    }
}

fn unusable(file: &str, found: impl Into<String>, expected: impl Into<String>) -> NotPicked {
    NotPicked::Unusable(Box::new(Problem {
        weight: Weight::Fault,
        file: file.to_owned(),
        line: None,
        column: None,
        found: found.into(),
        expected: expected.into(),
    }))
}

#[wasm_bindgen]
extern "C" {
    type WithPath;
    #[wasm_bindgen(method, getter, js_name = webkitRelativePath)]
    fn relative_path(this: &WithPath) -> Option<String>;

    type WithHandle;
    #[wasm_bindgen(method, catch, js_name = getAsFileSystemHandle)]
    fn get_handle(this: &WithHandle) -> Result<Promise, JsValue>;
}
