//! How a disease progressed on each tree in each season: its readings, and the areas under them.

use std::collections::BTreeMap;

use plot::{Plot, Score, Season, TraitIx, TreeIx};
use time::Date;

use crate::{Undefined, audpc, audps};

/// The readings of one trait on one tree in one season.
#[derive(Clone, Debug, PartialEq)]
pub struct TreeProgress {
    /// The tree.
    pub tree: TreeIx,
    /// The season.
    pub season: Season,
    /// Days on which it was read, in order, each once, with the share of tissue affected, 0 to 1.
    pub readings: Vec<(Date, f64)>,
}

impl TreeProgress {
    /// Area under the disease progress curve ([`audpc`]), in shares × days; of a tree that was all
    /// diseased for ten days: 10.
    ///
    /// # Errors
    /// [`Undefined::TooFew`]: read on fewer than 2 days.
    pub fn audpc(&self) -> Result<f64, Undefined> {
        let (days, severity) = self.curve();
        audpc(&days, &severity)
    }

    /// Area under the disease progress stairs ([`audps`]), in shares × days.
    ///
    /// # Errors
    /// As [`audpc`](Self::audpc).
    pub fn audps(&self) -> Result<f64, Undefined> {
        let (days, severity) = self.curve();
        audps(&days, &severity)
    }

    /// Days from the first reading to the last.
    pub fn days(&self) -> i64 {
        let ends = self.readings.first().zip(self.readings.last());
        ends.map_or(0, |((first, _), (last, _))| (*last - *first).whole_days())
    }

    fn curve(&self) -> (Vec<f64>, Vec<f64>) {
        let day = |date: Date| f64::from(date.to_julian_day());
        self.readings.iter().map(|&(date, severity)| (day(date), severity)).unzip()
    }
}

/// The progress of a disease's trait: by tree, then by season. Empty for a trait without disease.
///
/// Traits are never mixed, nor are seasons. Scores that do not stand, that could not be taken, that
/// only say *not observed*, or are from before the tree was planted are no readings; neither is
/// *clean* of a tree that lacked what the trait needs. Between the readings that are left, disease
/// is taken to go along a straight line. Several scores on one day, such as two scorers', count as
/// their mean.
pub fn progress_of(plot: &Plot, trait_ix: TraitIx) -> Vec<TreeProgress> {
    curves(plot, trait_ix, plot.standing_scores().map(|(_, score)| score))
}

/// The same of one tree, by season.
pub fn progress_of_tree(plot: &Plot, trait_ix: TraitIx, tree: TreeIx) -> Vec<TreeProgress> {
    curves(plot, trait_ix, plot.scores_of(tree).map(|(_, score)| score))
}

fn curves<'a>(
    plot: &Plot,
    trait_ix: TraitIx,
    scores: impl Iterator<Item = &'a Score>,
) -> Vec<TreeProgress> {
    let mut curves: BTreeMap<(TreeIx, Season), BTreeMap<Date, Vec<f64>>> = BTreeMap::new();
    for score in scores.filter(|score| score.trait_ix == trait_ix) {
        if let Some(severity) = plot.shown_severity(score) {
            let curve = curves.entry((score.tree, plot.season_of(score))).or_default();
            curve.entry(score.scored_on.date()).or_default().push(severity);
        }
    }
    curves
        .into_iter()
        .map(|((tree, season), days)| {
            let readings = days.into_iter().map(|(date, severities)| (date, mean(severities)));
            TreeProgress { tree, season, readings: readings.collect() }
        })
        .collect()
}

/// The mean, whatever the order of lines.
fn mean(mut severities: Vec<f64>) -> f64 {
    severities.sort_by(f64::total_cmp);
    severities.iter().sum::<f64>() / severities.len() as f64
}

#[cfg(test)]
mod tests {
    use plot::{
        Head, Kind, Layout, Needs, Scale, ScoreDraft, ScoreId, Step, Trait, TraitId, TreeDraft,
        TreeId, When, WhereGiven,
    };

    use super::*;
    use crate::testing::day;

    fn blight(needs: Option<Needs>) -> Trait {
        let class = |value, severity| Step { value, label: value.to_string(), severity };
        // The field score of trade facts has a 0 that only says *not observed*.
        let scale = vec![
            class(0.0, None),
            class(1.0, Some(0.0)),
            class(5.0, Some(0.25)),
            class(7.0, Some(0.5)),
        ];
        Trait {
            id: TraitId::new("scab_leaf"),
            disease: Some("scab".into()),
            label: "Scab on leaves".into(),
            kind: Kind::Ordinal(Scale::new(scale).expect("a scale")),
            needs,
        }
    }

