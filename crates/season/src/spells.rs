//! Wetness spells: wet hours that belong together.

use std::ops::Range;

use plot::{LocalHour, WeatherHour};

use crate::is_wet;

/// Wet hours that belong together.
#[derive(Clone, Debug, PartialEq)]
pub struct Spell {
    /// Its first wet hour.
    pub first: LocalHour,
    /// Its last wet hour.
    pub last: LocalHour,
    /// Hours that were wet, from first to last; dry hours between them are not counted.
    pub wet_hours: u32,
    /// Hours of which is not known whether they were wet: within the spell, and so close before or
    /// after it that it may have been longer. 0: the spell is known whole.
    pub unknown_hours: u32,
    /// Where its hours lie among those it was made of.
    pub(crate) within: Range<usize>,
}

/// The spells of some hours, which are in order of time (as those of [`plot::Weather`]); in order
/// of time, and never overlapping.
///
/// Spells join over fewer than `break_hours` hours that are not wet; 1 joins nothing, 0 counts
/// as 1. Hours of which nothing is known join spells as dry ones do.
pub fn spells(hours: &[WeatherHour], break_hours: u16) -> Vec<Spell> {
    let break_hours = i32::from(break_hours.max(1));
    let mut spells: Vec<Spell> = Vec::new();
    for (nth, hour) in hours.iter().enumerate().filter(|(_, hour)| is_wet(hour) == Some(true)) {
        match spells.last_mut() {
            Some(spell) if hour.at.since(spell.last) <= break_hours => {
                spell.last = hour.at;
                spell.wet_hours += 1;
                spell.within.end = nth + 1;
            }
            _ => spells.push(Spell {
                first: hour.at,
                last: hour.at,
                wet_hours: 1,
                unknown_hours: 0,
                within: nth..nth + 1,
            }),
        }
    }
    for spell in &mut spells {
        let start = hours.partition_point(|hour| spell.first.since(hour.at) > break_hours);
        let known = hours[start..]
            .iter()
            .take_while(|hour| hour.at.since(spell.last) <= break_hours)
            .filter(|hour| is_wet(hour).is_some())
            .count();
        let all = spell.last.since(spell.first) + 1 + 2 * break_hours;
        spell.unknown_hours = all as u32 - known as u32;
    }
    spells
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::testing::{DRY, WET, wetness};

    /// First hour, last hour, wet and unknown hours of each spell; hours count from midnight.
    fn check(hours: &str, break_hours: u16, expected: &[(i32, i32, u32, u32)]) {
        let hours = wetness(hours, 10.0);
        let start = hours[0].at;
        let found: Vec<_> = spells(&hours, break_hours)
            .iter()
            .map(|spell| {
                let (first, last) = (spell.first.since(start), spell.last.since(start));
                (first, last, spell.wet_hours, spell.unknown_hours)
            })
            .collect();
        assert_eq!(found, expected);
    }

    /// Kearneysville: add the wet hours together, unless the dry intervals are 8 hours or longer.
    #[test]
    fn spells_join_unless_the_dry_gap_is_eight_hours() {
        check("........www.......ww........", 8, &[(8, 19, 5, 0)]);
        check("........www........ww........", 8, &[(8, 10, 3, 0), (19, 20, 2, 0)]);
        check(".ww.www.", 1, &[(1, 2, 2, 0), (4, 6, 3, 0)]);
        check("........", 8, &[]);
    }

    #[test]
    fn hours_that_are_not_known_are_told() {
        // `?`: not known; `_`: no line at all.
        check("........ww??ww__....", 8, &[(8, 13, 4, 6)]);
        // Before and after the record nothing is known.
        check("w", 8, &[(0, 0, 1, 16)]);
        check("........w.......?", 8, &[(8, 8, 1, 1)]);
        check("........w........?", 8, &[(8, 8, 1, 0)]);
    }

    proptest! {
        #[test]
        fn spells_never_overlap_and_hold_every_wet_hour_once(
            text in "[w.?_]{1,200}",
            break_hours in 0..12_u16,
        ) {
            let hours = wetness(&text, 10.0);
            let found = spells(&hours, break_hours);
            for pair in found.windows(2) {
                let gap = pair[1].first.since(pair[0].last) - 1;
                prop_assert!(gap >= i32::from(break_hours.max(1)));
            }
            let wet: u32 = found.iter().map(|spell| spell.wet_hours).sum();
            prop_assert_eq!(wet as usize, text.matches('w').count());
            for spell in &found {
                let span = spell.last.since(spell.first) + 1;
                prop_assert!(spell.wet_hours >= 1 && spell.wet_hours <= span as u32);
                prop_assert_eq!(is_wet(&hours[spell.within.start]), Some(true));
                prop_assert_eq!(hours[spell.within.end - 1].at, spell.last);
            }
        }

        #[test]
        fn a_longer_break_never_makes_more_spells(text in "[w.]{1,200}", break_hours in 1..12_u16) {
            let hours = wetness(&text, 10.0);
            let (few, many) = (spells(&hours, break_hours + 1), spells(&hours, break_hours));
            prop_assert!(few.len() <= many.len());
        }
    }

    #[test]
    fn dry_and_wet_are_what_the_test_letters_say() {
        let hours = wetness("w.?", 10.0);
        let told: Vec<_> = hours.iter().map(is_wet).collect();
        assert_eq!(told, [Some(WET), Some(DRY), None]);
    }
}
