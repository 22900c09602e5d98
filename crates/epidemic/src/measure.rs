//! How good a judgement is: area under the ROC curve, calibration, and the naive rule to beat.

use plot::{Plot, TreeIx};

use crate::DiseaseTruth;
use crate::oracle::was_seen;

/// Area under the ROC curve: the probability that a positive case has a higher score than a
/// negative one, ties counting half (Mann & Whitney 1947; Hanley & McNeil 1982). None where one
/// of the two classes is empty.
///
/// ```
/// let cases = [(0.9, true), (0.8, false), (0.7, true), (0.1, false)];
/// assert_eq!(epidemic::measure::auc(&cases), Some(0.75));
/// ```
pub fn auc(cases: &[(f64, bool)]) -> Option<f64> {
    let mut sorted = cases.to_vec();
    sorted.sort_by(|a, b| a.0.total_cmp(&b.0));
    let positives = sorted.iter().filter(|case| case.1).count() as f64;
    let negatives = sorted.len() as f64 - positives;
    if positives == 0.0 || negatives == 0.0 {
        return None;
    }
    let (mut wins, mut negatives_below) = (0.0, 0.0);
    for tied in sorted.chunk_by(|a, b| a.0 == b.0) {
        let positive = tied.iter().filter(|case| case.1).count() as f64;
        let negative = tied.len() as f64 - positive;
        wins += positive * (negatives_below + negative / 2.0);
        negatives_below += negative;
    }
    Some(wins / (positives * negatives))
}

/// Points of the ROC curve, from (0, 0) to (1, 1): share of negatives and of positives whose
/// score is at least a falling threshold. Empty where one of the two classes is empty.
pub fn roc(cases: &[(f64, bool)]) -> Vec<(f64, f64)> {
    let mut sorted = cases.to_vec();
    sorted.sort_by(|a, b| b.0.total_cmp(&a.0));
    let positives = sorted.iter().filter(|case| case.1).count() as f64;
    let negatives = sorted.len() as f64 - positives;
    if positives == 0.0 || negatives == 0.0 {
        return Vec::new();
    }
    let mut points = vec![(0.0, 0.0)];
    let (mut false_ones, mut true_ones) = (0.0, 0.0);
    for tied in sorted.chunk_by(|a, b| a.0 == b.0) {
        let positive = tied.iter().filter(|case| case.1).count() as f64;
        true_ones += positive;
        false_ones += tied.len() as f64 - positive;
        points.push((false_ones / negatives, true_ones / positives));
    }
    points
}

/// Cases of about the same stated probability.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bin {
    /// How many.
    pub count: usize,
    /// Mean of the stated probabilities.
    pub stated: f64,
    /// Share that came true.
    pub found: f64,
}

/// Calibration: cases by stated probability in `bins` bins of equal width; empty bins are left
/// out.
pub fn calibration(cases: &[(f64, bool)], bins: usize) -> Vec<Bin> {
    let mut sums = vec![(0_usize, 0.0, 0.0); bins.max(1)];
    let last = sums.len() - 1;
    for &(stated, came_true) in cases {
        let bin = &mut sums[((stated * bins as f64) as usize).min(last)];
        bin.0 += 1;
        bin.1 += stated;
        bin.2 += f64::from(u8::from(came_true));
    }
    let mean = |(count, stated, found): (usize, f64, f64)| {
        let n = count as f64;
        Bin { count, stated: stated / n, found: found / n }
    };
    sums.into_iter().filter(|bin| bin.0 > 0).map(mean).collect()
}

/// Expected calibration error: mean over cases of |stated − found| within their bin. Zero for no
/// case.
pub fn calibration_error(bins: &[Bin]) -> f64 {
    let count: usize = bins.iter().map(|bin| bin.count).sum();
    let apart = |bin: &Bin| bin.count as f64 * libm::fabs(bin.stated - bin.found);
    bins.iter().map(apart).sum::<f64>() / count.max(1) as f64
}

/// The naive rule: the share of a tree's `k` nearest neighbours with a look (itself left out,
/// ties by tree id) that were seen infected. The more, the more one trusts a clean tree.
pub fn naive(plot: &Plot, truth: &DiseaseTruth, trees: &[TreeIx], k: usize) -> Vec<f64> {
    let looked_at: Vec<TreeIx> = plot
        .trees_ix()
        .map(|(tree, _)| tree)
        .filter(|&tree| !truth.tree(tree).strands.is_empty())
        .collect();
    let share = |&tree: &TreeIx| {
        let spot = plot.tree(tree).spot();
        let mut near: Vec<(f64, &plot::TreeId, TreeIx)> = looked_at
            .iter()
            .filter(|&&other| other != tree)
            .map(|&other| {
                let of = plot.tree(other);
                (of.spot().distance_m(spot), of.id(), other)
            })
            .collect();
        near.sort_by(|a, b| a.0.total_cmp(&b.0).then_with(|| a.1.cmp(b.1)));
        near.truncate(k);
        let seen = near.iter().filter(|near| was_seen(truth, near.2)).count();
        seen as f64 / near.len().max(1) as f64
    };
    trees.iter().map(share).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn auc_equals_the_count_of_pairs() {
        let check = |cases: &[(f64, bool)]| {
            let (mut wins, mut pairs) = (0.0, 0.0);
            for a in cases.iter().filter(|case| case.1) {
                for b in cases.iter().filter(|case| !case.1) {
                    pairs += 1.0;
                    wins += if a.0 > b.0 {
                        1.0
                    } else if a.0 == b.0 {
                        0.5
                    } else {
                        0.0
                    };
                }
            }
            assert!((auc(cases).expect("two classes") - wins / pairs).abs() < 1e-12);
            // The area under the stepwise-linear curve is the same number.
            let curve = roc(cases);
            let area: f64 =
                curve.windows(2).map(|w| (w[1].0 - w[0].0) * (w[0].1 + w[1].1) / 2.0).sum();
            assert!((area - wins / pairs).abs() < 1e-12);
        };
        check(&[(1.0, true), (0.0, false)]);
        check(&[(0.5, true), (0.5, false), (0.5, true)]);
        check(&[(0.1, true), (0.9, false), (0.4, true), (0.4, false), (0.3, false)]);
        assert_eq!(auc(&[(0.3, true)]), None);
    }

    #[test]
    fn bins_hold_means_and_error_is_their_distance() {
        let bins = calibration(&[(0.05, false), (0.15, true), (0.12, false), (1.0, true)], 10);
        assert_eq!(bins.iter().map(|bin| bin.count).collect::<Vec<_>>(), [1, 2, 1]);
        assert!((bins[1].stated - 0.135).abs() < 1e-12 && bins[1].found == 0.5);
        assert!((calibration_error(&bins) - (0.05 + 2.0 * 0.365) / 4.0).abs() < 1e-12);
    }
}
