//! A plot written for other tools: bytes made of a book, in formats that others define.
//!
//! # Glossary
//! - **sheet**: a CSV file of the plot folder as names and cells.
//! - **latest score**: of a tree and a trait, the last one in time that stands and has a value; of
//!   two at the same moment the one that came later.
//!
//! Same book → same bytes: nothing here reads a clock, and nothing goes by the order of a hash.

mod brapi;
mod columns;
mod geojson;
mod one_a_line;
mod package;
mod scored;
mod sheets;
mod spreadsheet;
mod workbook;

pub use brapi::brapi;
pub use columns::Kind;
pub use geojson::{geojson, lon_lat};
pub use package::{DESCRIPTOR, data_package, descriptor};
pub use sheets::{Sheet, scores, trees};
pub use spreadsheet::{Spreadsheet, spreadsheet};
pub use workbook::workbook;

#[cfg(test)]
mod round_trip;
#[cfg(test)]
mod testing;
