//! A planting list as text.

use std::ops::RangeInclusive;

use plot::{Planted, Run};

use super::what::ROLES;

/// The lines of a plan as one writes them. [`read`](super::read) gives the same lines back,
/// numbered from 1, as long as no parent's name holds a comma, no name a line end or the sign of a
/// cross, and none begins with what says what a tree is there for.
pub fn print(runs: &[Run]) -> String {
    runs.iter().map(|run| format!("{}: {}\n", places(run), what(&run.what))).collect()
}

fn places(run: &Run) -> String {
    let rows = match &run.rows {
        None => "all rows".to_owned(),
        Some(rows) => range("row", rows),
    };
    let places = run.places.as_ref().map(|places| range("place", places));
    let every = run.every.map(|every| {
        let from = every.from.map(|from| format!(" from {from}")).unwrap_or_default();
        format!("every {}{} place{from}", every.nth, ending(every.nth))
    });
    let parts: Vec<String> = [Some(rows), places, every].into_iter().flatten().collect();
    parts.join(" ")
}

fn range(word: &str, numbers: &RangeInclusive<i32>) -> String {
    match (numbers.start(), numbers.end()) {
        (one, other) if one == other => format!("{word} {one}"),
        (from, to) => format!("{word}s {from} to {to}"),
    }
}

/// What makes an ordinal of a number.
fn ending(nth: i32) -> &'static str {
    match (nth % 10, nth % 100) {
        (_, 11..=13) => "th",
        (1, _) => "st",
        (2, _) => "nd",
        (3, _) => "rd",
        _ => "th",
    }
}

fn what(what: &Planted) -> String {
    match what {
        Planted::Places(1) => "1 place".to_owned(),
        Planted::Places(count) => format!("{count} places"),
        Planted::Cross { key, year, from_no } => {
            let year = year.map(|year| format!(", {year}")).unwrap_or_default();
            let from_no = from_no.map(|number| format!(", from no. {number}")).unwrap_or_default();
            format!("{key}{year}{from_no}")
        }
        Planted::Sort { role, name } => {
            let said = ROLES.iter().find(|(_, one)| one == role).map(|(said, _)| said.join(" "));
            let name = name.as_ref().map(ToString::to_string);
            let parts: Vec<String> = [said, name].into_iter().flatten().collect();
            parts.join(" ")
        }
        Planted::Empty => "empty".to_owned(),
    }
}
