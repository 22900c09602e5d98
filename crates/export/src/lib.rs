//! A plot written for other tools: bytes made of a book, in formats that others define.
//!
//! # Glossary
//! - **sheet**: a CSV file of the plot folder as names and cells.
//! - **latest score**: of a tree and a trait, the last one in time that stands and has a value; of
//!   two at the same moment the one that came later.
//!
//! Same book → same bytes: nothing here reads a clock, and nothing goes by the order of a hash.
//!
//! ```
//! let mut folder = files::FileSet::new();
//! let head = r#"{"format": "leeward-plot", "version": 1, "name": "Withy Corner",
//!     "layout": {"row_spacing_m": 3, "place_spacing_m": 0.75}, "traits": [{"id": "scab_leaf", "disease": "scab",
//!     "label": "Scab on leaves", "kind": "ordinal", "scale": [
//!         {"value": 0, "label": "none seen", "severity": 0},
//!         {"value": 1, "label": "some", "severity": 0.1}]}]}"#;
//! folder.insert("plot.json".into(), head.into());
//! let trees = "tree_id,row,place,tag\nA,3,1,=31\n";
//! let scores = "score_id,tree_id,trait,value,scored_on\ns1,A,scab_leaf,1,2031-06-14\n";
//! folder.insert("trees.csv".into(), trees.into());
//! folder.insert("scores.csv".into(), scores.into());
//! let (book, _) = files::open(folder);
//!
//! let table = export::spreadsheet(&book.expect("a sound folder"));
//! let text = String::from_utf8(table.bytes)?;
//! // No spreadsheet takes the tag for a formula.
//! assert!(text.lines().nth(1).expect("a line").starts_with("A,3,1,'=31,"));
//! # Ok::<(), std::string::FromUtf8Error>(())
//! ```

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
