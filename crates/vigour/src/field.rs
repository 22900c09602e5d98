//! Vigour on a plot: what was measured of each tree, its growth, and each season adjusted for the
//! trend of the field.

use plot::{CrossKey, GenotypeId, Plot, Season, TraitIx};
use serde::{Deserialize, Serialize};

use crate::{Measured, Ranked, Run, TreeValue, Trend, Tried, Variances};

/// Everything known of one trait of vigour or yield.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Vigour {
    /// The trait.
    pub trait_ix: TraitIx,
    /// By tree, then by season.
    pub lines: Vec<Line>,
    /// By season, in order.
    pub seasons: Vec<SeasonFit>,
}

/// One tree in one season.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Line {
    /// What was measured, and growth.
    pub measured: Measured,
    /// The area (or value) adjusted for the trend; none where it was not measured or nothing could
    /// be adjusted.
    pub adjusted: Option<TreeValue>,
}

/// What the field did in one season.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct SeasonFit {
    /// The season.
    pub season: Season,
    /// Trees with a number.
    pub trees: usize,
    /// Trees that could not be measured.
    pub missing: usize,
    /// The trend that was taken; none: nothing could be adjusted.
    pub trend: Option<Trend>,
    /// What was tried, in order, and what it gave.
    pub tried: Vec<Tried>,
    /// Variances of the model; none after Papadakis' adjustment.
    pub variances: Option<Variances>,
    /// Genotypes with two measured trees or more, by name.
    pub genotypes: Vec<(GenotypeId, Ranked)>,
    /// Crosses with two measured trees or more, by parents.
    pub crosses: Vec<(CrossKey, Ranked)>,
}

/// Measures and adjusts a trait of the plot, season by season, with the trend that is asked for or,
/// without one, the best ([`adjust`](crate::adjust())).
///
/// The number adjusted is the trunk's area where the trait measures one, else the value itself.
pub fn vigour(plot: &Plot, trait_ix: TraitIx, wanted: Option<Trend>) -> Vigour {
    let mut run = Run::new(plot, trait_ix, wanted);
    while !run.step().is_done() {}
    run.finish()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{field, score};

    /// Each season is adjusted by itself, and what could not be measured stays so.
    #[test]
    fn seasons_are_adjusted_one_by_one() {
        let mut plot = field(4, 10);
        for row in 1..=4 {
            for place in 1..=10 {
                let tree = format!("T{row}-{place}");
                let own = f64::from((row * 13 + place * 29) % 17) / 4.0;
                // A slope along the rows in the second season only.
                score(&mut plot, &tree, "trunk_diameter", Some(20.0 + own), "2030-10-01");
                let later = (place != 7).then(|| 30.0 + own + 3.0 * f64::from(place));
                score(&mut plot, &tree, "trunk_diameter", later, "2031-10-01");
            }
        }
        let ix = plot.trait_ix("trunk_diameter").expect("a trait");
        let found = vigour(&plot, ix, None);
        let seasons: Vec<_> =
            found.seasons.iter().map(|one| (one.season.0, one.trees, one.missing)).collect();
        assert_eq!(seasons, [(2030, 40, 0), (2031, 36, 4)]);
        assert_eq!(found.seasons[0].trend, Some(Trend::None));
        assert_ne!(found.seasons[1].trend, Some(Trend::None));
        assert_eq!(found.lines.len(), 80);
        for line in &found.lines {
            assert_eq!(line.adjusted.is_some(), line.measured.value.is_some());
            if let (Some(value), Some(area)) = (line.adjusted, line.measured.area_cm2) {
                assert!((value.adjusted + value.trend - area).abs() < 1e-12);
            }
        }
        // One cross that is everything is the mean.
        assert!(found.seasons.iter().all(|season| season.crosses.is_empty()));
    }
}
