//! One cell of a list put into a tree's draft.

use std::sync::Arc;

use language::say;
use plot::{CrossKey, GenotypeId, Globe, Spot, TreeDraft, TreeField as F, TreeId};

use super::dates::{self, DateOrder, Unread};
use super::heading::one_line;
use super::{Decimal, Target, words};

/// What a list writes how.
#[derive(Clone, Copy, Debug)]
pub(super) struct Manner {
    pub(super) decimal: Decimal,
    pub(super) order: Option<DateOrder>,
}

/// Halves of a position, put together when the line is read.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Halves {
    x_m: Option<f64>,
    y_m: Option<f64>,
    lon: Option<f64>,
    lat: Option<f64>,
}

/// Puts a cell that is not empty into a draft; what was expected instead where it does not fit.
pub(super) fn put(
    target: Target,
    text: &str,
    manner: Manner,
    draft: &mut TreeDraft,
    halves: &mut Halves,
) -> Result<(), &'static str> {
    let one_line = one_line(text);
    let word = || Some(Arc::from(one_line.as_str()));
    let parent = || word().filter(|_| one_line != "?");
    match target {
        Target::Skip => {}
        Target::TreeId => draft.id = TreeId::new(one_line.as_str()),
        Target::RowPlace => {
            let (row, place) = row_place(text)
                .ok_or_else(|| say!("row and place, such as 3/12 or row 3 place 12"))?;
            (draft.location.row, draft.location.place) = (Some(row), Some(place));
        }
        Target::Cross => {
            let (seed, pollen) =
                parents(text).ok_or_else(|| say!("two parents, such as Marl × TR-9"))?;
            let known = |parent: &str| (parent != "?").then(|| Arc::from(parent));
            draft.cross = CrossKey { seed_parent: known(seed), pollen_parent: known(pollen) };
        }
        Target::Field(field) => match field {
            F::Row => draft.location.row = Some(whole(text, manner)?),
            F::Place => draft.location.place = Some(whole(text, manner)?),
            F::X => halves.x_m = Some(metres(text, manner)?),
            F::Y => halves.y_m = Some(metres(text, manner)?),
            F::Lon => halves.lon = Some(longitude(text, manner)?),
            F::Lat => halves.lat = Some(latitude(text, manner)?),
            F::Tag => draft.tag = word(),
            F::Genotype => draft.genotype = Some(GenotypeId::new(one_line.as_str())),
            F::SeedParent => draft.cross.seed_parent = parent(),
            F::PollenParent => draft.cross.pollen_parent = parent(),
            F::CrossYear => draft.cross_year = Some(year(text, manner)?),
            F::SeedlingNo => draft.seedling_no = Some(number_as_word(&one_line)),
            F::Role => draft.role = words::role(text).ok_or_else(roles)?,
            F::GraftedOn => draft.grafted_on = Some(TreeId::new(one_line.as_str())),
            F::Status => draft.status = words::status(text).ok_or_else(statuses)?,
            F::PlantedOn => draft.planted_on = Some(day(text, manner)?),
            F::RemovedOn => draft.removed_on = Some(day(text, manner)?),
            // Notes are put together once the tree is known.
            F::Note => {}
        },
    }
    Ok(())
}

fn roles() -> &'static str {
    say!("seedling, named, susceptible check, resistant check or guard")
}

fn statuses() -> &'static str {
    say!("alive, dead, removed or empty")
}

/// Puts the halves of positions into a draft; the half that is missing where there is but one.
pub(super) fn settle(halves: Halves, draft: &mut TreeDraft) -> Result<(), (F, &'static str)> {
    let location = &mut draft.location;
    let before = location.spot.map(|spot| (spot.x_m, spot.y_m));
    if let Some((x_m, y_m)) = pair(halves.x_m, halves.y_m, before) {
        let x_m = x_m.ok_or_else(|| (F::X, say!("a number, since y_m has one")))?;
        let y_m = y_m.ok_or_else(|| (F::Y, say!("a number, since x_m has one")))?;
        location.spot = Some(Spot { x_m, y_m });
    }
    let before = location.globe.map(|globe| (globe.lon, globe.lat));
    if let Some((lon, lat)) = pair(halves.lon, halves.lat, before) {
        let lon = lon.ok_or_else(|| (F::Lon, say!("degrees, since the latitude is given")))?;
        let lat = lat.ok_or_else(|| (F::Lat, say!("degrees, since the longitude is given")))?;
        location.globe = Some(Globe { lon, lat });
    }
    Ok(())
}

/// Both halves, those not given as they were; none where neither is given.
fn pair(
    one: Option<f64>,
    other: Option<f64>,
    before: Option<(f64, f64)>,
) -> Option<(Option<f64>, Option<f64>)> {
    (one.is_some() || other.is_some())
        .then(|| (one.or(before.map(|it| it.0)), other.or(before.map(|it| it.1))))
}

/// Both parents of a cross: `Marl × TR-9`, `Marl x TR-9`; `?` is an unknown one.
pub(super) fn parents(text: &str) -> Option<(&str, &str)> {
    let marks = ["×", " x ", " X ", " * "];
    let (seed, pollen) = marks.iter().find_map(|mark| text.split_once(mark))?;
    let (seed, pollen) = (seed.trim(), pollen.trim());
    let is_one = |parent: &str| !parent.is_empty() && !parent.contains('×');
    (is_one(seed) && is_one(pollen)).then_some((seed, pollen))
}

