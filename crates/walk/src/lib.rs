//! Finding a tree and walking the rows: tolerant search, a place in words, routes, and a walk that
//! can be taken back and taken up again without end.
//!
//! # Glossary
//! - **place**: a numbered hole of a row; a missing tree keeps its number, so one place may have
//!   held several trees, and a tree's grafts share its place.
//! - **end**: where place numbers begin or stop; people call it 'the road end'.
//! - **route**: the trees of a walk, in walking order. **stop**: one tree of a route. **leg**: the
//!   stops of one row.
//! - **cell**: one trait at one stop; *open* until it is scored or said to be unscorable.
//! - **read**: a tag as a person read it, right or wrong; a *misread* one says something else than
//!   the tag does, or hangs on the wrong tree.
//! - **code**: a tree's id with a check character, short enough to be typed from its tag.
//! - **fix**: where a receiver says one stands, with its error.
//! - **fact**: what one sees of the tree itself (it is dead, it has no tag): no score, but a change
//!   of its line in `trees.csv`.
//! - **line**: a score as `scores.csv` keeps it. Lines are only ever added: taking one back adds
//!   another line that replaces it.
//!
//! This crate has no clock and draws no random number: ids and times are handed in.
//!
//! ```
//! use walk::{Ends, Finder, Rows, Whereabouts};
//!
//! let mut folder = files::FileSet::new();
//! let head = r#"{"format": "leeward-plot", "version": 1, "name": "Withy Corner",
//!     "layout": {"row_spacing_m": 3, "place_spacing_m": 0.75}, "traits": []}"#;
//! folder.insert("plot.json".into(), head.into());
//! let trees = "tree_id,row,place,tag\nA,3,1,W-31\nB,3,2,W-32\nC,3,3,\nD,3,4,W-34\n";
//! folder.insert("trees.csv".into(), trees.into());
//! let (book, _) = files::open(folder);
//! let book = book.expect("a sound folder");
//! let (plot, rows) = (book.plot(), Rows::of(book.plot()));
//!
//! // Typed with a slip.
//! let found = Finder::new(plot).find(plot, &rows, "w 32", 5);
//! let place = Whereabouts::of(plot, &rows, found.hits[0].tree);
//! let said = place.sentence(plot, &Ends::default());
//! assert_eq!(said, "Row 3, place 2, between W-31 and C (no tag).");
//! ```

mod caution;
mod find;
mod here;
mod jump;
mod place_words;
mod round;
mod route;
mod rows;
#[cfg(test)]
mod sample;
mod walk;
mod which;

pub use caution::{seen_infected, seen_on_tools};
pub use find::{Field, Finder, Found, Hit, How, Indexing, Matched, OnTheSpot};
pub use here::{Fix, Here, Stretch, compass_point};
pub use jump::Odd;
pub use place_words::{Beside, Ends, InRow, Whereabouts, way_between};
pub use round::{OpenRound, RoundChoices, round_choices};
pub use route::{End, Leg, Route, Way, Wish, rows_from_text, rows_in_text};
pub use rows::{Place, Row, Rows};
pub use walk::{
    Bookmark, Command, Content, Cursor, Fact, Jump, LegProgress, Looked, Setup, Stamp, Step,
    Summary, TakenBack, Tally, Unable, Walk,
};
pub use which::{
    CannotCheck, CannotTell, Difference, Differs, Guess, PlantingList, RowChecked, STEPS_AT_MOST,
    Seen, Side, Sure, TREES_AT_MOST, WhichTree, Who, percent,
};
