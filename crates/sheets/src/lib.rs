//! Workbooks (xlsx, ods) read for a list that is brought in, and what the page and the worker that
//! does it say to each other.
//!
//! A sheet becomes CSV text, so that everything below it goes one way: cells as the workbook holds
//! them, days as ISO 8601, numbers with a dot.

mod message;
mod read;

pub use message::{FromSheets, ToSheets};
pub use read::{MOST_BYTES, Sheet, Unusable, read};