/// Row and place in one cell: the two whole numbers that stand in it, words around them or not.
pub(super) fn row_place(text: &str) -> Option<(i32, i32)> {
    if text.chars().count() > 40 || dates::read(text, None) != Err(Unread::NoDay) {
        return None;
    }
    let mut numbers =
        text.split(|letter: char| !letter.is_ascii_digit()).filter(|it| !it.is_empty());
    let (row, place) = (numbers.next()?.parse().ok()?, numbers.next()?.parse().ok()?);
    let parted = |letter: char| {
        letter.is_ascii_digit()
            || letter.is_whitespace()
            || matches!(letter, '/' | '-' | '–' | ':' | '.' | ',' | ';' | '|')
    };
    let mut between_words = text.split(parted).filter(|word| !word.is_empty());
    let known = between_words.all(|word| {
        let word = words::folded(word);
        matches!(
            word.as_str(),
            "r" | "p"
                | "row"
                | "place"
                | "reihe"
                | "platz"
                | "rij"
                | "plaats"
                | "pos"
                | "position"
                | "rang"
                | "fila"
                | "t"
                | "tree"
        )
    });
    (numbers.next().is_none() && known).then_some((row, place))
}

pub(super) fn whole(text: &str, manner: Manner) -> Result<i32, &'static str> {
    let sound = manner.decimal.number(text).filter(|(value, unit)| {
        unit.is_empty() && value.fract() == 0.0 && value.abs() <= f64::from(i32::MAX)
    });
    sound.map(|(value, _)| value as i32).ok_or_else(|| say!("a whole number"))
}

fn year(text: &str, manner: Manner) -> Result<i32, &'static str> {
    let year = whole(text, manner).ok().filter(|year| (1000..=9999).contains(year));
    year.ok_or_else(|| say!("a year of four digits"))
}

pub(super) fn metres(text: &str, manner: Manner) -> Result<f64, &'static str> {
    let expected = || say!("metres, such as 0.75");
    let (value, unit) = manner.decimal.number(text).ok_or_else(expected)?;
    match words::folded(unit).as_str() {
        "" | "m" | "meter" | "metre" | "meters" | "metres" => Ok(value),
        "cm" => Ok(value / 100.0),
        "mm" => Ok(value / 1000.0),
        _ => Err(expected()),
    }
}

/// The longitude of a cell, degrees.
pub(super) fn longitude(text: &str, manner: Manner) -> Result<f64, &'static str> {
    degrees(text, manner, ["E", "E", "W"])
}

/// The latitude of a cell, degrees.
pub(super) fn latitude(text: &str, manner: Manner) -> Result<f64, &'static str> {
    degrees(text, manner, ["N", "N", "S"])
}

/// Decimal degrees, with a letter of the wind rose or a sign; the last letter is the negative one.
fn degrees(text: &str, manner: Manner, letters: [&str; 3]) -> Result<f64, &'static str> {
    let expected = || say!("decimal degrees, such as 52.04");
    let (value, unit) = manner.decimal.number(text).ok_or_else(expected)?;
    let unit = unit.trim_start_matches('°').trim().to_uppercase();
    match unit.as_str() {
        "" | "DEG" => Ok(value),
        unit if unit == letters[2] && value >= 0.0 => Ok(-value),
        unit if letters[..2].contains(&unit) => Ok(value),
        _ => Err(expected()),
    }
}

fn day(text: &str, manner: Manner) -> Result<time::Date, &'static str> {
    dates::read(text, manner.order).map_err(|unread| match unread {
        Unread::NoDay => say!("a day that exists, such as 2031-06-14 or 14.06.2031"),
        Unread::Ambiguous => say!("a word on which comes first in this column, day or month"),
    })
}

/// A seedling number as it is said: a sheet writes 14 as 14.0.
fn number_as_word(text: &str) -> Arc<str> {
    Arc::from(
        text.strip_suffix(".0")
            .filter(|it| it.bytes().all(|byte| byte.is_ascii_digit()))
            .unwrap_or(text),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    const MANNER: Manner = Manner { decimal: Decimal::Dot, order: None };

    #[test]
    fn two_things_in_one_cell_are_parted() {
        let place = |text: &str, expect| assert_eq!(row_place(text), expect, "{text}");
        place("3/12", Some((3, 12)));
        place("R3 P12", Some((3, 12)));
        place("Reihe 3, Platz 12", Some((3, 12)));
        place("3-12", Some((3, 12)));
        place("MB-12", None);
        place("Q3-12", None);
        place("3", None);
        place("1/2/3", None);
        place("14.06.2031", None);
        let cross = |text: &str, expect| assert_eq!(parents(text), expect, "{text}");
        cross("Marl × TR-9", Some(("Marl", "TR-9")));
        cross("Marl x ?", Some(("Marl", "?")));
        cross("Max Oxer", None);
        cross("× TR-9", None);
        cross("A × B × C", None);
    }

    #[test]
    fn units_are_known() {
        let check = |text: &str, expect| assert_eq!(metres(text, MANNER), expect, "{text}");
        check("0,75 m", Ok(0.75));
        check("75cm", Ok(0.75));
        check("750 mm", Ok(0.75));
        check("3 ft", Err("metres, such as 0.75"));
        let check = |text: &str, expect| {
            assert_eq!(degrees(text, MANNER, ["E", "E", "W"]).ok(), expect, "{text}");
        };
        check("5,12° W", Some(-5.12));
        check("5.12E", Some(5.12));
        check("5.12 O", None);
        check("-5.12", Some(-5.12));
        check("5°07'12\"", None);
        check("5.12 N", None);
        assert_eq!(&*number_as_word("14.0"), "14");
        assert_eq!(&*number_as_word("A.0"), "A.0");
        assert_eq!(whole("3.0", MANNER), Ok(3));
        assert_eq!(whole("3.5", MANNER), Err("a whole number"));
        assert_eq!(whole("3a", MANNER), Err("a whole number"));
        assert!(year("29", MANNER).is_err());
    }
}
