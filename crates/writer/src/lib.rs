//! A plot written as one file to be saved (the folder as a zip, a format of another tool, a copy to
//! read) or laid out for paper; and what the page and the worker that does it say to each other.
//!
//! Packing and writing take seconds for large plots, so they happen beside the page.

mod desk;
mod message;
mod print;
mod written;

pub use desk::Desk;
pub use message::{FromWriter, ToWriter};
pub use print::{MOST_PAGES, MapLayer, PrintWish, Printed, What};
pub use written::{Format, Written, written};
