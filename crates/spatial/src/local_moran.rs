//! Local Moran: which points stand among their like, and which among their unlike.

use serde::Serialize;

use crate::deviations::Deviations;
use crate::local::conditional_permutation;
use crate::{Local, PermutationTest, Undefined, Weights};

/// Local Moran of one point.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct LocalMoran {
    /// Moments over all arrangements of the *other* values, the point's own held fixed. Its value
    /// is `I_i = z_i Σ_j w_ij z_j / (Σ z² / n)`.
    pub conditional: Local,
    /// The same value with its moments over all arrangements of all values.
    pub total: Local,
    /// The same with n − 1 in place of n: `z_i Σ_j w_ij z_j / (Σ z² / (n − 1))`.
    pub value_n_minus_1: f64,
    /// Where the point stands.
    pub quadrant: Quadrant,
}

/// A point against its neighbours, each above the mean (high) or not (low).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Quadrant {
    /// High among high.
    HighHigh,
    /// Low among high.
    LowHigh,
    /// Low among low.
    LowLow,
    /// High among low.
    HighLow,
}

/// Local Moran of every point, in the order of the points.
///
/// With z the deviations from the mean, m₂ = Σz²/n, w_i = Σ_j w_ij and b₂ = n Σz⁴/(Σz²)²:
///
/// - value (Anselin 1995, *Geographical Analysis* 27:93): `I_i = z_i Σ_j w_ij z_j / m₂`; some
///   libraries divide by Σz²/(n − 1) instead,
/// - conditional moments (Sokal, Oden & Thomson 1998, *Geographical Analysis* 30:331):
///   `E = −w_i z_i² / ((n − 1) m₂)`,
///   `Var = (z_i / m₂)² n/(n − 2) (Σ_j w_ij² − w_i²/(n − 1)) (m₂ − z_i²/(n − 1))`,
/// - total moments (Anselin 1995): `E = −w_i/(n − 1)`,
///   `Var = Σ_j w_ij² (n − b₂)/(n − 1) + (w_i² − Σ_j w_ij²)(2 b₂ − n)/((n − 1)(n − 2)) − E²`.
///
/// An island has value 0 and no test. The normal approximation is rough with few neighbours:
/// prefer [`local_moran_permutation`].
///
/// # Errors
/// [`Undefined`]: fewer than 4 points, a value that is not finite, all values equal, or no links.
///
/// # Panics
/// Where there are not as many values as points.
pub fn local_moran(weights: &Weights, values: &[f64]) -> Result<Vec<LocalMoran>, Undefined> {
    assert_eq!(weights.len(), values.len(), "one value for each point");
    let deviations = Deviations::of(values, 4)?;
    weights.linked()?;
    let n = values.len() as f64;
    let mean_square = deviations.square_sum / n;
    let peak = deviations.kurtosis();
    let z = &deviations.z;
    Ok((0..values.len())
        .map(|i| {
            let row = weights.row(i);
            let (sum, squares, lag) = (row.sum(), row.squares(), row.lag(z));
            let value = z[i] * lag / mean_square;
            let own = z[i] * z[i];
            let per_other = n - 1.0;
            let conditional = (z[i] / mean_square) * (z[i] / mean_square) * n / (n - 2.0)
                * (squares - sum * sum / per_other)
                * (mean_square - own / per_other);
            let expected = -sum / per_other;
            let total = squares * (n - peak) / per_other
                + (sum * sum - squares) * (2.0 * peak - n) / (per_other * (n - 2.0))
                - expected * expected;
            LocalMoran {
                conditional: Local::new(value, expected * own / mean_square, conditional),
                total: Local::new(value, expected, total),
                value_n_minus_1: value * per_other / n,
                quadrant: Quadrant::of(z[i], lag),
            }
        })
        .collect())
}

/// Local Moran (the value with n) of every point against `permutations` random values at its
/// neighbours, its own held fixed. None for an island.
///
/// The p-values are of one point each: with many points correct them, as with
/// [`benjamini_hochberg`](crate::benjamini_hochberg).
///
/// # Errors
/// As [`local_moran`], [`Undefined::NoPermutations`], and [`Undefined::TooManyDraws`] where the most
/// neighbours of a point times the permutations are more than 50 million.
///
/// # Panics
/// Where there are not as many values as points.
pub fn local_moran_permutation(
    weights: &Weights,
    values: &[f64],
    permutations: usize,
    seed: u64,
) -> Result<Vec<Option<PermutationTest>>, Undefined> {
    assert_eq!(weights.len(), values.len(), "one value for each point");
    let Deviations { z, square_sum } = Deviations::of(values, 4)?;
    weights.linked()?;
    let mean_square = square_sum / values.len() as f64;
    conditional_permutation(weights, &z, permutations, seed, |i| z[i] / mean_square)
}

