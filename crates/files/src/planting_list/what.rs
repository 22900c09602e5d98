//! What a line of the list plants: a cross, a sort, a check, a guard, nothing, or a number of
//! places.

use std::sync::Arc;

use language::say;
use plot::{CrossKey, GenotypeId, MOST_PLACES, Planted, Role};

use super::Fault;
use super::words::Words;

/// Words that say what a tree is there for, with a name after them.
pub(super) const ROLES: [(&[&str], Role); 4] = [
    (&["susceptible", "check"], Role::SusceptibleCheck),
    (&["resistant", "check"], Role::ResistantCheck),
    (&["sort"], Role::Named),
    (&["guard"], Role::Guard),
];
const MOST_NUMBER: u32 = 1_000_000;
const YEARS: std::ops::RangeInclusive<i32> = 1900..=2999;

/// Reads the part after the colon.
pub(super) fn read(words: Words<'_>) -> Result<Planted, Fault> {
    if words.rest().eq_ignore_ascii_case("empty") {
        return Ok(Planted::Empty);
    }
    for (said, role) in ROLES {
        let mut after = words.clone();
        if said.iter().all(|word| after.take_if(&[word])) && cross_sign(after.rest()) != Some(0) {
            return sort(after, role);
        }
    }
    if words.rest().starts_with(|letter: char| letter.is_ascii_digit())
        && cross_sign(words.rest()).is_none()
    {
        return places(words);
    }
    match cross_sign(words.rest()) {
        Some(_) => cross(words),
        None => Err(words.fault(say!("what"), words.rest(), any())),
    }
}

fn any() -> &'static str {
    say!(
        "a cross such as Marl × TR-9, 2029; susceptible check, resistant check or sort with a \
         name; guard; empty; or how many places, such as 33 places"
    )
}

/// `33 places`, `33`.
fn places(mut words: Words<'_>) -> Result<Planted, Fault> {
    let count = words.number(say!("what"), MOST_PLACES)?;
    words.take_if(&["place", "places"]);
    match words.peek() {
        "" => Ok(Planted::Places(count)),
        word => Err(words.fault(say!("what"), word, say!("places, or nothing more"))),
    }
}

fn sort(words: Words<'_>, role: Role) -> Result<Planted, Fault> {
    let name = words.rest();
    if name.is_empty() && role != Role::Guard {
        return Err(words.fault(say!("name"), "", say!("its name")));
    }
    if cross_sign(name).is_some() {
        return Err(words.fault(say!("name"), name, say!("a name, and no cross")));
    }
    let name = (!name.is_empty()).then(|| GenotypeId::new(name));
    Ok(Planted::Sort { role, name })
}

/// `Marl × TR-9, 2029, from no. 41`.
fn cross(mut words: Words<'_>) -> Result<Planted, Fault> {
    let mut after = words.clone();
    let names = match after.take_until(',') {
        Some(names) => {
            words = after;
            names
        }
        None => std::mem::replace(&mut words, Words::of("", 0)),
    };
    let key = parents(&names)?;
    let (mut year, mut from_no) = (None, None);
    loop {
        let word = words.peek();
        if word.is_empty() {
            return Ok(Planted::Cross { key, year, from_no });
        }
        let mut after = words.clone();
        if after.take_if(&["from"]) && from_no.is_none() {
            if !after.take_if(&["no.", "no"]) {
                return Err(after.fault(
                    say!("no."),
                    after.peek(),
                    say!("no. and a number, such as no. 41"),
                ));
            }
            from_no = Some(after.number(say!("no."), MOST_NUMBER)?);
            words = after;
            continue;
        }
        match word.parse().ok().filter(|year| YEARS.contains(year) && word.len() == 4) {
            Some(said) if year.is_none() => {
                year = Some(said);
                words.take();
            }
            _ => {
                let expected = match (year, from_no) {
                    (None, None) => say!("the year of the cross, such as 2029, or from no. 41"),
                    (Some(_), None) => say!("from no. 41, or nothing more"),
                    (None, Some(_)) => say!("the year of the cross, such as 2029, or nothing more"),
                    (Some(_), Some(_)) => say!("nothing more"),
                };
                return Err(words.fault(say!("year"), word, expected));
            }
        }
    }
}

/// Seed parent × pollen parent.
fn parents(names: &Words<'_>) -> Result<CrossKey, Fault> {
    let (seed, pollen) = cross_parts(names.rest()).unwrap_or((names.rest(), ""));
    let whole = say!("seed parent × pollen parent, ? for one that is unknown");
    if seed.is_empty() || pollen.is_empty() || cross_sign(pollen).is_some() {
        return Err(names.fault(say!("parents"), names.rest(), whole));
    }
    let parent = |name: &str| (name != "?").then(|| Arc::from(name));
    let key = CrossKey { seed_parent: parent(seed), pollen_parent: parent(pollen) };
    match key.is_unknown() {
        true => Err(names.fault(
            say!("parents"),
            names.rest(),
            say!("at least one parent that is known"),
        )),
        false => Ok(key),
    }
}

/// Both sides of the sign of a cross.
fn cross_parts(text: &str) -> Option<(&str, &str)> {
    let at = cross_sign(text)?;
    let sign = text[at..].chars().next()?;
    Some((text[..at].trim(), text[at + sign.len_utf8()..].trim()))
}

/// Where the first sign of a cross stands: `×` anywhere, `x` or `*` with spaces around it.
fn cross_sign(text: &str) -> Option<usize> {
    let stands_alone = |at: usize| {
        let before = text[..at].chars().next_back();
        let after = text[at + 1..].chars().next();
        before.is_none_or(char::is_whitespace) && after.is_none_or(char::is_whitespace)
    };
    text.char_indices()
        .find(|&(at, letter)| match letter {
            '×' => true,
            'x' | 'X' | '*' => stands_alone(at),
            _ => false,
        })
        .map(|(at, _)| at)
}
