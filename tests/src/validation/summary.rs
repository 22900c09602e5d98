//! What trials add up to.

use epidemic::measure::{self, Bin};
use proof::Verdict;

use super::trial::{Clean, Trial};

/// Bins of a calibration table.
const BINS: usize = 10;

/// Trials taken together.
#[derive(Clone, Debug, PartialEq)]
pub struct Summary {
    /// Plots.
    pub plots: usize,
    /// Plots in which the fit stepped back from the full model.
    pub stepped_back: usize,
    /// Clean trees of all plots.
    pub clean: usize,
    /// Areas under the ROC curve, mean over the plots that have clean trees of both classes.
    pub area: Option<Areas>,
    /// Stated luck against the share found susceptible, clean trees of all plots together.
    pub calibration: Vec<Bin>,
    /// Mean distance of stated luck and share found.
    pub calibration_error: f64,
    /// Trees proven.
    pub proven: Share,
    /// Of the trees proven, those that are susceptible in truth.
    pub wrong: Share,
    /// Of the oracle's proven trees, those that are susceptible in truth.
    pub oracle_wrong: Share,
    /// Of the oracle's proven trees, those that are proven.
    pub found: Share,
    /// Of the trees with an interval, those whose interval holds the oracle's luck.
    pub covered: Share,
    /// Mean of log(dose / true dose), trees with both above 0.01.
    pub dose_bias: f64,
    /// Correlation of the logarithms of dose and true dose, mean over plots.
    pub dose_correlation: f64,
}

/// Areas under the ROC curve.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Areas {
    /// Plots.
    pub plots: usize,
    /// Of luck.
    pub luck: f64,
    /// Of the oracle.
    pub oracle: f64,
    /// Of the naive rule.
    pub naive: f64,
    /// Standard error of `oracle − luck` over plots.
    pub gap_error: f64,
}

/// So many of so many trees.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Share {
    /// So many.
    pub count: usize,
    /// Of so many.
    pub of: usize,
    /// Standard error of the share, plots being what is drawn at random (ratio estimator, Cochran
    /// 1977); 0 for one plot.
    pub error: f64,
}

impl Share {
    /// The share; none of nothing.
    pub fn share(self) -> Option<f64> {
        (self.of > 0).then(|| self.count as f64 / self.of as f64)
    }

    /// 95 % interval of the share were the trees independent (Wilson 1927).
    pub fn interval(self) -> Option<(f64, f64)> {
        let (p, n) = (self.share()?, self.of as f64);
        let z2 = 1.96 * 1.96;
        let centre = (p + z2 / (2.0 * n)) / (1.0 + z2 / n);
        let half = (z2 * (p * (1.0 - p) / n + z2 / (4.0 * n * n))).sqrt() / (1.0 + z2 / n);
        Some(((centre - half).max(0.0), (centre + half).min(1.0)))
    }

    fn among(
        trials: &[&Trial],
        of: impl Fn(&Clean) -> bool,
        count: impl Fn(&Clean) -> bool,
    ) -> Self {
        let of_plot = |trial: &&Trial| {
            let trees = || trial.clean.iter().filter(|tree| of(tree));
            (trees().filter(|tree| count(tree)).count(), trees().count())
        };
        let plots: Vec<(usize, usize)> = trials.iter().map(of_plot).collect();
        let sum = plots.iter().fold((0, 0), |sum, plot| (sum.0 + plot.0, sum.1 + plot.1));
        let share = Self { count: sum.0, of: sum.1, error: 0.0 };
        let Some(p) = share.share().filter(|_| plots.len() > 1) else { return share };
        let off = |plot: &(usize, usize)| plot.0 as f64 - p * plot.1 as f64;
        let squares = plots.iter().map(|plot| off(plot) * off(plot)).sum::<f64>();
        let n = plots.len() as f64;
        Self { error: (squares * n / (n - 1.0)).sqrt() / sum.1 as f64, ..share }
    }
}

/// Whether a luck is small enough for *proven*.
pub fn is_proven(luck: f64) -> bool {
    Verdict::of_luck(luck) == Verdict::Proven
}

/// A score that ranks clean trees, most trusted highest.
pub type Ranking = fn(&Clean) -> f64;

/// The three rankings, each with its name.
pub const RANKINGS: [(&str, Ranking); 3] = [
    ("luck", |tree| 1.0 - tree.luck),
    ("oracle", |tree| 1.0 - tree.oracle),
    ("naive", |tree| tree.naive),
];

/// Cases of one ranking for ROC curves.
pub fn ranked(trial: &Trial, score: Ranking) -> Vec<(f64, bool)> {
    trial.clean.iter().map(|tree| (score(tree), tree.resistant)).collect()
}

impl Summary {
    /// Adds up trials.
    pub fn of<'a>(trials: impl Iterator<Item = &'a Trial>) -> Self {
        let trials: Vec<&Trial> = trials.collect();
        let trees = || trials.iter().flat_map(|trial| &trial.clean);
        let stated: Vec<(f64, bool)> = trees().map(|tree| (tree.luck, !tree.resistant)).collect();
        let calibration = measure::calibration(&stated, BINS);
        let proven = |tree: &Clean| is_proven(tree.luck);
        let oracle_proven = |tree: &Clean| is_proven(tree.oracle);
        let holds = |tree: &Clean| {
            tree.interval.is_some_and(|(low, high)| (low..=high).contains(&tree.oracle))
        };
        let (dose_bias, dose_correlation) = doses(&trials);
        Self {
            plots: trials.len(),
            stepped_back: trials.iter().filter(|trial| trial.stepped_back).count(),
            clean: stated.len(),
            area: areas(&trials),
            calibration_error: measure::calibration_error(&calibration),
            calibration,
            proven: Share::among(&trials, |_| true, proven),
            wrong: Share::among(&trials, proven, |tree| !tree.resistant),
            oracle_wrong: Share::among(&trials, oracle_proven, |tree| !tree.resistant),
            found: Share::among(&trials, oracle_proven, proven),
            covered: Share::among(&trials, |tree| tree.interval.is_some(), holds),
            dose_bias,
            dose_correlation,
        }
    }
}

