//! A list brought in: any table of trees, pasted or from a file, read as it stands, its columns
//! matched, every fault told by line before anything is taken.
//!
//! 1. [`decode()`] finds how the bytes are written, [`Separator::sniff`] what parts the cells.
//! 2. [`Reading`] reads the [`Rows`], in bounded steps.
//! 3. [`Heading::find`] finds the header, also below titles or over two lines; [`Columns::guess`]
//!    says what each column may be, by its header and by what its cells look like.
//! 4. [`Draft`] makes of each line a new tree, a change of one that is there, or faults; in
//!    bounded steps, too. Nothing is taken by that.
//!
//! [`Intake`] does all of it in turn.
//!
//! A table that the plot itself wrote for spreadsheets is known by its header: then every column is
//! what its name says, and what was not edited changes nothing.
//!
//! Positions of a receiver are read by [`read_positions`], given to places by [`walked()`], and laid
//! over the plot by [`Survey`].
//!
//! What is sniffed can be overridden by a person at every step.

mod cells;
mod columns;
mod dates;
mod decode;
mod draft;
mod heading;
mod intake;
#[cfg(test)]
mod laws;
mod matching;
mod merged;
mod nmea;
mod numbers;
mod own;
mod positions;
mod rows;
mod separator;
mod survey;
mod target;
mod walked;
mod words;

pub use columns::Columns;
pub use dates::DateOrder;
pub use decode::{Encoding, decode};
pub use draft::{Choices, Counts, Draft, Line, Skipped, Taken, What};
pub use heading::Heading;
pub use intake::{Intake, Source, Wishes};
pub use matching::MatchBy;
pub use nmea::{Fix, Fixes, Quality, is_nmea, read_nmea};
pub use numbers::Decimal;
pub use positions::{Positions, read_positions};
pub use rows::{Reading, Rows};
pub use separator::Separator;
pub use survey::{Point, Stands, Survey};
pub use target::Target;
pub use walked::{Walked, likely_walk, walked};
