//! Getis–Ord Gi and Gi*: where high or low values gather.

use crate::deviations::Deviations;
use crate::local::conditional_permutation;
use crate::{Local, PermutationTest, Undefined, Weights};

/// Gi of every point, in the order of the points: its neighbours' weighted sum of values against
/// what the other points' mean and spread would give.
///
/// Value `Σ_j w_ij x_j`, j ≠ i. With x̄(i) and s²(i) the mean and the variance (divisor n − 1) of
/// the n − 1 other values, w_i = Σ_j w_ij (Ord & Getis 1995, *Geographical Analysis* 27:286):
/// `E = w_i x̄(i)`, `Var = s²(i) ((n − 1) Σ_j w_ij² − w_i²) / (n − 2)`. Scaling a point's weights
/// does not change its z, so binary and row-standardised weights agree. An island has no test.
///
/// # Errors
/// [`Undefined`]: fewer than 4 points, a value that is not finite, all values equal, or no links.
///
/// # Panics
/// Where there are not as many values as points.
pub fn gi(weights: &Weights, values: &[f64]) -> Result<Vec<Local>, Undefined> {
    assert_eq!(weights.len(), values.len(), "one value for each point");
    let Deviations { z, square_sum } = Deviations::of(values, 4)?;
    weights.linked()?;
    let mean = values.iter().sum::<f64>() / values.len() as f64;
    let others = values.len() as f64 - 1.0;
    Ok((0..values.len())
        .map(|i| {
            let row = weights.row(i);
            let (sum, squares, lag) = (row.sum(), row.squares(), row.lag(&z));
            // Deviations sum to 0, so the others' sum is −z_i.
            let mean_others = -z[i] / others;
            // s²(i) of the others; rounding may leave a little less than 0.
            let spread = (square_sum - z[i] * z[i]) / others - mean_others * mean_others;
            let variance = spread.max(0.0) * (others * squares - sum * sum) / (others - 1.0);
            Local::new(lag + sum * mean, sum * (mean_others + mean), variance.max(0.0))
        })
        .collect())
}

/// Gi* of every point, in the order of the points: as [`gi`], the point itself included among its
/// neighbours.
///
/// A point's own weight is the largest of its weights (1 with binary weights, the common weight
/// with row-standardised k nearest; 1 for an island). With x̄ and s² the mean and the variance
/// (divisor n) of all values and the sums over j including i (Ord & Getis 1995):
/// `E = w_i x̄`, `Var = s² (n Σ_j w_ij² − w_i²) / (n − 1)`.
///
/// # Errors
/// [`Undefined`]: fewer than 4 points, a value that is not finite, or all values equal.
///
/// # Panics
/// Where there are not as many values as points.
pub fn gi_star(weights: &Weights, values: &[f64]) -> Result<Vec<Local>, Undefined> {
    assert_eq!(weights.len(), values.len(), "one value for each point");
    let Deviations { z, square_sum } = Deviations::of(values, 4)?;
    let n = values.len() as f64;
    let mean = values.iter().sum::<f64>() / n;
    let spread = square_sum / n;
    Ok((0..values.len())
        .map(|i| {
            let row = weights.row(i);
            let own = if row.to.is_empty() { 1.0 } else { row.largest() };
            let (sum, squares) = (row.sum() + own, row.squares() + own * own);
            let variance = spread * (n * squares - sum * sum) / (n - 1.0);
            let value = row.lag(&z) + own * z[i] + sum * mean;
            Local::new(value, sum * mean, variance.max(0.0))
        })
        .collect())
}

