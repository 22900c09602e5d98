//! A plot written as one file to be saved: the folder as a zip, or a format of another tool; and
//! what the page and the worker that does it say to each other.
//!
//! Packing and writing take seconds for large plots, so they happen beside the page.

mod message;
mod written;

pub use message::{FromWriter, ToWriter};
pub use written::{Format, Written, written};
