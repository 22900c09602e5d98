//! A plot on paper, to the millimetre: field sheets, tags with a square code, the map in grey; a
//! report of a plot as plain data and as HTML, and a copy of a plot to read without Leeward.
//!
//! # Glossary
//! - **page**: one side of paper, a standalone SVG document whose unit is the millimetre.
//! - **format**: size of the paper and which way it lies.
//! - **ruler**: 100 mm on the page, to hold a ruler against: printers like to shrink.
//! - **field sheet**: the trees of a walk in walking order, with a box for each score.
//! - **label**: a piece of a sheet that comes off; **tag**: what is printed on one for a tree.
//! - **square code**: a QR code (ISO/IEC 18004) that holds what Find reads from a tag.
//! - **document**: a report as blocks of plain data, for whoever shows it.
//! - **copy**: one HTML file without a script that holds a plot to look at, and its folder.
//!
//! The same plot gives the same bytes: nothing here reads a clock or knows of paths. No style is
//! written into an element, so that pages can be shown under a strict content-security policy.
//!
//! ```
//! use paper::{LabelSheet, LabelSize, Paper, Tags, tags};
//!
//! let mut folder = files::FileSet::new();
//! let head = r#"{"format": "leeward-plot", "version": 1, "name": "Withy Corner",
//!     "layout": {"row_spacing_m": 3, "place_spacing_m": 0.75}, "traits": []}"#;
//! folder.insert("plot.json".into(), head.into());
//! let trees = "tree_id,row,place,tag\nT0001-8,3,1,W-31\n";
//! folder.insert("trees.csv".into(), trees.into());
//! let (book, _) = files::open(folder);
//! let book = book.expect("a sound folder");
//! let plot = book.plot();
//!
//! let trees = paper::trees_for_tags(plot, walk::Wish::default(), false);
//! let sheet = LabelSheet::grid(Paper::A4, LabelSize::Medium);
//! let asked = Tags { plot, trees: &trees, sheet, start: 1, address: None, outlined: true };
//! let pages = tags(&asked).expect("labels with room for a code");
//! assert_eq!((pages.len(), pages[0].size_mm), (1, [210.0, 297.0]));
//! assert!(pages[0].svg.contains("W-31"));
//! ```

mod base64;
mod copy;
mod document;
mod drawing;
mod field;
mod format;
mod html;
mod label;
mod letters;
mod map;
mod method;
mod report;
mod ruler;
mod square;
mod tags;
#[cfg(test)]
mod testing;

pub use copy::{ReadingCopy, reading_copy};
pub use document::{Block, Column, Document, Table};
pub use field::{FieldSheets, field_sheets};
pub use format::{Format, Orientation, Page, Paper};
pub use html::{document_html, pages_html};
pub use label::{LabelSheet, LabelSize};
pub use map::{MapPages, map_pages};
pub use report::{EXPLAINED, Reported, report};
pub use square::SquareTexts;
pub use tags::{Tags, tags, test_page, trees_for_tags};
