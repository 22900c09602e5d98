//! Rainy mild months that allow infection, and wetness on fresh leaf scars, as European canker
//! needs them.

use std::ops::RangeInclusive;

use plot::disease::FavourableMonths;
use plot::{Weather, WeatherHour};
use time::{Date, Duration, Month};

use crate::{Spell, is_wet, reaches, spells};

/// Hours of free water that a leaf scar needs (Dubin & English 1974, *Phytopathology* 64:1201).
pub const LEAF_SCAR_HOURS: u32 = 6;

/// Days after leaf fall at which 5 % of leaf scars are still susceptible (Dubin & English 1974).
pub const LEAF_SCAR_DAYS: u8 = 10;

/// A month of a record. What was not measured counts neither way.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct MonthOfWeather {
    /// The year.
    pub year: i32,
    /// The month.
    pub month: Month,
    /// Its days.
    pub days: u8,
    /// Days with any rain.
    pub rain_days: u8,
    /// Days of which is not known whether it rained.
    pub unknown_days: u8,
    /// Hours within the temperatures of the rule, both included.
    pub warm_hours: u16,
    /// Hours without a temperature.
    pub unknown_hours: u16,
}

impl MonthOfWeather {
    /// Whether the month allows infection: rain on more than a share of its days, and more hours a
    /// day within the temperatures than the rule asks for (the form of Beresford & Kim 2011,
    /// *Phytopathology* 101:135–146). None: what is not known decides.
    pub fn favours(&self, rule: &FavourableMonths) -> Option<bool> {
        let days = f64::from(self.days);
        // More than the limit, which so does not come up to it.
        let is_rainy = |of: u8| !reaches(rule.rain_days_share * days, of.into());
        let is_warm = |hours: u16| !reaches(rule.warm_hours_a_day * days, hours.into());
        let least = is_rainy(self.rain_days) && is_warm(self.warm_hours);
        let most = is_rainy(self.rain_days + self.unknown_days)
            && is_warm(self.warm_hours + self.unknown_hours);
        (least == most).then_some(least)
    }
}

/// Every month from the first to the last that the record touches.
pub fn favourable_months(weather: &Weather, rule: &FavourableMonths) -> Vec<MonthOfWeather> {
    let [Some(first), Some(last)] = [weather.hours().first(), weather.hours().last()] else {
        return Vec::new();
    };
    let mut day = first.at.date().replace_day(1).expect("each month has a first day");
    let mut months = Vec::new();
    while day <= last.at.date() {
        let (year, month) = (day.year(), day.month());
        let end = day.replace_day(month.length(year)).expect("each month has a last day");
        months.push(month_of(weather, day, end, rule));
        let Some(next) = end.next_day() else { break };
        day = next;
    }
    months
}

fn month_of(weather: &Weather, first: Date, last: Date, rule: &FavourableMonths) -> MonthOfWeather {
    let hours = weather.days(first, last);
    let days = last.day();
    let (mut rain_days, mut dry_days) = (0, 0);
    for of_day in hours.chunk_by(|one, next| one.at.date() == next.at.date()) {
        let known: Vec<f64> = of_day.iter().filter_map(|hour| hour.rain_mm).collect();
        if known.iter().any(|&rain_mm| rain_mm > 0.0) {
            rain_days += 1;
        } else if known.len() == 24 {
            dry_days += 1;
        }
    }
    let temps = || hours.iter().filter_map(|hour| hour.temp_c);
    let warm = rule.warm_from_c..=rule.warm_to_c;
    let warm_hours = temps().filter(|temp_c| warm.contains(temp_c)).count() as u16;
    MonthOfWeather {
        year: first.year(),
        month: first.month(),
        days,
        rain_days,
        unknown_days: days - rain_days - dry_days,
        warm_hours,
        unknown_hours: u16::from(days) * 24 - temps().count() as u16,
    }
}

/// Wetness while leaf scars were fresh.
#[derive(Clone, Debug, PartialEq)]
pub struct LeafFall {
    /// Wetness without a break of at least 6 h, in order of time.
    pub spells: Vec<Spell>,
    /// Hours of which is not known whether they were wet.
    pub unknown_hours: u32,
}

