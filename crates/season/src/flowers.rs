//! Open flowers: the days on which weather allowed an infection of them, as fire blight needs it.

use std::ops::RangeInclusive;

use plot::disease::OpenFlowers;
use plot::{LocalHour, Weather, WeatherHour};
use time::Date;

use crate::reaches;
use crate::wetness::is_dewy;

/// A day of bloom. Of what the rule asks for, each is told apart; none: the weather does not tell.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BlossomDay {
    /// The day; flowers were open on it.
    pub date: Date,
    /// Degree-hours within the last degree-days that the rule asks for, by the end of the day. Where [`heat`](Self::heat) is none, those that are known: at least so many.
    pub degree_hours: f64,
    /// At least as many as the rule asks for.
    pub heat: Option<bool>,
    /// Wetting by dew or rain.
    pub wetting: Option<bool>,
    /// A mean of the day's 24 hours that is warm enough.
    pub warm: Option<bool>,
}

impl BlossomDay {
    /// Whether all that the rule asks for came together; no as soon as one is known to be missing.
    pub fn infection(&self) -> Option<bool> {
        let all = [self.heat, self.wetting, self.warm];
        if all.contains(&Some(false)) {
            return Some(false);
        }
        all.iter().all(Option::is_some).then_some(true)
    }
}

/// The rule of open flowers for each day of bloom, in order. All four are needed: open flowers (the
/// days that are asked for); enough degree-hours within the last degree-days; wetting by dew or
/// rain; a daily mean that is warm enough. The form is that of Steiner 1990 (*Acta Horticulturae*
/// 273:139–148); the numbers are the disease's.
///
/// Degree-hours and -days are summed hour by hour, back from the end of the day; the hour in which
/// the degree-days are reached is counted whole. Wetting is dew ([`is_wet`](crate::is_wet) without
/// rain), or enough rain on the day or on the day before.
pub fn blossom_days(
    weather: &Weather,
    open: RangeInclusive<Date>,
    rule: &OpenFlowers,
) -> Vec<BlossomDay> {
    let (mut day, last) = (*open.start(), *open.end());
    let mut days = Vec::new();
    while day <= last {
        let (degree_hours, heat) = heat(weather, day, rule);
        let (wetting, warm) = (wetting(weather, day, rule), warm(weather, day, rule));
        days.push(BlossomDay { date: day, degree_hours, heat, wetting, warm });
        let Some(next) = day.next_day() else { break };
        day = next;
    }
    days
}

fn heat(weather: &Weather, day: Date, rule: &OpenFlowers) -> (f64, Option<bool>) {
    let (mut degree_hours, mut degree_days) = (0.0, 0.0);
    let mut expected = LocalHour::new(day, 23);
    let end = weather.hours().partition_point(|hour| hour.at.date() <= day);
    for hour in weather.hours()[..end].iter().rev() {
        let Some(temp_c) = hour.temp_c.filter(|_| expected == Some(hour.at)) else { break };
        degree_hours += (temp_c - rule.degree_hours_above_c).max(0.0);
        degree_days += (temp_c - rule.degree_days_above_c).max(0.0) / 24.0;
        if reaches(degree_days, rule.within_degree_days) {
            return (degree_hours, Some(reaches(degree_hours, rule.degree_hours)));
        }
        expected = hour.at.plus(-1);
    }
    // What is known lies within the last degree-days that the rule asks for; what is not known could only add to it.
    (degree_hours, reaches(degree_hours, rule.degree_hours).then_some(true))
}

fn wetting(weather: &Weather, day: Date, rule: &OpenFlowers) -> Option<bool> {
    let hours = weather.days(day, day);
    let today = rain(hours);
    let before = match day.previous_day() {
        Some(before) => rain(weather.days(before, before)),
        None => Rain { mm: 0.0, is_whole: false },
    };
    let dew: Vec<Option<bool>> = hours.iter().map(is_dewy).collect();
    let is_wet = dew.contains(&Some(true))
        || reaches(today.mm, rule.rain_mm)
        || reaches(before.mm, rule.rain_day_before_mm);
    let is_known = dew.len() == 24 && !dew.contains(&None) && today.is_whole && before.is_whole;
    match (is_wet, is_known) {
        (true, _) => Some(true),
        (false, true) => Some(false),
        (false, false) => None,
    }
}

/// Rain of a day as far as it was measured.
struct Rain {
    mm: f64,
    /// Measured in all 24 hours.
    is_whole: bool,
}

fn rain(hours: &[WeatherHour]) -> Rain {
    let known: Vec<f64> = hours.iter().filter_map(|hour| hour.rain_mm).collect();
    Rain { mm: known.iter().sum(), is_whole: known.len() == 24 }
}