    fn bloom() -> Trait {
        Trait {
            id: TraitId::new("bloom"),
            disease: None,
            label: "Bloom".into(),
            kind: Kind::Number { unit: None, min: Some(0.0), max: None },
            needs: None,
        }
    }

    /// One tree, planted in April 2031, and its scores: trait, value, day, scorer.
    fn plot(needs: Option<Needs>, scores: &[(&str, Option<f64>, &str)]) -> Plot {
        let mut plot = Plot::new(Head {
            name: "Test bank".into(),
            layout: Layout {
                row_spacing_m: 3.0,
                place_spacing_m: 1.0,
                first_row: 1,
                first_place: 1,
            },
            origin: None,
            season_starts_month: 1,
            traits: vec![blight(needs), bloom()],
            diseases: Default::default(),
            crosses: Vec::new(),
        })
        .expect("a head");
        plot.add_tree(TreeDraft {
            location: WhereGiven { row: Some(1), place: Some(1), ..WhereGiven::default() },
            planted_on: Some(day("2031-04-01")),
            ..TreeDraft::new(TreeId::new("A"))
        })
        .expect("a tree");
        for (nth, &(trait_id, value, on)) in scores.iter().enumerate() {
            plot.add_score(ScoreDraft {
                id: ScoreId::new(format!("s{nth}")),
                tree: TreeId::new("A"),
                trait_id: TraitId::new(trait_id),
                value,
                scored_on: When::on(day(on)),
                round: None,
                scorer: None,
                note: None,
                replaces: None,
            })
            .expect("a score");
        }
        plot
    }

    fn progress(plot: &Plot) -> Vec<TreeProgress> {
        progress_of(plot, plot.trait_ix("scab_leaf").expect("a trait"))
    }

    #[test]
    fn each_season_has_its_own_curve() {
        let mut scores = vec![
            ("scab_leaf", Some(7.0), "2031-06-21"),
            ("scab_leaf", Some(1.0), "2031-06-01"),
            ("scab_leaf", Some(5.0), "2031-06-11"),
            ("scab_leaf", Some(5.0), "2032-06-01"),
            ("scab_leaf", Some(5.0), "2031-03-01"), // before planting
            ("scab_leaf", Some(0.0), "2031-06-15"), // not observed
            ("scab_leaf", None, "2031-06-16"),      // could not be scored
            ("bloom", Some(3.0), "2031-05-01"),
        ];
        let found = progress(&plot(None, &scores));
        let seasons: Vec<_> = found.iter().map(|one| (one.season, one.readings.len())).collect();
        assert_eq!(seasons, [(Season(2031), 3), (Season(2032), 1)]);
        // ½(0 + 0.25) × 10 + ½(0.25 + 0.5) × 10 = 5, and ½(0 + 0.5) × 20/2 more for the stairs.
        assert_eq!(found[0].audpc(), Ok(5.0));
        assert_eq!(found[0].audps(), Ok(7.5));
        assert_eq!(found[1].audpc(), Err(Undefined::TooFew { found: 1 }));
        assert_eq!((found[0].days(), found[1].days()), (20, 0));
        scores.reverse();
        assert_eq!(progress(&plot(None, &scores)), found, "whatever the order of lines");
        let plot = plot(None, &scores);
        let (ix, tree) = (plot.trait_ix("scab_leaf"), plot.tree_ix("A"));
        let (ix, tree) = ix.zip(tree).expect("a trait and a tree");
        assert_eq!(progress_of_tree(&plot, ix, tree), found, "one tree is the whole plot");
        assert_eq!(progress_of(&plot, plot.trait_ix("bloom").expect("a trait")), []);
    }

    #[test]
    fn two_scorers_of_a_day_count_as_their_mean() {
        let found = progress(&plot(
            None,
            &[
                ("scab_leaf", Some(5.0), "2031-06-01"),
                ("scab_leaf", Some(7.0), "2031-06-01"),
                ("scab_leaf", Some(7.0), "2031-06-11"),
            ],
        ));
        assert_eq!(found[0].readings, [(day("2031-06-01"), 0.375), (day("2031-06-11"), 0.5)]);
    }

    #[test]
    fn clean_counts_only_where_the_tree_was_at_risk() {
        let needs = || Some(Needs { trait_id: TraitId::new("bloom"), at_least: 1.0 });
        let clean = ("scab_leaf", Some(1.0), "2031-06-01");
        assert_eq!(progress(&plot(needs(), &[clean])), []);
        let found = progress(&plot(needs(), &[clean, ("bloom", Some(2.0), "2031-05-01")]));
        assert_eq!(found[0].readings, [(day("2031-06-01"), 0.0)]);
    }
}