/// Wetness long enough to infect leaf scars: at least 6 h without a break, from the first day of
/// leaf fall to 10 days after its last, when 5 % of the scars are still susceptible (Dubin &
/// English 1974, *Phytopathology* 64:1201).
///
/// Wetness is told as everywhere ([`is_wet`]), which takes a humidity of 90 % for free water.
pub fn leaf_fall_wetness(weather: &Weather, leaf_fall: RangeInclusive<Date>) -> LeafFall {
    let (from, last) = (*leaf_fall.start(), *leaf_fall.end());
    let to = last.saturating_add(Duration::days(i64::from(LEAF_SCAR_DAYS)));
    if last < from {
        return LeafFall { spells: Vec::new(), unknown_hours: 0 };
    }
    let hours: &[WeatherHour] = weather.days(from, to);
    let known = hours.iter().filter(|hour| is_wet(hour).is_some()).count() as u32;
    let all = (to - from).whole_days() as u32 * 24 + 24;
    let mut spells = spells(hours, 1);
    spells.retain(|spell| spell.wet_hours >= LEAF_SCAR_HOURS);
    LeafFall { spells, unknown_hours: all - known }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::testing::{canker, day, days, weather, wetness_from};

    /// September: rain at noon on so many days, and so many hours at 12 °C in all.
    fn september(rain_days: i32, warm_hours: i32) -> Weather {
        let mut left = warm_hours;
        days("2031-09-01", 30, |nth, hour, blank| {
            left -= 1;
            WeatherHour {
                temp_c: Some(if left >= 0 { 12.0 } else { 18.0 }),
                rain_mm: Some(if hour == 12 && nth < rain_days { 0.2 } else { 0.0 }),
                ..blank
            }
        })
    }

    /// Beresford & Kim 2011: rain on more than 30 % of days, more than 8 h a day at 11–16 °C.
    #[test]
    fn a_month_needs_rain_days_and_mild_hours() {
        let check = |rain_days, warm_hours, expected| {
            let months = favourable_months(&september(rain_days, warm_hours), &canker());
            assert_eq!(months.len(), 1);
            let month = months[0];
            assert_eq!((month.year, month.month, month.days), (2031, Month::September, 30));
            assert_eq!(month.rain_days, rain_days as u8);
            assert_eq!((month.warm_hours, month.unknown_hours), (warm_hours as u16, 0));
            assert_eq!(month.favours(&canker()), expected, "{rain_days} days, {warm_hours} h");
        };
        check(10, 241, Some(true));
        check(9, 241, Some(false)); // 30 % of days is not more than 30 %
        check(10, 240, Some(false)); // 8 h a day is not more than 8 h
    }

    #[test]
    fn mild_is_11_to_16_degrees() {
        for (temp_c, expected) in [(11.0, 720), (16.0, 720), (10.9, 0), (16.1, 0)] {
            let month =
                days("2031-09-01", 30, |_, _, blank| WeatherHour { temp_c: Some(temp_c), ..blank });
            assert_eq!(favourable_months(&month, &canker())[0].warm_hours, expected, "{temp_c}");
        }
    }

    #[test]
    fn days_that_were_not_measured_may_decide() {
        let some_days = |from, count, rain_mm, temp_c| {
            let weather = days(from, count, |_, _, blank| WeatherHour {
                temp_c: Some(temp_c),
                rain_mm: Some(rain_mm),
                ..blank
            });
            favourable_months(&weather, &canker())
        };
        let months = some_days("2031-09-21", 10, 1.0, 12.0);
        let month = months[0];
        assert_eq!((month.rain_days, month.unknown_days, month.unknown_hours), (10, 20, 480));
        assert_eq!(month.favours(&canker()), None, "warmth of the rest decides");
        assert_eq!(some_days("2031-09-15", 16, 1.0, 12.0)[0].favours(&canker()), Some(true));
        assert_eq!(some_days("2031-09-01", 22, 0.0, 12.0)[0].favours(&canker()), Some(false));
        // Every month between is told, also one without any hour.
        let mut hours = september(30, 720).hours().to_vec();
        hours.extend_from_slice(days("2031-11-01", 1, |_, _, blank| blank).hours());
        let months = favourable_months(&weather(hours), &canker());
        let told: Vec<_> =
            months.iter().map(|month| (month.month, month.favours(&canker()))).collect();
        assert_eq!(
            told,
            [(Month::September, Some(true)), (Month::October, None), (Month::November, None)]
        );
        assert_eq!(favourable_months(&Weather::default(), &canker()), []);
    }

    /// Dubin & English 1974: at least 6 h of free water; some scars are susceptible for 10 days.
    #[test]
    fn leaf_scars_need_six_hours_without_a_break() {
        let letters =
            format!("{}wwwww.wwwww{}wwwwww{}", ".".repeat(24), ".".repeat(24), ".".repeat(11 * 24));
        let weather = weather(wetness_from("2031-11-01T00:00", &letters, 6.0));
        let found = leaf_fall_wetness(&weather, day("2031-11-01")..=day("2031-11-02"));
        let [spell] = found.spells.as_slice() else { panic!("one spell") };
        assert_eq!((spell.first.to_string().as_str(), spell.wet_hours), ("2031-11-03T11:00", 6));
        assert_eq!(found.unknown_hours, 0);
        // Ten days after the last day it still counts, on the eleventh not any more.
        let on = |from: &str| leaf_fall_wetness(&weather, day(from)..=day("2031-10-24"));
        assert_eq!(on("2031-10-24").spells.len(), 1);
        let earlier = leaf_fall_wetness(&weather, day("2031-10-20")..=day("2031-10-23"));
        assert_eq!((earlier.spells.len(), earlier.unknown_hours), (0, 12 * 24));
        let none = leaf_fall_wetness(&weather, day("2031-11-02")..=day("2031-11-01"));
        assert_eq!((none.spells.len(), none.unknown_hours), (0, 0));
    }

    proptest! {
        #[test]
        fn what_gets_known_never_turns_an_answer_round(
            rain_days in 0..31_i32,
            warm_hours in 0..720_i32,
            kept in proptest::collection::vec(any::<bool>(), 30),
        ) {
            let whole = september(rain_days, warm_hours);
            let hours = whole.hours().iter();
            let part: Vec<_> = hours.filter(|hour| kept[usize::from(hour.at.date().day()) - 1]).copied().collect();
            let of = |weather: &Weather| favourable_months(weather, &canker()).first().and_then(|it| it.favours(&canker()));
            let (all, some) = (of(&whole), of(&weather(part)));
            prop_assert!(all.is_some());
            prop_assert!(some.is_none() || some == all);
        }
    }
}
