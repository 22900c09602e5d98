//! Where logs are kept: in the origin-private file system, or in IndexedDB where that is missing.
//! The keeper does not know which; the bytes of a log are the same in both.

mod in_base;
mod in_files;

use js_sys::Reflect;
use language::say;
use wasm_bindgen::prelude::*;

use in_base::{BaseLog, InBase};
use in_files::{FileLog, InFiles};

/// The storage of this browser that holds our logs.
#[derive(Clone, Debug)]
pub enum Store {
    /// The origin-private file system.
    Files(InFiles),
    /// IndexedDB.
    Base(InBase),
}

/// An open log. Closed when dropped.
#[derive(Debug)]
pub enum Log {
    /// A file that nobody else can write meanwhile.
    File(FileLog),
    /// Pieces in IndexedDB.
    Base(BaseLog),
}

/// Why what was kept is not opened.
#[derive(Debug)]
pub enum Closed {
    /// Another tab or window has the log open for writing.
    Held,
    /// A newer version of this page has written it.
    Newer,
    /// The browser refused, in its words.
    Refused(JsValue),
}

impl From<JsValue> for Closed {
    fn from(error: JsValue) -> Self {
        match name_of(&error).as_deref() {
            Some("NoModificationAllowedError") => Self::Held,
            _ => Self::Refused(error),
        }
    }
}

impl From<Closed> for JsValue {
    fn from(closed: Closed) -> Self {
        match closed {
            Closed::Held => say!("another tab or window holds it").into(),
            Closed::Newer => {
                say!("a newer version of Leeward has written it; it was left as it is").into()
            }
            Closed::Refused(error) => error,
        }
    }
}

/// The name that the browser gives an error.
pub fn name_of(error: &JsValue) -> Option<String> {
    Reflect::get(error, &"name".into()).ok()?.as_string()
}

impl Store {
    /// Opens the storage for writing. `probe` is a log that the caller will write. What was kept
    /// in IndexedDB stays there; where files can be read but not be written any more, the logs
    /// move to IndexedDB.
    ///
    /// # Errors
    /// Another tab has the log open; the browser's word where it gives neither.
    pub async fn open(probe: &str) -> Result<Self, Closed> {
        let base = InBase::open().await;
        if let Ok(base) = &base
            && base.holds(probe).await?
        {
            return Ok(Self::Base(base.clone()));
        }
        let files = match InFiles::open().await {
            Ok(files) => files,
            Err(error) => return base.map(Self::Base).map_err(|_| error.into()),
        };
        match files.log(probe).await.map_err(Closed::from) {
            Ok(_) => Ok(Self::Files(files)),
            Err(Closed::Refused(error)) => {
                let base = base.map_err(|_| error)?;
                moved(&files, &base, probe).await?;
                Ok(Self::Base(base))
            }
            Err(held) => Err(held),
        }
    }

    /// Opens the storage to read beside a tab that writes.
    ///
    /// # Errors
    /// As [`open`](Self::open).
    pub async fn open_to_read(probe: &str) -> Result<Self, Closed> {
        let base = InBase::open().await;
        if let Ok(base) = &base
            && base.holds(probe).await?
        {
            return Ok(Self::Base(base.clone()));
        }
        match InFiles::open().await {
            Ok(files) => Ok(Self::Files(files)),
            Err(error) => base.map(Self::Base).map_err(|_| error.into()),
        }
    }

    /// Opens a log for writing, making an empty one if need be.
    ///
    /// # Errors
    /// Someone else has it open, or the browser's word.
    pub async fn log(&self, name: &str) -> Result<Log, JsValue> {
        match self {
            Self::Files(files) => files.log(name).await.map(Log::File),
            Self::Base(base) => base.log(name).await.map(Log::Base),
        }
    }

    /// Reads a log that another tab may be writing; nothing where there is none.
    ///
    /// # Errors
    /// The browser's word.
    pub async fn peek(&self, name: &str) -> Result<Vec<u8>, JsValue> {
        match self {
            Self::Files(files) => files.peek(name).await,
            Self::Base(base) => base.peek(name).await,
        }
    }

    /// Removes a log, if it is there.
    pub async fn remove(&self, name: &str) {
        match self {
            Self::Files(files) => files.remove(name).await,
            Self::Base(base) => base.remove(name).await,
        }
    }
}

impl Log {
    /// Everything that stands in it.
    ///
    /// # Errors
    /// The browser's word.
    pub async fn read(&self) -> Result<Vec<u8>, JsValue> {
        match self {
            Self::File(log) => log.read(),
            Self::Base(log) => log.read().await,
        }
    }

    /// Writes parts one behind the other at the end, and waits until the disk has them. On an
    /// error the log is as it was.
    ///
    /// # Errors
    /// No room, or the browser's word.
    pub async fn append(&mut self, parts: &[&[u8]]) -> Result<(), JsValue> {
        match self {
            Self::File(log) => log.append(parts),
            Self::Base(log) => log.append(parts).await,
        }
    }

    /// Cuts off what lies behind `end`.
    ///
    /// # Errors
    /// The browser's word.
    pub async fn cut(&mut self, end: usize) -> Result<(), JsValue> {
        match self {
            Self::File(log) => {
                log.cut(end as f64);
                Ok(())
            }
            Self::Base(log) => log.cut(end).await,
        }
    }
}

/// Copies every log; `last` makes the copy count, so it goes last.
async fn moved(files: &InFiles, base: &InBase, last: &str) -> Result<(), JsValue> {
    let names = files.names().await?;
    let others = names.iter().map(String::as_str).filter(|&name| name != last);
    for name in others.chain([last]) {
        let bytes = files.peek(name).await?;
        let mut log = base.log(name).await?;
        log.cut(0).await?;
        log.append(&[&bytes]).await?;
    }
    Ok(())
}
