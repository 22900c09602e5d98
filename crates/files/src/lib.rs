//! Bytes to plot and back: the plot folder read and written line by line, nothing lost.
//!
//! # Glossary
//! - **file set**: the files of a plot folder by their path within it.
//! - **book**: a file set together with the plot that was read from it. Lines that were not
//!   touched, sound or faulty, are written back byte for byte; new scores are lines at the end.
//! - **head**: what `plot.json` says.
//! - **list**: any table of trees that a person brings in ([`list`]).
//! - **planting list**: a plan in plain lines, such as `row 3 places 1 to 40: Marl × TR-9, 2029`.
//! - **fault, notice**: see [`plot::Weight`]. A faulty line is not part of the plot and stays in
//!   its file.
//!
//! Reading never panics and never stops at the first fault; [`Opening`] reads in bounded steps so
//! that a page stays alive, [`open`] reads to the end. [`write()`] turns a plot made from scratch
//! into a folder, [`pack()`] and [`unpack`] turn a folder into one ZIP archive and back.
//!
//! ```
//! use files::{FileSet, open};
//!
//! let mut folder = FileSet::new();
//! folder.insert("trees.csv".into(), b"tree_id,row,place\nA-1,1,1\n".to_vec());
//! let (book, problems) = open(folder);
//! assert!(book.is_none());
//! assert_eq!(
//!     problems[0].to_string(),
//!     "plot.json: found no plot.json, expected a plot folder with plot.json and trees.csv"
//! );
//! ```

mod appended;
mod book;
mod caps;
mod changes;
mod decisions;
mod edit_line;
mod editing;
mod ends;
mod events;
mod findings;
mod folder;
mod guard;
mod head;
pub mod journal;
#[cfg(test)]
mod laws;
pub mod list;
mod merge;
mod opening;
mod pack;
mod photos;
mod planting_form;
pub mod planting_list;
mod score_columns;
mod scores;
mod sniff;
mod starters;
mod table;
mod tree_cells;
mod tree_log;
mod tree_sheet;
mod trees;
mod unpacking;
mod weather;
mod written;

/// The CSV files of a plot folder, without `.csv`, and the columns that they may have.
pub fn columns() -> [(&'static str, &'static [&'static str]); 5] {
    use table::Column;
    [
        ("trees", trees::TreeColumn::NAMES),
        ("scores", scores::ScoreColumn::NAMES),
        ("decisions", decisions::DecisionColumn::NAMES),
        ("events", events::EventColumn::NAMES),
        ("weather", weather::WeatherColumn::NAMES),
    ]
}

pub use book::Book;
pub use caps::{
    ARCHIVE_BYTES, ARCHIVE_FILES, CELL_BYTES, COLUMNS, CSV_BYTES, HEAD_BYTES, LINES, PHOTO_BYTES,
    PROBLEMS, bytes_allowed, is_read, too_large,
};
pub use folder::{FileSet, base, is_hidden, plain_name};
pub use guard::{guarded, is_plain_number, unguarded};
pub use head::built_in_diseases;
pub use merge::{
    CONFLICTS, Choice, Conflict, Merged, NewScores, News, decide, merge, news, undecided,
};
pub use opening::{Opening, open};
pub use pack::pack;
pub use photos::{is_photo, photographed};
pub use planting_form::PlantingForm;
pub use starters::{Starter, chosen_traits, starters, usual_traits};
pub use tree_log::TreeRecord;
pub use unpacking::{Unpacking, unpack, unpack_at_most};
pub use written::{write, write_with_ends};
