//! The language a person reads: texts looked up, numbers and days by its locale.
//!
//! English stands in the code, in [`say!`], [`count!`] and [`text!`], and is what is said as long as
//! nobody called [`speak`]. That happens once, before the first text: another language is another
//! start of the page. Texts that go into files are no texts of a screen, and stay as they are.
//!
//! ```
//! use language::{count, say};
//!
//! let (row, trees) = (7, 1);
//! assert_eq!(say!("Row {row}"), "Row 7");
//! assert_eq!(count!(trees, "1 tree", "{trees} trees"), "1 tree");
//! assert_eq!(say!("{share:.1} of all", share = 0.25), "0.2 of all");
//! ```

mod fill;
mod locale;
mod spoken;

use std::fmt::Arguments;
use std::sync::OnceLock;

pub use say::{count, say, text};

use spoken::Spoken;

/// What parts the records of what [`speak`] is given (ASCII's record separator).
pub const RECORD: char = '\u{1e}';
/// What parts the fields of a record (ASCII's unit separator).
pub const FIELD: char = '\u{1f}';

static SPOKEN: OnceLock<Spoken> = OnceLock::new();

fn spoken() -> &'static Spoken {
    SPOKEN.get_or_init(Spoken::default)
}

/// Takes up a language: a record of its locale (the sign before decimals; a day as
/// `{day} {month} {year}`; the names of the twelve months), then one for each text: English, the
/// translation. Of a text that counts: English for many, the translation for one and for many.
/// False where a language is spoken already, or the locale is not whole.
pub fn speak(words: String) -> bool {
    Spoken::read(words.leak()).is_some_and(|spoken| SPOKEN.set(spoken).is_ok())
}

/// A text that stands in a constant ([`text!`]) as it is said.
///
/// ```
/// use language::{said, text};
///
/// const ENDS: [&str; 2] = [text!("left end"), text!("right end")];
/// assert_eq!(said(ENDS[1]), "right end");
/// ```
pub fn said(english: &'static str) -> &'static str {
    spoken().said(english)
}

/// A text that comes with the program as data (a disease's profile) as it is said; any other stays
/// as it is.
pub fn said_of(text: &str) -> &str {
    spoken().said_of(text)
}

/// A text with its values put in.
#[doc(hidden)]
pub fn filled(english: &'static str, values: &[(&str, Arguments)]) -> String {
    spoken().filled(english, values)
}

/// The text for one or for many, with its values put in.
#[doc(hidden)]
pub fn counted(number: u64, english: [&'static str; 2], values: &[(&str, Arguments)]) -> String {
    spoken().counted(number, english, values)
}

/// A number that Rust wrote (`12.5`), with the sign that the locale has before decimals.
pub fn decimal(written: String) -> String {
    spoken().locale.decimal(written)
}

/// A day of the Gregorian calendar (month 1 to 12) in full: `14 June 2031`.
pub fn day(year: i32, month: u8, day: u8) -> String {
    spoken().locale.day(year, month, day)
}
