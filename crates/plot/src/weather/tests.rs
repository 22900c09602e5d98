//! Weather that is in order by construction.

use time::macros::date;

use super::*;
use crate::HourStamp;

fn hour(text: &str) -> LocalHour {
    HourStamp::parse(text).expect(text).hour
}

#[test]
fn weather_is_put_in_order_and_refuses_an_hour_twice() {
    let known = |text: &str, temp_c| WeatherHour {
        temp_c: Some(temp_c),
        ..WeatherHour::unknown(hour(text))
    };
    let weather = Weather::new(vec![
        known("2031-06-15T00:00", 2.0),
        known("2031-06-14T23:00", 1.0),
        known("2031-06-13T12:00", 3.0),
    ])
    .expect("each hour once");
    let temps: Vec<_> = weather.hours().iter().filter_map(|hour| hour.temp_c).collect();
    assert_eq!(temps, [3.0, 1.0, 2.0]);
    assert_eq!(weather.at(hour("2031-06-14T23:00")).and_then(|hour| hour.temp_c), Some(1.0));
    assert_eq!(weather.at(hour("2031-06-14T22:00")), None);
    assert_eq!(weather.days(date!(2031 - 06 - 14), date!(2031 - 06 - 14)).len(), 1);
    assert_eq!(weather.days(date!(2031 - 06 - 15), date!(2031 - 06 - 13)).len(), 0);
    let twice = Weather::new(vec![known("2031-06-14T23:00", 1.0), known("2031-06-14T23:00", 2.0)]);
    let told = twice.expect_err("an hour twice").to_string();
    assert_eq!(told, "time: found 2031-06-14T23:00 twice, expected each hour once");
}

#[test]
fn values_that_no_weather_has_are_refused() {
    let hour = WeatherHour {
        temp_c: Some(-999.0),
        rain_mm: Some(-0.1),
        leaf_wetness: Some(15.0),
        relative_humidity: Some(100.1),
        wind_ms: Some(f64::NAN),
        wind_from_deg: Some(361.0),
        ..WeatherHour::unknown(hour("2031-06-14T09:00"))
    };
    let told: Vec<_> = hour.refusals().map(|refusal| refusal.column).collect();
    let all =
        ["temp_c", "rain_mm", "leaf_wetness", "relative_humidity", "wind_ms", "wind_from_deg"];
    assert_eq!(told, all);
    assert_eq!(
        Weather::new(vec![hour]).expect_err("out of range").to_string(),
        "temp_c: found -999, expected degrees Celsius from -60 to 60"
    );
}
