//! Made-up hours for tests.

use plot::Disease;
use plot::disease::{FavourableMonths, OpenFlowers, WeatherRule, Wetness};
use plot::{HourStamp, LocalHour, Weather, WeatherHour};
use time::Date;

pub(crate) const WET: bool = true;
pub(crate) const DRY: bool = false;

pub(crate) fn hour(text: &str) -> LocalHour {
    HourStamp::parse(text).expect(text).hour
}

pub(crate) fn day(text: &str) -> Date {
    hour(&format!("{text}T00:00")).date()
}

/// Hours from midnight of 1 May on, one for each letter: `w` wet, `.` dry, `?` not known, `_` no
/// line at all.
pub(crate) fn wetness(letters: &str, temp_c: f64) -> Vec<WeatherHour> {
    wetness_from("2031-05-01T00:00", letters, temp_c)
}

pub(crate) fn wetness_from(start: &str, letters: &str, temp_c: f64) -> Vec<WeatherHour> {
    let start = hour(start);
    letters
        .chars()
        .enumerate()
        .filter(|(_, letter)| *letter != '_')
        .map(|(nth, letter)| WeatherHour {
            temp_c: Some(temp_c),
            leaf_wetness: match letter {
                'w' => Some(1.0),
                '.' => Some(0.0),
                _ => None,
            },
            ..WeatherHour::unknown(start.plus(nth as i32).expect("an hour"))
        })
        .collect()
}

pub(crate) fn weather(hours: Vec<WeatherHour>) -> Weather {
    Weather::new(hours).expect("each hour once")
}

/// Every hour of some days, each made of its number and its hour of the day.
pub(crate) fn days(
    first: &str,
    count: i32,
    mut of: impl FnMut(i32, u8, WeatherHour) -> WeatherHour,
) -> Weather {
    let start = hour(&format!("{first}T00:00"));
    let hours = (0..count * 24).map(|nth| {
        let at = start.plus(nth).expect("an hour");
        of(nth / 24, at.of_day(), WeatherHour::unknown(at))
    });
    weather(hours.collect())
}

fn rule(name: &str) -> WeatherRule {
    let diseases = files::built_in_diseases();
    diseases.called(name).and_then(|it: &Disease| it.weather.clone()).expect("a rule")
}

/// The rule of scab's profile.
pub(crate) fn scab() -> Wetness {
    let WeatherRule::Wetness(rule) = rule("scab") else { panic!("scab goes by wetness") };
    rule
}

/// The rule of fire blight's profile.
pub(crate) fn fire_blight() -> OpenFlowers {
    let WeatherRule::OpenFlowers(rule) = rule("fire blight") else { panic!("it goes by flowers") };
    rule
}

/// The rule of canker's profile.
pub(crate) fn canker() -> FavourableMonths {
    let WeatherRule::FavourableMonths(rule) = rule("canker") else { panic!("it goes by months") };
    rule
}
