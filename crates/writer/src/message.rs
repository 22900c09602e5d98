//! What page and worker say to each other.

use plot::Problem;
use serde::{Deserialize, Serialize};
use serde_bytes::Bytes;

use crate::{Format, Written};

/// What the page says.
#[derive(Debug, Serialize, Deserialize)]
pub enum ToWriter<'a> {
    /// A piece of a file of the plot folder, the next one of it.
    Piece {
        /// Its path within the folder.
        file: &'a str,
        /// The bytes.
        #[serde(borrow)]
        bytes: &'a Bytes,
    },
    /// Everything was handed over: write it.
    Write {
        /// As what.
        format: Format,
        /// The name of the file to be saved, without an ending.
        name: &'a str,
    },
}

/// What the worker says.
#[derive(Debug, Serialize, Deserialize)]
pub enum FromWriter {
    /// It listens: what was said before may be lost.
    Ready,
    /// The file.
    Written(Written),
    /// The format cannot hold the plot.
    Refused(Vec<Problem>),
}
