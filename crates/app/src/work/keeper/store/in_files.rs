//! Logs in the origin-private file system, each through one synchronous access handle.

use js_sys::{IteratorNext, Reflect, Uint8Array};
use language::say;
use wasm_bindgen::prelude::*;
use wasm_bindgen_futures::JsFuture;
use web_sys::{
    FileSystemDirectoryHandle, FileSystemFileHandle, FileSystemGetDirectoryOptions,
    FileSystemGetFileOptions, FileSystemReadWriteOptions, FileSystemSyncAccessHandle,
};

use judge::link::scope;

/// The folder of this browser's storage that holds our logs.
#[derive(Clone, Debug)]
pub struct InFiles {
    folder: FileSystemDirectoryHandle,
}

/// An open log; nobody else can write it meanwhile. Closed when dropped.
#[derive(Debug)]
pub struct FileLog {
    handle: FileSystemSyncAccessHandle,
    end: f64,
}

impl InFiles {
    /// Opens the folder, making it if need be.
    ///
    /// # Errors
    /// The browser's word where it gives no such storage.
    pub async fn open() -> Result<Self, JsValue> {
        if !Reflect::has(&js_sys::global(), &"FileSystemSyncAccessHandle".into())? {
            return Err(say!("this browser gives no file storage to workers").into());
        }
        let storage = scope().navigator().storage();
        let root: FileSystemDirectoryHandle =
            JsFuture::from(storage.get_directory()).await?.unchecked_into();
        let options = FileSystemGetDirectoryOptions::new();
        options.set_create(true);
        let folder = root.get_directory_handle_with_options("leeward", &options);
        Ok(Self { folder: JsFuture::from(folder).await?.unchecked_into() })
    }

    /// Opens a log for writing, making an empty one if need be.
    ///
    /// # Errors
    /// Someone else has it open, or the browser's word.
    pub async fn log(&self, name: &str) -> Result<FileLog, JsValue> {
        let file = self.file(name, true).await?;
        let handle: FileSystemSyncAccessHandle =
            JsFuture::from(file.create_sync_access_handle()).await?.unchecked_into();
        let end = handle.get_size()?;
        Ok(FileLog { handle, end })
    }

    /// Reads a log that another tab may be writing; nothing where there is none.
    ///
    /// # Errors
    /// The browser's word.
    pub async fn peek(&self, name: &str) -> Result<Vec<u8>, JsValue> {
        let Ok(file) = self.file(name, false).await else { return Ok(Vec::new()) };
        let blob: web_sys::File = JsFuture::from(file.get_file()).await?.unchecked_into();
        let buffer = JsFuture::from(blob.array_buffer()).await?;
        Ok(Uint8Array::new(&buffer).to_vec())
    }

    /// The names of the logs that are there.
    ///
    /// # Errors
    /// The browser's word.
    pub async fn names(&self) -> Result<Vec<String>, JsValue> {
        let keys = self.folder.keys();
        let mut names = Vec::new();
        loop {
            let next: IteratorNext = JsFuture::from(keys.next()?).await?.unchecked_into();
            if next.done() {
                return Ok(names);
            }
            names.extend(next.value().as_string());
        }
    }

    /// Removes a log, if it is there.
    pub async fn remove(&self, name: &str) {
        let _ = JsFuture::from(self.folder.remove_entry(name)).await;
    }

    async fn file(&self, name: &str, create: bool) -> Result<FileSystemFileHandle, JsValue> {
        let options = FileSystemGetFileOptions::new();
        options.set_create(create);
        let file = self.folder.get_file_handle_with_options(name, &options);
        Ok(JsFuture::from(file).await?.unchecked_into())
    }
}

impl FileLog {
    /// Everything that stands in it.
    ///
    /// # Errors
    /// The browser's word.
    pub fn read(&self) -> Result<Vec<u8>, JsValue> {
        let mut bytes = vec![0; self.end as usize];
        let mut from = 0;
        while from < bytes.len() {
            let options = at(from as f64);
            let got = self.handle.read_with_u8_array_and_options(&mut bytes[from..], &options)?;
            if got <= 0.0 {
                bytes.truncate(from);
                break;
            }
            from += got as usize;
        }
        Ok(bytes)
    }

    /// Writes parts one behind the other at the end and asks the disk to take them. On an error
    /// the log is as it was.
    ///
    /// # Errors
    /// No room, or the browser's word.
    pub fn append(&mut self, parts: &[&[u8]]) -> Result<(), JsValue> {
        match self.write(parts) {
            Ok(end) => self.end = end,
            Err(error) => {
                self.cut(self.end);
                return Err(error);
            }
        }
        Ok(())
    }

    /// Cuts off what lies behind `end`.
    pub fn cut(&mut self, end: f64) {
        let _ = self.handle.truncate_with_f64(end);
        let _ = self.handle.flush();
        self.end = end;
    }

    /// Gives the new end.
    fn write(&self, parts: &[&[u8]]) -> Result<f64, JsValue> {
        let mut end = self.end;
        for part in parts {
            let mut from = 0;
            while from < part.len() {
                let options = at(end);
                let took = self.handle.write_with_u8_array_and_options(&part[from..], &options)?;
                if took <= 0.0 {
                    return Err(say!("the storage took no more bytes").into());
                }
                from += took as usize;
                end += took;
            }
        }
        self.handle.flush()?;
        Ok(end)
    }
}

impl Drop for FileLog {
    fn drop(&mut self) {
        self.handle.close();
    }
}

fn at(position: f64) -> FileSystemReadWriteOptions {
    let options = FileSystemReadWriteOptions::new();
    options.set_at(position);
    options
}
