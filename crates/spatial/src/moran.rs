//! Moran's I: whether like values stand together.

use crate::deviations::Deviations;
use crate::quadratic::simulate;
use crate::{Global, PermutationTest, Undefined, Weights};

/// Moran's I of `values` at the points of `weights`.
///
/// `I = (n / S0) Σ_ij w_ij z_i z_j / Σ_i z_i²`, z the deviations from the mean; above its
/// expectation where like stands by like. Formulas: Cliff & Ord 1981, *Spatial Processes*,
/// pp. 17–21; with S1 and S2 as in [`Sums`](crate::Sums) and b₂ the kurtosis n Σz⁴ / (Σz²)²:
///
/// - normality: `Var = (n² S1 − n S2 + 3 S0²) / (S0² (n² − 1)) − E²`,
/// - randomisation: `Var = (n [(n² − 3n + 3) S1 − n S2 + 3 S0²] − b₂ [(n² − n) S1 − 2n S2 + 6 S0²])
///   / ((n − 1)(n − 2)(n − 3) S0²) − E²`.
///
/// A point without neighbours keeps its value in n, mean and variance (the other convention drops
/// it from n). Asymmetric weights are taken as they are.
///
/// # Errors
/// [`Undefined`]: fewer than 4 points, a value that is not finite, all values equal, or no links.
///
/// # Panics
/// Where there are not as many values as points.
pub fn moran(weights: &Weights, values: &[f64]) -> Result<Global, Undefined> {
    assert_eq!(weights.len(), values.len(), "one value for each point");
    let deviations = Deviations::of(values, 4)?;
    let sums = weights.linked_sums()?;
    let n = values.len() as f64;
    let value = n / sums.s0 * cross_product(weights, &deviations.z) / deviations.square_sum;
    let expected = -1.0 / (n - 1.0);
    let s0_2 = sums.s0 * sums.s0;
    let normality = (n * n * sums.s1 - n * sums.s2 + 3.0 * s0_2) / (s0_2 * (n * n - 1.0));
    let fixed = n * ((n * n - 3.0 * n + 3.0) * sums.s1 - n * sums.s2 + 3.0 * s0_2);
    let peaked = deviations.kurtosis() * ((n * n - n) * sums.s1 - 2.0 * n * sums.s2 + 6.0 * s0_2);
    let randomisation = (fixed - peaked) / ((n - 1.0) * (n - 2.0) * (n - 3.0) * s0_2);
    let square = expected * expected;
    Ok(Global::new(weights, value, expected, normality - square, randomisation - square))
}

/// Moran's I against `permutations` random arrangements of the values over the points.
///
/// # Errors
/// As [`moran`], and [`Undefined::NoPermutations`].
///
/// # Panics
/// Where there are not as many values as points.
pub fn moran_permutation(
    weights: &Weights,
    values: &[f64],
    permutations: usize,
    seed: u64,
) -> Result<PermutationTest, Undefined> {
    assert_eq!(weights.len(), values.len(), "one value for each point");
    let Deviations { z, square_sum } = Deviations::of(values, 4)?;
    let n = values.len() as f64;
    let scale = n / (weights.linked()? * square_sum);
    let simulated = simulate(weights, None, scale, &z, permutations, seed)?;
    let observed = scale * cross_product(weights, &z);
    Ok(PermutationTest::new(observed, -1.0 / (n - 1.0), &simulated, seed))
}

fn cross_product(weights: &Weights, z: &[f64]) -> f64 {
    (0..z.len()).map(|i| z[i] * weights.lag(i, z)).sum()
}

#[cfg(test)]
mod tests;
