//! A place as people say or type it: `row 7 place 12`, `r7 12`, `7/12`, `row 7`; in
//! English, or in the language that is spoken.

use language::say;
use plot::TreeIx;

use super::fold;
use super::likeness::{Shape, Typed};
use crate::Rows;

/// What is wrong with a place that was asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OnTheSpot {
    /// The plot has no such row; `first` and `last` are the rows that it has.
    NoSuchRow {
        /// Asked for.
        row: i32,
        /// Lowest row.
        first: i32,
        /// Highest row.
        last: i32,
    },
    /// The row has no such place.
    NoSuchPlace {
        /// The row.
        row: i32,
        /// Asked for.
        place: i32,
        /// Lowest place of the row.
        first: i32,
        /// Highest place of the row.
        last: i32,
    },
}

/// A place that a question may mean.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct SpokenPlace {
    row: i32,
    place: Option<i32>,
    /// Said with the word row, not as two bare numbers that may mean something else.
    pub(super) in_words: bool,
}

/// The place that a question means, if it can mean one.
pub(super) fn read(typed: &str) -> Option<SpokenPlace> {
    let words: Vec<String> = fold::words(typed).iter().flat_map(|word| split(word)).collect();
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    let (rows, places) = own_words();
    let is_row =
        |word: &str| word == "r" || is_like(word, &["row", "rows"]) || is_like(word, &rows);
    let is_place = |word: &str| {
        matches!(word, "p" | "no" | "nr" | "t")
            || is_like(word, &["place", "tree", "number"])
            || is_like(word, &places)
    };
    let number = |word: &str| word.parse::<i32>().ok();
    let (row, place, in_words) = match words[..] {
        [word, row] if is_row(word) => (row, None, true),
        [word, row, place] if is_row(word) => (row, Some(place), true),
        [word, row, sign, place] if is_row(word) && is_place(sign) => (row, Some(place), true),
        [sign, place, word, row] if is_row(word) && is_place(sign) => (row, Some(place), true),
        [row, place] => (row, Some(place), false),
        _ => return None,
    };
    let place = match place {
        Some(place) => Some(number(place)?),
        None => None,
    };
    Some(SpokenPlace { row: number(row)?, place, in_words })
}

/// What a person calls a row, and a place, in the language that is spoken.
fn own_words() -> (Vec<&'static str>, Vec<&'static str>) {
    let rows = say!("row rows"; "words that are typed for a row, in small letters");
    let places = say!("place tree number"; "words that are typed for a place, in small letters");
    (rows.split(' ').collect(), places.split(' ').collect())
}

impl SpokenPlace {
    /// The trees of that place or row, as the rows list them.
    pub(super) fn trees(self, rows: &Rows) -> Result<Vec<TreeIx>, OnTheSpot> {
        let Some(row) = rows.row(self.row) else {
            let number = |row: Option<&crate::Row>| row.map_or(0, |row| row.number);
            let (first, last) = (number(rows.all().first()), number(rows.all().last()));
            return Err(OnTheSpot::NoSuchRow { row: self.row, first, last });
        };
        match self.place {
            None => Ok(row.places.iter().flat_map(|place| &place.trees).copied().collect()),
            Some(place) => {
                row.place(place).map(|place| place.trees.clone()).ok_or(OnTheSpot::NoSuchPlace {
                    row: row.number,
                    place,
                    first: row.first(),
                    last: row.last(),
                })
            }
        }
    }
}

/// `r7p12` → `r`, `7`, `p`, `12`.
fn split(word: &str) -> Vec<String> {
    let letters: Vec<char> = word.chars().collect();
    letters
        .chunk_by(|a, b| a.is_ascii_digit() == b.is_ascii_digit())
        .map(|run| run.iter().collect())
        .collect()
}

/// Whether a word is one of these or a slip away from it.
fn is_like(word: &str, of: &[&str]) -> bool {
    let typed = Typed::new(word);
    let close = |known: &&str| {
        word.len() >= 3
            && word.len().abs_diff(known.len()) <= 1
            && typed.compare(known, Shape::of(known)).is_some()
    };
    of.contains(&word) || of.iter().any(close)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(typed: &str, expect: Option<(i32, Option<i32>, bool)>) {
        let read = read(typed).map(|place| (place.row, place.place, place.in_words));
        assert_eq!(read, expect, "{typed}");
    }

    #[test]
    fn places_are_understood() {
        check("row 7 place 12", Some((7, Some(12), true)));
        check("Row 7, 12", Some((7, Some(12), true)));
        check("r7 12", Some((7, Some(12), true)));
        check("r7p12", Some((7, Some(12), true)));
        check("R07-P012", Some((7, Some(12), true)));
        check("rwo 7 plcae 12", Some((7, Some(12), true)));
        check("tree 12 row 7", Some((7, Some(12), true)));
        check("row7", Some((7, None, true)));
        check("7/12", Some((7, Some(12), false)));
        check("7 12", Some((7, Some(12), false)));
        check("q 12", None);
        check("row", None);
        check("row seven", None);
        check("row 7 place 99999999999", None);
        check("7 12 3", None);
    }
}
