//! Hourly weather: what was measured in each hour, in order of time, each hour once.

use language::say;
use time::Date;

use crate::{LocalHour, Refusal};

/// What was measured in one hour. None: not known, and never taken as zero or dry.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WeatherHour {
    /// The hour.
    pub at: LocalHour,
    /// Air temperature, °C.
    pub temp_c: Option<f64>,
    /// Rain, mm in this hour.
    pub rain_mm: Option<f64>,
    /// How wet the leaves were, 0 (dry) to 1.
    pub leaf_wetness: Option<f64>,
    /// Relative humidity, per cent.
    pub relative_humidity: Option<f64>,
    /// Wind, metres per second.
    pub wind_ms: Option<f64>,
    /// Where the wind comes from, degrees clockwise from north.
    pub wind_from_deg: Option<f64>,
}

impl WeatherHour {
    /// An hour of which nothing is known yet.
    pub fn unknown(at: LocalHour) -> Self {
        Self {
            at,
            temp_c: None,
            rain_mm: None,
            leaf_wetness: None,
            relative_humidity: None,
            wind_ms: None,
            wind_from_deg: None,
        }
    }

    /// The values that no weather has, in the order of the columns: outside −60 to 60 °C, 0 to
    /// 400 mm of rain in an hour, 0 to 1 wetness, 0 to 100 % humidity, 0 to 120 m/s wind, 0 to
    /// 360°. The limits of temperature, rain and wind are common sense without a source; they are
    /// there to catch a wrong unit or a sensor that fell out (`-999`).
    pub fn refusals(&self) -> impl Iterator<Item = Refusal> {
        [
            ("temp_c", self.temp_c, -60.0..=60.0, say!("degrees Celsius from -60 to 60")),
            ("rain_mm", self.rain_mm, 0.0..=400.0, say!("millimetres in the hour, 0 to 400")),
            ("leaf_wetness", self.leaf_wetness, 0.0..=1.0, say!("a share from 0 (dry) to 1")),
            ("relative_humidity", self.relative_humidity, 0.0..=100.0, say!("per cent, 0 to 100")),
            ("wind_ms", self.wind_ms, 0.0..=120.0, say!("metres per second, 0 to 120")),
            (
                "wind_from_deg",
                self.wind_from_deg,
                0.0..=360.0,
                say!("degrees from north, 0 to 360"),
            ),
        ]
        .into_iter()
        .filter_map(|(column, value, range, expected)| {
            let value = value.filter(|value| !range.contains(value))?;
            Some(Refusal::new(column, value.to_string(), expected))
        })
    }
}

/// Weather hour by hour: in order of time, each hour once, every value within its range. Hours
/// that are not there are gaps, of which nothing is known.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Weather {
    hours: Vec<WeatherHour>,
}

impl Weather {
    /// Puts hours, given in any order, in order of time.
    ///
    /// # Errors
    /// An hour given twice; a value outside its range ([`WeatherHour::refusals`]).
    pub fn new(mut hours: Vec<WeatherHour>) -> Result<Self, Refusal> {
        if let Some(refusal) = hours.iter().flat_map(WeatherHour::refusals).next() {
            return Err(refusal);
        }
        hours.sort_by_key(|hour| hour.at);
        match hours.windows(2).find(|pair| pair[0].at == pair[1].at) {
            Some(pair) => Err(Refusal::new(
                "time",
                say!("{hour} twice", hour = pair[0].at),
                say!("each hour once"),
            )),
            None => Ok(Self { hours }),
        }
    }

    /// The hours in order of time.
    pub fn hours(&self) -> &[WeatherHour] {
        &self.hours
    }

    /// What was measured in an hour; none in a gap.
    pub fn at(&self, hour: LocalHour) -> Option<&WeatherHour> {
        let nth = self.hours.binary_search_by_key(&hour, |one| one.at).ok()?;
        Some(&self.hours[nth])
    }

    /// The hours of some days, both ends included, in order of time.
    pub fn days(&self, from: Date, to: Date) -> &[WeatherHour] {
        let start = self.hours.partition_point(|hour| hour.at.date() < from);
        let end = self.hours.partition_point(|hour| hour.at.date() <= to);
        &self.hours[start..end.max(start)]
    }
}

#[cfg(test)]
mod tests;
