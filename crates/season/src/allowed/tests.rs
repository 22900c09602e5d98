//! Which days count, and what of them is counted.

use plot::{Head, Layout, Origin, WeatherHour};

use super::*;
use crate::testing::{day, days};

fn plot(lat: Option<f64>, season_starts_month: u8) -> Plot {
    Plot::new(Head {
        name: "Test bank".into(),
        layout: Layout { row_spacing_m: 3.0, place_spacing_m: 1.0, first_row: 1, first_place: 1 },
        origin: lat.map(|lat| Origin { lon: 5.0, lat, row_bearing_deg: 0.0 }),
        season_starts_month,
        traits: Vec::new(),
        diseases: files::built_in_diseases(),
        crosses: Vec::new(),
    })
    .expect("a plot")
}

/// 400 days from 1 January 2031 at 18 °C, each wet from 09:00 to 21:00 on every fifth day of a
/// month: an infection period, since nine hours are enough.
fn weather() -> Weather {
    days("2031-01-01", 400, |_, hour, it| {
        let wet = it.at.date().day() == 5 && (9..21).contains(&hour);
        WeatherHour { temp_c: Some(18.0), leaf_wetness: Some(f64::from(u8::from(wet))), ..it }
    })
}

#[test]
fn scab_is_counted_while_there_are_leaves_and_could_still_be_seen() {
    let found = allowed(&plot(Some(52.0), 1), &weather(), "scab", Season(2031), None);
    let found = found.expect("a rule and hours");
    assert_eq!((found.from, found.to), (day("2031-04-01"), day("2031-10-31")));
    assert_eq!((found.periods, found.unclear, found.known), (7, 0, 1.0));
    // Looked at last on 13 June: what began after the 4th could not be seen yet.
    let look = Some(day("2031-06-13"));
    let found = allowed(&plot(Some(52.0), 1), &weather(), "scab", Season(2031), look);
    assert_eq!(found.map(|it| (it.to, it.periods)), Some((day("2031-06-04"), 2)));
}

#[test]
fn south_of_the_equator_leaves_come_half_a_year_later() {
    let found = |lat| allowed(&plot(lat, 7), &weather(), "scab", Season(2031), None);
    let span = |lat| found(lat).map(|it| (it.from, it.to));
    let south = Some((day("2031-10-01"), day("2032-04-30")));
    assert_eq!(span(Some(-41.0)), south);
    assert_eq!(span(None), south);
    // The record ends on 4 February 2032: 127 of 213 days are known.
    let known = found(None).map(|it| it.known).expect("hours");
    assert!((known - 127.0 / 213.0).abs() < 1e-9, "{known}");
}

/// A plot whose seasons begin amid its leaves has two spans of them, and the winter between is none.
#[test]
fn months_without_leaves_are_not_counted() {
    let found = allowed(&plot(Some(-41.0), 1), &weather(), "scab", Season(2031), None);
    let found = found.expect("hours");
    assert_eq!((found.from, found.to), (day("2031-01-01"), day("2031-12-31")));
    assert_eq!((found.periods, found.known), (7, 1.0), "January to April, October to December");
}

#[test]
fn what_has_no_rule_or_no_hours_says_nothing() {
    let (plot, weather) = (plot(Some(52.0), 1), weather());
    assert_eq!(allowed(&plot, &weather, "mildew", Season(2031), None), None);
    assert_eq!(allowed(&plot, &weather, "scab", Season(2030), None), None);
    assert_eq!(allowed(&plot, &weather, "scab", Season(2031), Some(day("2031-03-20"))), None);
}

/// Steiner 1990 asks for heat, wetting and a mean of 15.6 °C: at 18 °C no degree-hour above 18.3
/// is gathered, at 25 °C 6.7 each hour, and 110 within 44 degree-days above 4.4 (51 hours).
#[test]
fn blossoms_are_counted_by_day_and_canker_by_month() {
    let blossoms = allowed(&plot(Some(52.0), 1), &weather(), "fire_blight", Season(2031), None);
    assert_eq!(blossoms.map(|it| (it.periods, it.unclear)), Some((0, 0)));
    let hot = days("2031-03-01", 120, |nth, _, it| WeatherHour {
        temp_c: Some(25.0),
        rain_mm: Some(if nth % 10 == 0 { 0.1 } else { 0.0 }),
        ..it
    });
    let found = allowed(&plot(Some(52.0), 1), &hot, "fire_blight", Season(2031), None);
    // 1 April is the 31st day of the record: wet on 10, 20 and 30 April, on 10, 20 and 30 May.
    assert_eq!(found.map(|it| it.periods), Some(6));
    let mild = days("2031-01-01", 365, |nth, _, it| WeatherHour {
        temp_c: Some(if nth < 59 { 5.0 } else { 13.0 }),
        rain_mm: Some(if nth % 2 == 0 { 0.2 } else { 0.0 }),
        ..it
    });
    let found = allowed(&plot(Some(52.0), 1), &mild, "canker", Season(2031), None);
    assert_eq!(found.map(|it| (it.periods, it.unclear)), Some((10, 0)));
}