/// Gi of every point against `permutations` random values at its neighbours. None for an island.
///
/// Gi* has the same p-values, since the point's own value is held fixed.
///
/// # Errors
/// As [`gi`], [`Undefined::NoPermutations`], and [`Undefined::TooManyDraws`] where the most
/// neighbours of a point times the permutations are more than 50 million.
///
/// # Panics
/// Where there are not as many values as points.
pub fn gi_permutation(
    weights: &Weights,
    values: &[f64],
    permutations: usize,
    seed: u64,
) -> Result<Vec<Option<PermutationTest>>, Undefined> {
    assert_eq!(weights.len(), values.len(), "one value for each point");
    Deviations::of(values, 4)?;
    weights.linked()?;
    conditional_permutation(weights, values, permutations, seed, |_| 1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn setting() -> (Weights, Vec<f64>) {
        let points: Vec<_> = (0..30).map(|i| (f64::from(i % 6), f64::from(i / 6))).collect();
        let values = (0..30).map(|i| 100.0 + f64::from(i * i % 17)).collect();
        (Weights::band(&points, 1.0), values)
    }

    /// The definition of Ord & Getis 1995, word for word, on binary weights.
    #[test]
    fn by_definition() {
        let (weights, values) = setting();
        let (plain, star) =
            (gi(&weights, &values).expect("defined"), gi_star(&weights, &values).expect("defined"));
        let n = values.len() as f64;
        let moments = |kept: &[f64]| {
            let m = kept.len() as f64;
            let mean = kept.iter().sum::<f64>() / m;
            (mean, kept.iter().map(|x| x * x).sum::<f64>() / m - mean * mean)
        };
        for i in 0..values.len() {
            let near: Vec<f64> = weights.of(i).map(|(j, _)| values[j]).collect();
            let k = near.len() as f64;
            let others: Vec<f64> =
                (0..values.len()).filter(|&j| j != i).map(|j| values[j]).collect();
            let (mean, spread) = moments(&others);
            let z = (near.iter().sum::<f64>() - k * mean)
                / (spread * ((n - 1.0) * k - k * k) / (n - 2.0)).sqrt();
            assert!((plain[i].test.expect("varies").z - z).abs() < 1e-9, "{i}");
            let (mean, spread) = moments(&values);
            let k = k + 1.0;
            let z = (near.iter().sum::<f64>() + values[i] - k * mean)
                / (spread * (n * k - k * k) / (n - 1.0)).sqrt();
            assert!((star[i].test.expect("varies").z - z).abs() < 1e-9, "{i}");
        }
    }

    #[test]
    fn the_style_of_weights_does_not_matter() {
        let (weights, values) = setting();
        let standard = weights.clone().row_standardised();
        let alike = |a: Vec<Local>, b: Vec<Local>| {
            for (a, b) in a.iter().zip(&b) {
                let (a, b) = (a.test.expect("varies"), b.test.expect("varies"));
                assert!((a.z - b.z).abs() < 1e-9);
            }
        };
        alike(gi(&weights, &values).expect("defined"), gi(&standard, &values).expect("defined"));
        alike(
            gi_star(&weights, &values).expect("defined"),
            gi_star(&standard, &values).expect("defined"),
        );
    }

    #[test]
    fn permutations_find_the_exact_moments() {
        let (weights, values) = setting();
        let exact = gi(&weights, &values).expect("defined");
        let tests = gi_permutation(&weights, &values, 20_000, 3).expect("defined");
        for (exact, test) in exact.iter().zip(tests) {
            let (test, spread) = (test.expect("no island"), exact.variance.sqrt());
            assert!((test.mean - exact.expected).abs() < 5.0 * spread / 20_000f64.sqrt());
            assert!((test.standard_deviation / spread - 1.0).abs() < 0.04);
        }
    }

    #[test]
    fn more_draws_than_memory_holds() {
        let (weights, values) = setting();
        let asked = gi_permutation(&weights, &values, 20_000_000, 1);
        let why = Undefined::TooManyDraws { neighbours: 4, permutations: 20_000_000 };
        assert_eq!(asked, Err(why));
    }

    #[test]
    fn an_island_has_no_gi() {
        let points = [(0.0, 0.0), (1.0, 0.0), (2.0, 0.0), (99.0, 0.0), (3.0, 0.0)];
        let weights = Weights::band(&points, 1.0);
        let values = [1.0, 2.0, 3.0, 4.0, 9.0];
        assert_eq!(gi(&weights, &values).expect("defined")[3].test, None);
        assert_eq!(gi_permutation(&weights, &values, 9, 1).expect("defined")[3], None);
        assert!(gi_star(&weights, &values).expect("defined")[3].test.is_some());
    }
}
