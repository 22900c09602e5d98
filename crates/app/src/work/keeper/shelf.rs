//! The shelf: which plots this browser keeps, and which one is open.

use serde::{Deserialize, Serialize};
use wasm_bindgen::prelude::*;

use super::store::{Closed, Log, Store};
use crate::work::message::{NewPlot, OnShelf, Outside};
use files::journal;

/// The name of the shelf's log.
pub const FILE: &str = "shelf.log";
const DEED: u8 = b'S';

/// What happened to the shelf.
#[derive(Debug, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
enum Deed {
    Put { id: String, name: String, at_ms: u64, outside: Outside },
    Brought { id: String },
    Closed { outside: Outside },
    Forgotten { id: String },
}

/// The plots that are kept.
#[derive(Default)]
pub struct Shelf {
    log: Option<Log>,
    plots: Vec<OnShelf>,
    open: Option<String>,
}

/// What a look through the log gave beside the plots.
struct Followed {
    /// Where the last whole record ends.
    end: usize,
    is_newer: bool,
}

impl Shelf {
    /// Opens the shelf for writing.
    pub async fn open(store: &Store) -> Result<Self, Closed> {
        let mut log = store.log(FILE).await?;
        let bytes = log.read().await?;
        let mut shelf = Self::default();
        let Followed { end, is_newer } = shelf.follow(&bytes);
        if is_newer {
            return Err(Closed::Newer);
        }
        if end < bytes.len() {
            log.cut(end).await?;
        }
        if end == 0 {
            log.append(&[&journal::version()]).await?;
        }
        shelf.log = Some(log);
        Ok(shelf)
    }

    /// Reads the shelf that another tab may be writing.
    pub async fn peek(store: &Store) -> Result<Self, Closed> {
        let mut shelf = Self::default();
        let bytes = store.peek(FILE).await?;
        match shelf.follow(&bytes).is_newer {
            true => Err(Closed::Newer),
            false => Ok(shelf),
        }
    }

    /// The plot that is open.
    pub fn open_id(&self) -> Option<&str> {
        self.open.as_deref()
    }

    /// The plots that are not open, the newest first.
    pub fn others(&self) -> Vec<OnShelf> {
        let others = self.plots.iter().filter(|plot| Some(&plot.id) != self.open.as_ref());
        others.rev().cloned().collect()
    }

    /// Puts a new plot, open.
    pub async fn put(&mut self, new: &NewPlot<'_>) -> Result<(), JsValue> {
        let (id, name) = (new.id.clone(), new.name.clone());
        let at_ms = js_sys::Date::now() as u64;
        self.note(Deed::Put { id, name, at_ms, outside: new.outside }).await
    }

    /// Opens a plot of the shelf.
    pub async fn bring(&mut self, id: &str) -> Result<(), JsValue> {
        self.note(Deed::Brought { id: id.to_owned() }).await
    }

    /// Closes the open plot.
    pub async fn close(&mut self, outside: Outside) -> Result<(), JsValue> {
        self.note(Deed::Closed { outside }).await
    }

    /// Forgets a plot.
    pub async fn forget(&mut self, id: &str) -> Result<(), JsValue> {
        self.note(Deed::Forgotten { id: id.to_owned() }).await
    }

    async fn note(&mut self, deed: Deed) -> Result<(), JsValue> {
        let text = serde_json::to_vec(&deed).map_err(|error| error.to_string())?;
        if let Some(log) = &mut self.log {
            log.append(&[&journal::record(DEED, &text)]).await?;
        }
        self.apply(deed);
        Ok(())
    }

    fn follow(&mut self, bytes: &[u8]) -> Followed {
        let read = journal::read(bytes);
        let mut is_newer = read.is_newer;
        for record in read.records {
            match serde_json::from_slice(record.payload) {
                Ok(deed) => self.apply(deed),
                // What is whole and yet not understood, a newer version has written.
                Err(_) => is_newer = true,
            }
        }
        Followed { end: read.end, is_newer }
    }

    fn apply(&mut self, deed: Deed) {
        match deed {
            Deed::Put { id, name, at_ms, outside } => {
                self.open = Some(id.clone());
                self.plots.push(OnShelf { id, name, put_ms: at_ms, outside });
            }
            Deed::Brought { id } => self.open = Some(id),
            Deed::Closed { outside } => {
                let open = self.open.take();
                for plot in self.plots.iter_mut().filter(|plot| Some(&plot.id) == open.as_ref()) {
                    plot.outside = outside;
                }
            }
            Deed::Forgotten { id } => {
                self.plots.retain(|plot| plot.id != id);
                if self.open.as_deref() == Some(&id) {
                    self.open = None;
                }
            }
        }
    }
}
