//! The shelf: which plots this browser keeps, and which one is open.

use serde::{Deserialize, Serialize};
use wasm_bindgen::prelude::*;

use super::journal;
use super::store::{Log, Store};
use crate::work::message::{NewPlot, OnShelf, Outside};

const FILE: &str = "shelf.log";
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

impl Shelf {
    /// Opens the shelf for writing.
    pub async fn open(store: &Store) -> Result<Self, JsValue> {
        let mut log = store.log(FILE).await?;
        let bytes = log.read()?;
        let mut shelf = Self::default();
        let end = shelf.follow(&bytes);
        if end < bytes.len() {
            log.cut(end as f64);
        }
        shelf.log = Some(log);
        Ok(shelf)
    }

    /// Reads the shelf that another tab may be writing.
    pub async fn peek(store: &Store) -> Self {
        let mut shelf = Self::default();
        shelf.follow(&store.peek(FILE).await.unwrap_or_default());
        shelf
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
    pub fn put(&mut self, new: &NewPlot) -> Result<(), JsValue> {
        let (id, name) = (new.id.clone(), new.name.clone());
        let at_ms = js_sys::Date::now() as u64;
        self.note(Deed::Put { id, name, at_ms, outside: new.outside })
    }

    /// Opens a plot of the shelf.
    pub fn bring(&mut self, id: &str) -> Result<(), JsValue> {
        self.note(Deed::Brought { id: id.to_owned() })
    }

    /// Closes the open plot.
    pub fn close(&mut self, outside: Outside) -> Result<(), JsValue> {
        self.note(Deed::Closed { outside })
    }

    /// Forgets a plot.
    pub fn forget(&mut self, id: &str) -> Result<(), JsValue> {
        self.note(Deed::Forgotten { id: id.to_owned() })
    }

    fn note(&mut self, deed: Deed) -> Result<(), JsValue> {
        let text = serde_json::to_vec(&deed).map_err(|error| error.to_string())?;
        if let Some(log) = &mut self.log {
            log.append(&journal::record(DEED, &text))?;
        }
        self.apply(deed);
        Ok(())
    }

    fn follow(&mut self, bytes: &[u8]) -> usize {
        let read = journal::read(bytes);
        for record in read.records {
            if let Ok(deed) = serde_json::from_slice(record.payload) {
                self.apply(deed);
            }
        }
        read.end
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
