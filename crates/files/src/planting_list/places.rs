//! Where a line of the list plants: rows, places, intervals.

use std::ops::RangeInclusive;

use language::say;
use plot::{Every, MOST_PLACES, Planted, Run};

use super::Fault;
use super::words::Words;

/// Reads the part before the colon; line and what stands there are still to come.
pub(super) fn read(mut words: Words<'_>) -> Result<Run, Fault> {
    let start = words.clone();
    let mut run = Run { line: 0, rows: None, places: None, every: None, what: Planted::Empty };
    if words.take_if(&["all"]) {
        if !words.take_if(&["rows"]) {
            return Err(words.fault(say!("rows"), words.peek(), say!("all rows")));
        }
    } else if words.take_if(&["row", "rows"]) {
        run.rows = Some(range(&mut words, say!("rows"))?);
    }
    if words.take_if(&["place", "places"]) {
        run.places = Some(range(&mut words, say!("places"))?);
    }
    if words.take_if(&["every"]) {
        run.every = Some(every(&mut words)?);
    }
    match words.peek() {
        "" if start.rest().is_empty() => Err(words.fault(
            say!("rows"),
            "",
            say!("row 3, rows 3 to 5, all rows, place 7 or every 10th place"),
        )),
        "" => Ok(run),
        word => {
            let expected = match (&run.every, &run.places, &run.rows) {
                (Some(_), ..) => say!("a colon, and what stands there"),
                (None, Some(_), _) => say!("every 10th place, or a colon and what stands there"),
                (None, None, Some(_)) => {
                    say!("places 1 to 40, every 10th place, or a colon and what stands there")
                }
                (None, None, None) => {
                    say!("row 3, rows 3 to 5, all rows, place 7 or every 10th place")
                }
            };
            Err(words.fault(say!("where"), word, expected))
        }
    }
}

/// `3`, `3 to 5`, `3-5`.
fn range(words: &mut Words<'_>, part: &'static str) -> Result<RangeInclusive<i32>, Fault> {
    let from = words.number(part, MOST_PLACES)?;
    if !words.take_to() {
        return Ok(from..=from);
    }
    let to_word = words.clone();
    let to = words.number(part, MOST_PLACES)?;
    if to < from {
        let expected = say!("{from} or more: the lower number first");
        return Err(to_word.fault(part, to_word.peek(), &expected));
    }
    Ok(from..=to)
}

/// `10th place`, `10th`, `other place`, with `from 5`.
fn every(words: &mut Words<'_>) -> Result<Every, Fault> {
    let expected = say!("2nd to {most}th", most = MOST_PLACES);
    let word = words.peek();
    let digits = word.trim_end_matches(|letter: char| letter.is_ascii_alphabetic());
    let ending = &word[digits.len()..];
    let is_ordinal = ["", "st", "nd", "rd", "th"].iter().any(|it| ending.eq_ignore_ascii_case(it));
    let is_digits = digits.bytes().all(|byte| byte.is_ascii_digit());
    let nth = match (word.eq_ignore_ascii_case("other"), is_ordinal && is_digits) {
        (true, _) => Some(2),
        (false, true) => digits.parse().ok().filter(|nth| (2..=MOST_PLACES).contains(nth)),
        (false, false) => None,
    };
    let Some(nth) = nth else { return Err(words.fault(say!("every"), word, &expected)) };
    words.take();
    words.take_if(&["place", "places"]);
    let from = words.take_if(&["from"]).then(|| {
        words.take_if(&["place"]);
        words.number(say!("every"), MOST_PLACES)
    });
    Ok(Every { nth, from: from.transpose()? })
}