fn areas(trials: &[&Trial]) -> Option<Areas> {
    let of_plot = |trial: &&Trial| {
        let area = |nth: usize| measure::auc(&ranked(trial, RANKINGS[nth].1));
        Some([area(0)?, area(1)?, area(2)?])
    };
    let plots: Vec<[f64; 3]> = trials.iter().filter_map(of_plot).collect();
    if plots.is_empty() {
        return None;
    }
    let n = plots.len() as f64;
    let mean = |nth: usize| plots.iter().map(|areas| areas[nth]).sum::<f64>() / n;
    let (luck, oracle) = (mean(0), mean(1));
    let gap = |areas: &[f64; 3]| areas[1] - areas[0] - (oracle - luck);
    let variance = plots.iter().map(|areas| gap(areas) * gap(areas)).sum::<f64>() / n;
    let gap_error = (variance / n).sqrt();
    Some(Areas { plots: plots.len(), luck, oracle, naive: mean(2), gap_error })
}

fn doses(trials: &[&Trial]) -> (f64, f64) {
    let pairs = |trial: &Trial| -> Vec<(f64, f64)> {
        let both = trial.clean.iter().filter_map(|tree| Some((tree.dose?, tree.true_dose)));
        both.filter(|(a, b)| *a > 0.01 && *b > 0.01).map(|(a, b)| (a.ln(), b.ln())).collect()
    };
    let (mut bias, mut trees, mut correlations) = (0.0, 0.0, Vec::new());
    for pairs in trials.iter().map(|trial| pairs(trial)) {
        let n = pairs.len() as f64;
        bias += pairs.iter().map(|(a, b)| a - b).sum::<f64>();
        trees += n;
        let mean = |of: fn(&(f64, f64)) -> f64| pairs.iter().map(of).sum::<f64>() / n;
        let (a, b) = (mean(|pair| pair.0), mean(|pair| pair.1));
        let sum = |of: &dyn Fn(&(f64, f64)) -> f64| pairs.iter().map(of).sum::<f64>();
        let covariance = sum(&|pair| (pair.0 - a) * (pair.1 - b));
        let spread = sum(&|pair| (pair.0 - a).powi(2)) * sum(&|pair| (pair.1 - b).powi(2));
        if spread > 0.0 {
            correlations.push(covariance / spread.sqrt());
        }
    }
    let mean = |sum: f64, n: f64| if n > 0.0 { sum / n } else { f64::NAN };
    (mean(bias, trees), mean(correlations.iter().sum(), correlations.len() as f64))
}

#[cfg(test)]
mod tests {
    use super::*;
    use epidemic::Kind;

    fn tree(luck: f64, oracle: f64, resistant: bool) -> Clean {
        let interval = Some((luck / 2.0, luck * 2.0));
        Clean { resistant, luck, interval, oracle, naive: 0.5, dose: None, true_dose: 1.0 }
    }

    fn trial(clean: Vec<Clean>) -> Trial {
        Trial { kind: Kind::Blocks, seed: 1, clean, stepped_back: false }
    }

    #[test]
    fn shares_count_what_they_say() {
        let trial = trial(vec![
            tree(0.01, 0.02, true),
            tree(0.04, 0.20, false),
            tree(0.50, 0.03, true),
            tree(0.90, 0.80, false),
        ]);
        let summary = Summary::of([&trial].into_iter());
        let check = |share: Share, count: usize, of: usize| {
            assert_eq!(share, Share { count, of, error: 0.0 });
        };
        check(summary.proven, 2, 4);
        check(summary.wrong, 1, 2);
        check(summary.found, 1, 2);
        check(summary.oracle_wrong, 0, 2);
        check(summary.covered, 2, 4);
        let area = summary.area.expect("both classes");
        assert_eq!((area.luck, area.oracle, area.naive), (0.75, 1.0, 0.5));
    }

    #[test]
    fn the_error_of_a_share_is_that_of_plots() {
        // Two plots of 2 trees, 2 and 0 of them proven: share 1/2, each plot 1 off, so
        // sqrt((1 + 1) · 2 / 1) / 4 = 1/2 (by hand).
        let sure = trial(vec![tree(0.01, 0.5, true), tree(0.02, 0.5, true)]);
        let unsure = trial(vec![tree(0.9, 0.5, true), tree(0.8, 0.5, true)]);
        let proven = Summary::of([&sure, &unsure].into_iter()).proven;
        assert_eq!(proven, Share { count: 2, of: 4, error: 0.5 });
    }

    #[test]
    fn the_interval_of_a_share_is_wilson_s() {
        // 10 of 100: Wilson's 95 % interval is 0.0552 to 0.1744 (computed by hand from the
        // formula with z = 1.96).
        let (low, high) = Share { count: 10, of: 100, error: 0.0 }.interval().expect("a share");
        assert!((low - 0.0552).abs() < 5e-5 && (high - 0.1744).abs() < 5e-5, "{low} {high}");
        assert_eq!(Share::default().interval(), None);
    }
}
