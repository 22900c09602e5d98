//! Spells judged for scab, the night rule, and what the weather does not tell.

use proptest::prelude::*;

use super::*;
use crate::testing::{hour, scab, weather, wetness, wetness_from};

/// Spells by the rule of scab's profile.
fn spells_of(weather: &Weather) -> Vec<WetnessSpell> {
    wetness_spells(weather, &scab())
}

/// One spell from 10:00 on, so many hours long, at one temperature.
fn by_day(hours: usize, temp_c: f64) -> WetnessSpell {
    let letters = format!("{}{}{}", ".".repeat(10), "w".repeat(hours), ".".repeat(10));
    let mut found = spells_of(&weather(wetness(&letters, temp_c)));
    assert_eq!(found.len(), 1);
    found.remove(0)
}

/// The table of trade facts: 10 °C needs 11, 16, 26 h and 10 h by conidia; 16 to 24 °C 6, 9, 16
/// and 7–9 h.
#[test]
fn a_spell_reaches_what_the_table_says() {
    use Outcome::{NotReached, OffTable, Reached};
    let check = |hours, temp_c, ascospores, conidia| {
        let found = by_day(hours, temp_c);
        assert_eq!((found.ascospores, found.conidia), (ascospores, conidia), "{hours} h {temp_c}");
    };
    check(9, 10.0, NotReached, NotReached);
    check(10, 10.0, NotReached, Reached(Sureness::Certain));
    check(11, 10.0, Reached(Grade::Light), Reached(Sureness::Certain));
    check(16, 10.0, Reached(Grade::Moderate), Reached(Sureness::Certain));
    check(26, 10.0, Reached(Grade::Severe), Reached(Sureness::Certain));
    check(6, 20.0, Reached(Grade::Light), NotReached);
    check(7, 20.0, Reached(Grade::Light), Reached(Sureness::Possible));
    check(9, 20.0, Reached(Grade::Moderate), Reached(Sureness::Certain));
    check(60, 0.5, OffTable, OffTable);
    check(60, 26.0, OffTable, OffTable);
}

#[test]
fn temperature_is_half_way_from_lowest_to_highest_of_the_wet_hours() {
    let mut hours = wetness("..........wwwww....wwww..........", 10.0);
    hours[10].temp_c = Some(6.0);
    hours[11].temp_c = Some(12.0);
    hours[12].temp_c = None;
    // Dry hours between have no part in it.
    hours[16].temp_c = Some(30.0);
    let found = spells_of(&weather(hours));
    assert_eq!(found.len(), 1);
    let expected = Exposure { hours: 9, temp_c: Some(9.0), hours_without_temp: 1 };
    assert_eq!(found[0].for_conidia, expected);
    assert_eq!(found[0].rain_mm, None);
}

/// MacHardy & Gadoury 1989: primary infection periods are computed from 07:00 when the rain
/// begins at night.
#[test]
fn night_rain_counts_from_seven_for_ascospores() {
    let night = scab().night.expect("a night rule");
    let check = |first: &str, expected: &str| {
        assert_eq!(counts_from(hour(first), night), hour(expected), "{first}");
    };
    check("2031-05-01T06:00", "2031-05-01T07:00");
    check("2031-05-01T00:00", "2031-05-01T07:00");
    check("2031-04-30T19:00", "2031-05-01T07:00");
    check("2031-04-30T23:00", "2031-05-01T07:00");
    check("2031-05-01T07:00", "2031-05-01T07:00");
    check("2031-05-01T18:00", "2031-05-01T18:00");

    // Wet from 22:00 to 12:00 at 10 °C: 15 h for conidia, 6 h for ascospores.
    let letters = format!("{}{}{}", ".".repeat(22), "w".repeat(15), ".".repeat(11));
    let found = &spells_of(&weather(wetness(&letters, 10.0)))[0];
    assert_eq!((found.for_ascospores.hours, found.for_conidia.hours), (6, 15));
    assert_eq!(found.ascospores, Outcome::NotReached);
    assert_eq!(found.conidia, Outcome::Reached(Sureness::Certain));

    // A night's dew that is gone by seven counts nothing.
    let letters = format!("{}{}{}", ".".repeat(22), "w".repeat(8), ".".repeat(11));
    let found = &spells_of(&weather(wetness(&letters, 20.0)))[0];
    assert_eq!((found.for_ascospores.hours, found.ascospores), (0, Outcome::NotReached));
}

