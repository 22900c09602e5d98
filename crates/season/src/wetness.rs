//! Whether leaves were wet in an hour: measured, or told by rain and humidity.

use plot::WeatherHour;

/// Measured wetness from which an hour counts as wet: half (common practice, no source).
const WET_SHARE: f64 = 0.5;

/// Relative humidity from which leaves count as wet, per cent: of the simple rules compared at
/// four places by Sentelhas, Dalla Marta, Orlandini, Santos, Gillespie & Gleason (*Suitability of
/// relative humidity as an estimator of leaf wetness duration*; in a journal 2008, Agricultural
/// and Forest Meteorology 148:392, from memory) a constant 90 % did best. It was right in about
/// nine hours of ten, and a limit of one's own for each place does better.
const WET_HUMIDITY: f64 = 90.0;

/// Whether leaves were wet in an hour; none: not known.
///
/// `leaf_wetness`, where it was measured, decides alone: wet from 0.5. Otherwise the hour is wet
/// with any rain or with a humidity of at least 90 %, dry with a lower humidity and no rain told,
/// and not known without a humidity: leaves stay wet after rain, so an hour without rain tells
/// nothing by itself.
pub fn is_wet(hour: &WeatherHour) -> Option<bool> {
    if let Some(wetness) = hour.leaf_wetness {
        return Some(wetness >= WET_SHARE);
    }
    if hour.rain_mm.is_some_and(|rain_mm| rain_mm > 0.0) {
        return Some(true);
    }
    hour.relative_humidity.map(|humidity| humidity >= WET_HUMIDITY)
}

/// Whether there was dew, or any wetness but what rain alone tells; none: not known.
pub(crate) fn is_dewy(hour: &WeatherHour) -> Option<bool> {
    is_wet(&WeatherHour { rain_mm: None, ..*hour })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::hour;

    #[test]
    fn wetness_is_measured_or_told_by_rain_and_humidity() {
        let check = |leaf_wetness, rain_mm, relative_humidity, expected: Option<bool>| {
            let hour = WeatherHour {
                leaf_wetness,
                rain_mm,
                relative_humidity,
                ..WeatherHour::unknown(hour("2031-05-02T09:00"))
            };
            assert_eq!(is_wet(&hour), expected, "{hour:?}");
        };
        check(Some(0.5), None, None, Some(true));
        check(Some(0.49), Some(3.0), Some(99.0), Some(false));
        check(None, Some(0.1), Some(50.0), Some(true));
        check(None, Some(0.1), None, Some(true));
        // Sentelhas et al.: relative humidity of at least 90 %.
        check(None, None, Some(90.0), Some(true));
        check(None, None, Some(89.9), Some(false));
        check(None, Some(0.0), Some(89.9), Some(false));
        check(None, Some(0.0), None, None);
        check(None, None, None, None);
    }
}
