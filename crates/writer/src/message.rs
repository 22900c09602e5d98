//! What page and worker say to each other.

use plot::Problem;
use proof::Report;
use serde::{Deserialize, Serialize};
use serde_bytes::Bytes;

use crate::{Format, PrintWish, Printed, Written};

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
    /// What was found out about a disease, for what is printed.
    Report(Box<Report>),
    /// Lay this out.
    Print(PrintWish),
    /// Write a copy to read; `name` is what the folder in it is called.
    Copy {
        /// The name, without an ending.
        name: &'a str,
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
    /// Pages, or a report.
    Printed(Printed),
    /// Why nothing can be printed.
    CannotPrint(String),
}
