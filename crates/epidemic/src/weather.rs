//! Weather of a season, day by day: infection comes in bursts.

use crate::Span;
use crate::draw::Draw;

/// Chance that a day is wet enough.
const WET: f64 = 0.3;
/// Shape of the amount on a wet day: below 1, few days bring most.
const SHAPE: f64 = 0.8;

/// How favourable each day of `active` is, mean 1 in the long run.
pub(crate) fn days(active: Span, draw: &mut Draw) -> Vec<f64> {
    (active.first..active.end)
        .map(|_| if draw.chance(WET) { draw.gamma(SHAPE) / WET } else { 0.0 })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::For;

    #[test]
    fn a_long_season_is_ordinary_and_bursts() {
        let days = days(Span { first: 0, end: 20_000 }, &mut Draw::new(4, For::Weather, 0));
        let mean = days.iter().sum::<f64>() / days.len() as f64;
        assert!((mean - 1.0).abs() < 0.05, "{mean}");
        assert!(days.iter().filter(|&&day| day == 0.0).count() > 12_000);
    }
}