impl Quadrant {
    fn of(own: f64, lag: f64) -> Self {
        match (own > 0.0, lag > 0.0) {
            (true, true) => Self::HighHigh,
            (false, true) => Self::LowHigh,
            (false, false) => Self::LowLow,
            (true, false) => Self::HighLow,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::moran;

    fn setting() -> (Weights, Vec<f64>) {
        let points: Vec<_> = (0..30).map(|i| (f64::from(i % 6), f64::from(i / 6))).collect();
        (Weights::nearest(&points, 3), (0..30).map(|i| f64::from(i * i % 17)).collect())
    }

    /// Anselin 1995: the local values sum to S0 times Moran's I.
    #[test]
    fn sums_to_the_global_value() {
        let (weights, values) = setting();
        let sum: f64 = local_moran(&weights, &values)
            .expect("defined")
            .iter()
            .map(|site| site.conditional.value)
            .sum();
        let global = moran(&weights, &values).expect("defined").value;
        assert!((sum - weights.sums().s0 * global).abs() < 1e-10);
    }

    /// The conditional moments are those of the permutations that hold the point fixed.
    #[test]
    fn permutations_find_the_exact_moments() {
        let (weights, values) = setting();
        let uneven = Weights::from_pairs(
            30,
            &(0..30)
                .flat_map(|i| weights.of(i).map(move |(j, w)| (i, j, w + 0.1 * j as f64)))
                .collect::<Vec<_>>(),
        )
        .expect("good pairs");
        for weights in [weights, uneven] {
            let exact = local_moran(&weights, &values).expect("defined");
            let tests = local_moran_permutation(&weights, &values, 20_000, 3).expect("defined");
            for (exact, test) in exact.iter().zip(tests) {
                let (exact, test) = (exact.conditional, test.expect("no island"));
                let spread = exact.variance.sqrt();
                assert!((test.mean - exact.expected).abs() < 5.0 * spread / 20_000f64.sqrt());
                assert!((test.standard_deviation / spread - 1.0).abs() < 0.04);
            }
        }
    }

    #[test]
    fn quadrants() {
        use Quadrant::{HighHigh, HighLow, LowHigh, LowLow};
        let line: Vec<_> = (0..7).map(|i| (f64::from(i), 0.0)).collect();
        let weights = Weights::band(&line, 1.0);
        let found = local_moran(&weights, &[0.0, 9.0, 9.0, 1.0, 0.0, 0.0, 9.0]).expect("defined");
        let quadrants: Vec<_> = found.iter().map(|site| site.quadrant).collect();
        assert_eq!(quadrants, [LowHigh, HighHigh, HighHigh, LowHigh, LowLow, LowHigh, HighLow]);
    }

    /// All arrangements of some values.
    fn arrangements(values: &[f64]) -> Vec<Vec<f64>> {
        if values.is_empty() {
            return vec![Vec::new()];
        }
        let mut all = Vec::new();
        for (at, &first) in values.iter().enumerate() {
            let rest = [&values[..at], &values[at + 1..]].concat();
            all.extend(arrangements(&rest).into_iter().map(|rest| [vec![first], rest].concat()));
        }
        all
    }

    /// Moments are those over every arrangement: of all values, and of all others than the point's
    /// own. Weights are unequal and one way only, so that no part of a formula vanishes.
    #[test]
    fn moments_are_those_over_every_arrangement() {
        let pairs = [(0, 1, 2.0), (0, 2, 0.5), (0, 4, 1.25), (1, 0, 1.0), (3, 4, 3.0)];
        let weights = Weights::from_pairs(5, &pairs).expect("good pairs");
        let values = [4.0, 1.0, 7.0, 2.5, 3.0];
        let found = local_moran(&weights, &values).expect("defined")[0];
        let moments = |values: &[f64]| {
            let n = values.len() as f64;
            let mean = values.iter().sum::<f64>() / n;
            (mean, values.iter().map(|value| (value - mean) * (value - mean)).sum::<f64>() / n)
        };
        let value_of =
            |arranged: &[f64]| local_moran(&weights, arranged).expect("defined")[0].total.value;
        let total: Vec<f64> = arrangements(&values).iter().map(|all| value_of(all)).collect();
        let others = arrangements(&values[1..]).into_iter();
        let held: Vec<f64> =
            others.map(|others| value_of(&[&values[..1], &others].concat())).collect();
        assert_eq!((total.len(), held.len()), (120, 24));
        for (local, (mean, variance)) in
            [(found.total, moments(&total)), (found.conditional, moments(&held))]
        {
            assert!((local.expected - mean).abs() < 1e-12, "{local:?}, over all: {mean}");
            assert!((local.variance - variance).abs() < 1e-12, "{local:?}, over all: {variance}");
        }
        assert!((found.value_n_minus_1 - 0.8 * found.total.value).abs() < 1e-12);
    }
}
