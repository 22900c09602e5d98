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
