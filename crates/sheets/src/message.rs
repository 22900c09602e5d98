//! What page and worker say to each other.

use serde::{Deserialize, Serialize};
use serde_bytes::ByteBuf;

use crate::{Sheet, Unusable};

/// What the page says.
#[derive(Debug, Serialize, Deserialize)]
pub enum ToSheets {
    /// A workbook: its bytes; its first sheet with a list is wanted.
    Workbook(ByteBuf),
    /// Another sheet of it, by its place.
    Sheet(usize),
}

/// What the worker says.
#[derive(Debug, Serialize, Deserialize)]
pub enum FromSheets {
    /// It listens: what was said before may be lost.
    Ready,
    /// A sheet.
    Sheet(Sheet),
    /// It cannot be read.
    Unusable(Unusable),
}
