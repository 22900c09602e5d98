//! What was measured of each tree in each season, as trunk area where it is one, and its growth.

use std::collections::BTreeMap;

use plot::{Plot, Season, Status, TraitIx, TreeIx};
use serde::{Deserialize, Serialize};
use time::Date;

/// One tree in one season.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Measured {
    /// The tree.
    pub tree: TreeIx,
    /// The season.
    pub season: Season,
    /// The day of the value; without one, the last day on which it was tried.
    pub on: Date,
    /// The last value of the season (the mean of that day's, where several were taken); none: it
    /// could not be measured.
    pub value: Option<f64>,
    /// The trunk's cross-sectional area in cm² that the value stands for ([`plot::Trait::trunk_area_cm2`]).
    pub area_cm2: Option<f64>,
    /// Growth since the last season with an area; none without one.
    pub growth: Option<Growth>,
}

impl Measured {
    /// The number that tells vigour: the area where there is one, else the value.
    pub fn number(&self) -> Option<f64> {
        self.area_cm2.or(self.value)
    }
}

/// How a trunk grew from one season to a later one.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Growth {
    /// The earlier season.
    pub since: Season,
    /// Area less the earlier area, cm². Below 0 where it was measured smaller: trunks do not
    /// shrink, but callipers and marked heights slip, so it is told and not mended.
    pub area_cm2: f64,
    /// Relative growth rate (ln A₂ − ln A₁) / (t₂ − t₁) per year of 365.25 days (Fisher 1921,
    /// *Annals of Applied Biology* 7:367, from memory). None where an area is 0.
    pub relative_per_year: Option<f64>,
}

/// Everything measured for a trait: by tree, then by season.
///
/// Scores that do not stand, are from before the tree was planted, or of an empty place are left
/// out. What could not be measured stays missing.
pub fn measured(plot: &Plot, trait_ix: TraitIx) -> Vec<Measured> {
    let area = plot.trait_of(trait_ix).trunk_area_cm2();
    let mut seasons: BTreeMap<(TreeIx, Season), BTreeMap<Date, Vec<f64>>> = BTreeMap::new();
    for (_, score) in plot.standing_scores().filter(|(_, score)| score.trait_ix == trait_ix) {
        if plot.tree(score.tree).status() == Status::Empty || plot.is_before_planting(score) {
            continue;
        }
        let days = seasons.entry((score.tree, plot.season_of(score))).or_default();
        days.entry(score.scored_on.date()).or_default().extend(score.value);
    }
    let mut out: Vec<Measured> = Vec::with_capacity(seasons.len());
    for ((tree, season), days) in seasons {
        let last = days.iter().rev().find(|(_, values)| !values.is_empty());
        let on = last.or_else(|| days.last_key_value()).map(|(&on, _)| on).expect("a day");
        let value = last.map(|(_, values)| mean(values));
        let area_cm2 = value.zip(area.as_ref()).map(|(value, area)| area(value));
        let earlier = out
            .iter()
            .rev()
            .take_while(|earlier| earlier.tree == tree)
            .find_map(|earlier| Some((earlier.season, earlier.on, earlier.area_cm2?)));
        let growth = earlier.zip(area_cm2).map(|((since, from, before), area)| {
            let years = (on - from).whole_days() as f64 / 365.25;
            let grows = before > 0.0 && area > 0.0;
            let rate = || (libm::log(area) - libm::log(before)) / years;
            Growth { since, area_cm2: area - before, relative_per_year: grows.then(rate) }
        });
        out.push(Measured { tree, season, on, value, area_cm2, growth });
    }
    out
}

/// The mean, whatever the order of lines.
fn mean(values: &[f64]) -> f64 {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    sorted.iter().sum::<f64>() / sorted.len() as f64
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{field, score};

    #[test]
    fn growth_is_since_the_last_season_with_an_area() {
        let mut plot = field(1, 2);
        for (value, on) in [
            (Some(40.0), "2029-10-01"),
            (Some(41.0), "2030-10-01"),
            (Some(50.0), "2030-11-01"),
            (None, "2031-10-01"),
            (Some(60.0), "2032-11-01"),
        ] {
            score(&mut plot, "T1-1", "trunk_diameter", value, on);
        }
        score(&mut plot, "T1-2", "trunk_diameter", None, "2030-10-01");
        let ix = plot.trait_ix("trunk_diameter").expect("a trait");
        let found = measured(&plot, ix);
        let seasons: Vec<_> = found.iter().map(|one| (one.season.0, one.value)).collect();
        let expect = [
            (2029, Some(40.0)),
            (2030, Some(50.0)),
            (2031, None),
            (2032, Some(60.0)),
            (2030, None),
        ];
        assert_eq!(seasons, expect);
        let area = |d: f64| std::f64::consts::PI * d * d / 4.0;
        assert_eq!(found[0].growth, None);
        let grown = found[1].growth.expect("growth");
        assert!((grown.area_cm2 - (area(5.0) - area(4.0))).abs() < 1e-12);
        // 396 days.
        let rate = (area(5.0) / area(4.0)).ln() / (396.0 / 365.25);
        assert!((grown.relative_per_year.expect("a rate") - rate).abs() < 1e-12);
        assert_eq!(found[2].growth, None, "missing stays missing");
        let later = found[3].growth.expect("growth");
        assert_eq!(later.since, Season(2030));
        assert!((later.area_cm2 - (area(6.0) - area(5.0))).abs() < 1e-12);
    }

    #[test]
    fn a_trait_that_is_no_trunk_has_no_area() {
        let mut plot = field(1, 1);
        score(&mut plot, "T1-1", "vigour", Some(7.0), "2030-07-01");
        score(&mut plot, "T1-1", "vigour", Some(5.0), "2030-07-01");
        let ix = plot.trait_ix("vigour").expect("a trait");
        let found = measured(&plot, ix);
        assert_eq!((found[0].value, found[0].area_cm2), (Some(6.0), None));
        assert_eq!(found[0].number(), Some(6.0));
    }
}
