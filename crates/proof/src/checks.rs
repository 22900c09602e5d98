//! Whether the fit holds on this plot: predicted against seen, and what pattern is left over.

use crate::case::Case;
use crate::escape::{frailty, stay_clean};
use crate::fit::Fitted;
use crate::report::{CalibrationBin, Leftover};

/// Permutations of the left-over test, and their seed.
const PERMUTATIONS: usize = 499;
const SEED: u64 = 2031;
/// Neighbours that the left-over test looks at.
const NEIGHBOURS: usize = 8;
const BINS: usize = 10;

/// One tree in one season: what was predicted and what was seen.
struct Prediction {
    site: usize,
    /// Chance that a susceptible tree there would have been seen infected.
    expected: f64,
    infected: bool,
    /// Probability that it is susceptible, given everything.
    susceptible: f64,
}

/// Infections expected of a typical susceptible tree over all rounds in which it was scored, also
/// those after it was seen infected: by site, then by history.
pub(crate) fn whole_season_doses(case: &Case, fitted: &Fitted) -> Vec<Vec<f64>> {
    let width = case.rounds.len();
    case.sites
        .iter()
        .enumerate()
        .map(|(nth, site)| {
            let expected = |round: usize| {
                fitted.state.level[round] * fitted.state.risk[nth * width + round].mean
            };
            site.histories
                .iter()
                .map(|history| (history.start..history.scored_end).map(expected).sum())
                .collect()
        })
        .collect()
}

fn predictions(case: &Case, fitted: &Fitted) -> Vec<Prediction> {
    let whole = whole_season_doses(case, fitted);
    let nodes = frailty(fitted.hypothesis.frailty_sd);
    let mut predictions = Vec::new();
    for (nth, site) in case.sites.iter().enumerate() {
        let susceptible = 1.0 - fitted.state.resistant[site.group];
        let seasons = site.histories.iter().zip(&fitted.doses[nth]).zip(&whole[nth]);
        for ((history, dose), whole) in seasons.filter(|((history, _), _)| !history.is_untested) {
            let clean: f64 =
                nodes.iter().map(|(u, weight)| weight * stay_clean(u * whole, dose.shape)).sum();
            predictions.push(Prediction {
                site: nth,
                expected: 1.0 - clean,
                infected: history.infected.is_some(),
                susceptible,
            });
        }
    }
    predictions
}

/// Predicted chance of infection against the share seen, in ten bins of about equal weight, each
/// tree and season counting as far as the tree may be susceptible.
pub(crate) fn calibration(case: &Case, fitted: &Fitted) -> Vec<CalibrationBin> {
    let mut predictions = predictions(case, fitted);
    predictions.sort_by(|a, b| a.expected.total_cmp(&b.expected).then(a.site.cmp(&b.site)));
    let total: f64 = predictions.iter().map(|one| one.susceptible).sum();
    let mut bins = vec![CalibrationBin::default(); BINS];
    let mut sum = 0.0;
    for one in predictions {
        let bin = &mut bins[((sum / total * BINS as f64) as usize).min(BINS - 1)];
        sum += one.susceptible;
        bin.trees += one.susceptible;
        bin.expected += one.susceptible * one.expected;
        bin.seen += if one.infected { one.susceptible } else { 0.0 };
    }
    bins.retain(|bin| bin.trees > 0.0);
    for bin in &mut bins {
        bin.expected /= bin.trees;
        bin.seen /= bin.trees;
    }
    bins
}

/// Moran's I of what the fit leaves unexplained: for each tree, infections seen less predicted,
/// summed over seasons. None where it is not defined (too few trees, or nothing left over).
pub(crate) fn leftover(case: &Case, fitted: &Fitted) -> Option<Leftover> {
    let mut residuals = vec![0.0; case.sites.len()];
    for one in predictions(case, fitted) {
        let seen = if one.infected { 1.0 } else { 0.0 };
        residuals[one.site] += one.susceptible * (seen - one.expected);
    }
    let points: Vec<(f64, f64)> = case.sites.iter().map(|site| (site.x_m, site.y_m)).collect();
    let weights = spatial::Weights::nearest(&points, NEIGHBOURS);
    let moran = spatial::moran(&weights, &residuals).ok()?;
    let test = spatial::moran_permutation(&weights, &residuals, PERMUTATIONS, SEED).ok()?;
    Some(Leftover {
        moran_i: moran.value,
        p: test.p_greater,
        permutations: PERMUTATIONS,
        seed: SEED,
        by_tree: case.sites.iter().map(|site| site.tree).zip(residuals).collect(),
    })
}