#[test]
fn what_is_not_known_is_not_taken_as_dry() {
    let judged = |letters: &str| spells_of(&weather(wetness(letters, 10.0))).remove(0);
    // 10 known wet hours and one that nobody measured: 11 would be enough.
    assert_eq!(judged("..........wwwww_wwwww..........").ascospores, Outcome::CannotTell);
    assert_eq!(judged("..........wwww_wwwww..........").ascospores, Outcome::NotReached);
    assert_eq!(judged("..........wwwwwwwwwww__").ascospores, Outcome::Reached(Grade::Light));
    let mut hours = wetness("..........wwwwwwwwwwww..........", 10.0);
    hours.iter_mut().for_each(|hour| hour.temp_c = None);
    let found = &spells_of(&weather(hours))[0];
    assert_eq!((found.ascospores, found.conidia), (Outcome::CannotTell, Outcome::CannotTell));
}

#[test]
fn rain_of_a_spell_is_added() {
    let mut hours = wetness("..........www..........", 10.0);
    for (nth, rain_mm) in [(9, 5.0), (10, 0.5), (12, 1.5)] {
        hours[nth].rain_mm = Some(rain_mm);
    }
    assert_eq!(spells_of(&weather(hours))[0].rain_mm, Some(2.0));
}

/// Wet hours that count in spells that were enough, for ascospores and for conidia.
fn infection_hours(letters: &str, temp_c: f64, start: u8) -> (u32, u32) {
    let start = format!("2031-05-01T{start:02}:00");
    let found = spells_of(&weather(wetness_from(&start, letters, temp_c)));
    found.iter().fold((0, 0), |(ascospores, conidia), one| {
        let is_primary = matches!(one.ascospores, Outcome::Reached(_));
        let is_secondary = matches!(one.conidia, Outcome::Reached(_));
        (
            ascospores + if is_primary { one.for_ascospores.hours } else { 0 },
            conidia + if is_secondary { one.for_conidia.hours } else { 0 },
        )
    })
}

proptest! {
    /// At one temperature; a colder or hotter wet hour changes what is needed.
    #[test]
    fn more_wet_hours_are_never_fewer_infection_hours(
        letters in "(w{1,12}|[.]{1,10}|[w.]{1,8}){1,20}",
        more in proptest::collection::vec(any::<proptest::sample::Index>(), 1..10),
        temp_c in 1.0..25.5_f64,
        start in 0..24_u8,
    ) {
        let mut wetter = letters.clone().into_bytes();
        for at in more {
            let at = at.index(wetter.len());
            wetter[at] = b'w';
        }
        let wetter = String::from_utf8(wetter).expect("letters");
        let (before, after) =
            (infection_hours(&letters, temp_c, start), infection_hours(&wetter, temp_c, start));
        prop_assert!(before.0 <= after.0 && before.1 <= after.1, "{before:?} {after:?}");
    }

    #[test]
    fn the_order_of_hours_does_not_matter(letters in "[w.?_]{1,80}", seed in any::<u64>()) {
        let hours = wetness(&letters, 12.0);
        let mut shuffled = hours.clone();
        let mut state = seed;
        for nth in (1..shuffled.len()).rev() {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
            shuffled.swap(nth, (state >> 33) as usize % (nth + 1));
        }
        prop_assert_eq!(spells_of(&weather(hours)), spells_of(&weather(shuffled)));
    }
}
