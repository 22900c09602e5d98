//! Geary's c: how much neighbours differ.

use crate::deviations::Deviations;
use crate::quadratic::simulate;
use crate::{Global, PermutationTest, Undefined, Weights};

/// Geary's c of `values` at the points of `weights`.
///
/// `c = (n − 1) Σ_ij w_ij (x_i − x_j)² / (2 S0 Σ_i z_i²)`, z the deviations from the mean. Its
/// expectation is 1; **below** 1 like stands by like, so z has the opposite sign of Moran's (some
/// libraries turn it round). Formulas: Cliff & Ord 1981, *Spatial Processes*, pp. 17–21, with b₂
/// the kurtosis:
///
/// - normality: `Var = ((2 S1 + S2)(n − 1) − 4 S0²) / (2 (n + 1) S0²)`,
/// - randomisation: `Var = ((n − 1) S1 [n² − 3n + 3 − (n − 1) b₂]
///   − ¼ (n − 1) S2 [n² + 3n − 6 − (n² − n + 2) b₂] + S0² [n² − 3 − (n − 1)² b₂])
///   / (n (n − 2)(n − 3) S0²)`.
///
/// A point without neighbours keeps its value in n, mean and variance.
///
/// # Errors
/// [`Undefined`]: fewer than 4 points, a value that is not finite, all values equal, or no links.
///
/// # Panics
/// Where there are not as many values as points.
pub fn geary(weights: &Weights, values: &[f64]) -> Result<Global, Undefined> {
    assert_eq!(weights.len(), values.len(), "one value for each point");
    let deviations = Deviations::of(values, 4)?;
    let sums = weights.linked_sums()?;
    let n = values.len() as f64;
    let value = (n - 1.0) * square_differences(weights, &deviations.z)
        / (2.0 * sums.s0 * deviations.square_sum);
    let s0_2 = sums.s0 * sums.s0;
    let normality = ((2.0 * sums.s1 + sums.s2) * (n - 1.0) - 4.0 * s0_2) / (2.0 * (n + 1.0) * s0_2);
    let peak = deviations.kurtosis();
    let first = (n - 1.0) * sums.s1 * (n * n - 3.0 * n + 3.0 - (n - 1.0) * peak);
    let second = 0.25 * (n - 1.0) * sums.s2 * (n * n + 3.0 * n - 6.0 - (n * n - n + 2.0) * peak);
    let third = s0_2 * (n * n - 3.0 - (n - 1.0) * (n - 1.0) * peak);
    let randomisation = (first - second + third) / (n * (n - 2.0) * (n - 3.0) * s0_2);
    Ok(Global::new(weights, value, 1.0, normality, randomisation))
}

/// Geary's c against `permutations` random arrangements of the values over the points.
///
/// # Errors
/// As [`geary`], and [`Undefined::NoPermutations`].
///
/// # Panics
/// Where there are not as many values as points.
pub fn geary_permutation(
    weights: &Weights,
    values: &[f64],
    permutations: usize,
    seed: u64,
) -> Result<PermutationTest, Undefined> {
    assert_eq!(weights.len(), values.len(), "one value for each point");
    let Deviations { z, square_sum } = Deviations::of(values, 4)?;
    let scale = (values.len() as f64 - 1.0) / (2.0 * weights.linked()? * square_sum);
    // Σ w_ij (z_i − z_j)² = Σ_i (w_i. + w_.i) z_i² − 2 Σ w_ij z_i z_j.
    let back = weights.transposed();
    let own: Vec<f64> =
        (0..z.len()).map(|i| -0.5 * (weights.row(i).sum() + back.row(i).sum())).collect();
    let simulated = simulate(weights, Some(&own), -2.0 * scale, &z, permutations, seed)?;
    let observed = scale * square_differences(weights, &z);
    Ok(PermutationTest::new(observed, 1.0, &simulated, seed))
}

fn square_differences(weights: &Weights, z: &[f64]) -> f64 {
    (0..z.len())
        .map(|i| {
            weights.of(i).map(|(j, weight)| weight * (z[i] - z[j]) * (z[i] - z[j])).sum::<f64>()
        })
        .sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A line of four: c by hand. x = 1, 2, 4, 7; Σz² = 21; Σ w (x_i − x_j)² = 2 (1 + 4 + 9) = 28;
    /// c = 3 × 28 / (2 × 6 × 21) = 1/3.
    #[test]
    fn by_hand() {
        let line: Vec<_> = (0..4).map(|i| (f64::from(i), 0.0)).collect();
        let weights = Weights::band(&line, 1.0);
        let found = geary(&weights, &[1.0, 2.0, 4.0, 7.0]).expect("defined");
        assert!((found.value - 1.0 / 3.0).abs() < 1e-15, "{}", found.value);
        assert!(found.randomisation.expect("varies").z < 0.0, "like by like falls below 1");
    }

    #[test]
    fn permutations_find_the_exact_moments() {
        let points: Vec<_> = (0..30).map(|i| (f64::from(i % 6), f64::from(i / 6))).collect();
        let values: Vec<_> = (0..30).map(|i| f64::from(i * i % 17)).collect();
        let weights = Weights::nearest(&points, 3).row_standardised();
        let exact = geary(&weights, &values).expect("defined");
        let test = geary_permutation(&weights, &values, 20_000, 5).expect("defined");
        let spread = exact.variance_randomisation.sqrt();
        assert!((test.mean - exact.expected).abs() < 4.0 * spread / 20_000f64.sqrt());
        assert!((test.standard_deviation / spread - 1.0).abs() < 0.03);
    }
}