fn warm(weather: &Weather, day: Date, rule: &OpenFlowers) -> Option<bool> {
    let temps: Vec<f64> = weather.days(day, day).iter().filter_map(|hour| hour.temp_c).collect();
    (temps.len() == 24).then(|| reaches(temps.iter().sum::<f64>() / 24.0, rule.daily_mean_c))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::testing::{day, days, fire_blight, hour};

    /// Ten days: nights at `night_c`, twelve hours of each day at `day_c`, dry air, and rain at noon
    /// of the last day.
    fn ten_days(night_c: f64, day_c: f64, rain_mm: f64) -> Weather {
        days("2031-05-01", 10, |nth, hour, blank| WeatherHour {
            temp_c: Some(if (8..20).contains(&hour) { day_c } else { night_c }),
            rain_mm: Some(if (nth, hour) == (9, 12) { rain_mm } else { 0.0 }),
            relative_humidity: Some(60.0),
            ..blank
        })
    }

    fn last(weather: &Weather) -> BlossomDay {
        blossom_days(weather, day("2031-05-10")..=day("2031-05-10"), &fire_blight())[0]
    }

    fn near(found: f64, expected: f64) {
        assert!((found - expected).abs() < 1e-9, "{found} {expected}");
    }

    /// Steiner 1990; the numbers are plain arithmetic on the rule.
    #[test]
    fn heat_is_counted_over_44_degree_days() {
        // Days at 22.4 °C and nights at 8.4 °C: (18 + 4)/2 = 11 degree-days above 4.4 °C a day, so
        // 44 are four days; 4 × 12 h × 4.1 = 196.8 degree-hours above 18.3 °C.
        let one = last(&ten_days(8.4, 22.4, 0.3));
        near(one.degree_hours, 196.8);
        assert_eq!((one.heat, one.wetting, one.warm), (Some(true), Some(true), Some(false)));
        assert_eq!(one.infection(), Some(false), "a mean of 15.4 °C is too cold");
        let one = last(&ten_days(8.8, 22.4, 0.3));
        assert_eq!((one.warm, one.infection()), (Some(true), Some(true)), "a mean of 15.6 °C");
        // 20 °C by day, 11.3 degree-days a day: 4 × 12 h × 1.7 = 81.6 degree-hours.
        let one = last(&ten_days(11.4, 20.0, 0.3));
        near(one.degree_hours, 81.6);
        assert_eq!((one.heat, one.infection()), (Some(false), Some(false)));
    }

    /// At 20.5 °C all day 16.1 degree-days are gathered a day, and 44 take 66 hours (65.6); at 50
    /// hours of heat 2.2 above the base, 110 degree-hours are reached exactly.
    #[test]
    fn a_hundred_and_ten_degree_hours_are_enough() {
        let with_heat = |hot_hours: i32| {
            days("2031-05-01", 10, |nth, hour, blank| WeatherHour {
                temp_c: Some(if (9 - nth) * 24 + 23 - i32::from(hour) < hot_hours {
                    20.5
                } else {
                    18.3
                }),
                ..blank
            })
        };
        let one = last(&with_heat(50));
        near(one.degree_hours, 110.0);
        assert_eq!(one.heat, Some(true));
        assert_eq!(last(&with_heat(49)).heat, Some(false));
        near(last(&with_heat(240)).degree_hours, 66.0 * 2.2);
    }

    #[test]
    fn wetting_is_dew_or_rain_of_this_day_or_the_one_before() {
        let wetting = |rain_mm| last(&ten_days(9.0, 23.0, rain_mm)).wetting;
        assert_eq!(wetting(0.25), Some(true));
        assert_eq!(wetting(0.2), Some(false));
        let before = |rain_mm: f64| {
            let weather = days("2031-05-09", 2, |nth, hour, blank| WeatherHour {
                rain_mm: Some(if (nth, hour) == (0, 12) { rain_mm } else { 0.0 }),
                relative_humidity: Some(60.0),
                ..blank
            });
            last(&weather).wetting
        };
        assert_eq!(before(2.5), Some(true));
        assert_eq!(before(2.4), Some(false));
        let dew = days("2031-05-09", 2, |_, hour, blank| WeatherHour {
            leaf_wetness: Some(if hour == 5 { 1.0 } else { 0.0 }),
            ..blank
        });
        assert_eq!(last(&dew).wetting, Some(true));
    }

    #[test]
    fn what_is_not_known_is_told_as_such() {
        let whole = ten_days(9.0, 23.0, 0.3);
        let without = |text: &str| {
            let hours = whole.hours().iter().filter(|one| one.at != hour(text)).copied();
            last(&Weather::new(hours.collect()).expect("each hour once"))
        };
        assert_eq!(last(&whole).infection(), Some(true));
        // Before the last 44 degree-days an hour is not missed.
        assert_eq!(without("2031-05-03T12:00").infection(), Some(true));
        // A gap on the ninth: the heat since then is not enough by itself.
        let one = without("2031-05-09T20:00");
        assert_eq!((one.heat, one.warm, one.infection()), (None, Some(true), None));
        near(one.degree_hours, 12.0 * 4.7);
        // A gap on the seventh: what came after it was enough, whatever it was.
        assert_eq!(without("2031-05-08T03:00").heat, Some(true));
        // The mean of a day with a gap is not known.
        assert_eq!(without("2031-05-10T03:00").warm, None);
        let outside = blossom_days(&whole, day("2031-06-01")..=day("2031-06-02"), &fire_blight());
        assert_eq!(outside.len(), 2);
        assert_eq!((outside[0].infection(), outside[0].degree_hours), (None, 0.0));
        assert_eq!(blossom_days(&whole, day("2031-05-02")..=day("2031-05-01"), &fire_blight()), []);
    }

    proptest! {
        #[test]
        fn more_rain_never_takes_wetting_away(rain_mm in 0.0..1.0_f64, more_mm in 0.0..5.0_f64) {
            let wetting = |rain_mm| last(&ten_days(9.0, 23.0, rain_mm)).wetting == Some(true);
            prop_assert!(!wetting(rain_mm) || wetting(rain_mm + more_mm));
        }
    }
}
