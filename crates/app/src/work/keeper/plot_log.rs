//! One plot's log: its files, then every line of `scores.csv`, every change of a tree and every edit
//! and every decision made since.

use serde_bytes::ByteBuf;
use wasm_bindgen::prelude::*;

use files::FileSet;

use super::store::{Closed, Log, Store};
use crate::work::message::{Kept, NewPlot, OfTrees, Outside};
use files::journal::{self, Record};

/// A file: its name, a zero byte, its bytes.
const FILE: u8 = b'F';
/// The files are whole; holds what copies outside hold, as JSON.
const WHOLE: u8 = b'W';
/// A line of `scores.csv`.
const LINE: u8 = b'L';
/// A change of a cell of `trees.csv`.
const CHANGE: u8 = b'T';
/// An edit of trees, or of where the plot lies.
const EDIT: u8 = b'E';
/// An edit that the files hold already.
const PAST: u8 = b'P';
/// A decision on a tree.
const DECISION: u8 = b'D';
/// A copy outside of this browser holds every line before; what copies outside hold, as JSON.
const COPIED: u8 = b'C';

/// What is added to a plot's log while one scores.
pub enum Entry {
    /// A line of `scores.csv`.
    Line(Vec<u8>),
    /// A change of a cell of `trees.csv`.
    Change(Vec<u8>),
    /// An edit of trees.
    Edit(Vec<u8>),
    /// A decision on a tree.
    Decision(Vec<u8>),
    /// A new file: its path and bytes.
    File(String, Vec<u8>),
}

/// A plot's log, open for writing.
pub struct PlotLog {
    log: Log,
    outside: Outside,
    /// Whether its format is older than this page's: it may hold no edit and no decision yet.
    is_older: bool,
}

/// The name of a plot's log.
pub fn name(id: &str) -> String {
    format!("{id}.log")
}

/// Reads a plot that another tab may be writing.
pub async fn peek(store: &Store, id: &str) -> Result<Option<Kept>, Closed> {
    let bytes = store.peek(&name(id)).await?;
    Ok(kept(id, &bytes)?.map(|(kept, ..)| kept))
}

impl PlotLog {
    /// Writes a new plot; it counts only when all of it is on disk.
    pub async fn put(store: &Store, new: &NewPlot<'_>) -> Result<Self, JsValue> {
        let mut log = store.log(&name(&new.id)).await?;
        log.cut(0).await?;
        log.append(&[&journal::version()]).await?;
        for (name, bytes) in new.files.iter() {
            append_file(&mut log, name, bytes).await?;
        }
        for past in &new.past {
            log.append(&[&journal::record(PAST, past)]).await?;
        }
        log.append(&[&journal::record(WHOLE, &json(new.outside))]).await?;
        Ok(Self { log, outside: new.outside, is_older: false })
    }

    /// Opens a plot's log and reads it back; a torn end is cut off. None: it was never whole.
    pub async fn open(store: &Store, id: &str) -> Result<Option<(Self, Kept)>, Closed> {
        let mut log = store.log(&name(id)).await?;
        let bytes = log.read().await?;
        let Some((kept, end, is_older)) = kept(id, &bytes)? else { return Ok(None) };
        if end < bytes.len() {
            log.cut(end).await?;
        }
        let outside = kept.outside;
        Ok(Some((Self { log, outside, is_older }, kept)))
    }

    /// Adds a line, a change, an edit, a decision or a file.
    pub async fn append(&mut self, entry: &Entry) -> Result<(), JsValue> {
        match entry {
            Entry::Line(line) => self.log.append(&[&journal::record(LINE, line)]).await?,
            Entry::Change(line) => self.log.append(&[&journal::record(CHANGE, line)]).await?,
            Entry::Edit(record) => self.append_newer(EDIT, record).await?,
            Entry::Decision(line) => self.append_newer(DECISION, line).await?,
            Entry::File(path, bytes) => append_file(&mut self.log, path, bytes).await?,
        }
        self.outside.lacks += 1;
        Ok(())
    }

    /// Adds what a log of an older format may not hold; it becomes one of this format before.
    async fn append_newer(&mut self, kind: u8, payload: &[u8]) -> Result<(), JsValue> {
        let format = if self.is_older { journal::version() } else { Vec::new() };
        self.log.append(&[&format, &journal::record(kind, payload)]).await?;
        self.is_older = false;
        Ok(())
    }

    /// Notes that a copy outside holds everything so far.
    pub async fn copied(&mut self, at_ms: u64) -> Result<(), JsValue> {
        let outside = Outside { at_ms: Some(at_ms), lacks: 0 };
        self.log.append(&[&journal::record(COPIED, &json(outside))]).await?;
        self.outside = outside;
        Ok(())
    }

    /// What copies outside hold.
    pub fn outside(&self) -> Outside {
        self.outside
    }
}

/// Writes the parts of the record as they are: a file may be large.
async fn append_file(log: &mut Log, name: &str, bytes: &[u8]) -> Result<(), JsValue> {
    let (name, zero) = (name.as_bytes(), b"\0");
    let head = journal::head(FILE, &[name, zero, bytes]);
    log.append(&[head.as_bytes(), name, zero, bytes, journal::END]).await
}

fn json(outside: Outside) -> Vec<u8> {
    serde_json::to_vec(&outside).unwrap_or_default()
}

/// The plot that a log holds, where its last whole record ends, and whether its format is older.
fn kept(id: &str, bytes: &[u8]) -> Result<Option<(Kept, usize, bool)>, Closed> {
    let read = journal::read(bytes);
    if read.is_newer {
        return Err(Closed::Newer);
    }
    let mut files = FileSet::new();
    let mut is_whole = false;
    let (mut lines, mut decisions) = (Vec::new(), Vec::new());
    let (mut trees, mut outside) = (Vec::new(), Outside::default());
    for Record { kind, payload } in read.records {
        match kind {
            FILE => {
                let Some(zero) = payload.iter().position(|&byte| byte == 0) else {
                    return Ok(None);
                };
                let name = String::from_utf8_lossy(&payload[..zero]).into_owned();
                files.insert(name, payload[zero + 1..].to_vec());
                outside.lacks += u64::from(is_whole);
            }
            WHOLE | COPIED => {
                is_whole = true;
                outside = serde_json::from_slice(payload).unwrap_or_default();
            }
            LINE => {
                lines.extend_from_slice(payload);
                outside.lacks += 1;
            }
            CHANGE => {
                match trees.last_mut() {
                    Some(OfTrees::Changes(changes)) => changes.extend_from_slice(payload),
                    _ => trees.push(OfTrees::Changes(ByteBuf::from(payload))),
                }
                outside.lacks += 1;
            }
            PAST => trees.push(OfTrees::Past(ByteBuf::from(payload))),
            EDIT => {
                trees.push(OfTrees::Edit(ByteBuf::from(payload)));
                outside.lacks += 1;
            }
            DECISION => {
                decisions.extend_from_slice(payload);
                outside.lacks += 1;
            }
            // What is whole and yet not understood, a newer version has written.
            _ => return Err(Closed::Newer),
        }
    }
    let kept = Kept {
        id: id.to_owned(),
        files: files.into(),
        lines: ByteBuf::from(lines),
        decisions: ByteBuf::from(decisions),
        trees,
        outside,
        torn: read.torn as u64,
    };
    Ok(is_whole.then_some((kept, read.end, read.is_older)))
}
