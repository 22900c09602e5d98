//! Permutation tests: seeded shuffling, and the p-values that come of it.

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{RngCore, SeedableRng};
use serde::Serialize;

use crate::Undefined;

/// A statistic against what it would be if values fell on points at random.
///
/// With m permutations, of which g gave at least the observed value, `p_greater` is
/// `(g + 1) / (m + 1)`: the observed arrangement counts as one of the possible ones (Davison &
/// Hinkley 1997, section 4.2), so a p-value is never 0. Equality counts as at least, with a slack
/// of one part in 10¹⁰ of the spread for rounding.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct PermutationTest {
    /// Number of permutations.
    pub permutations: usize,
    /// Seed of the ChaCha generator.
    pub seed: u64,
    /// Mean over the permutations.
    pub mean: f64,
    /// Standard deviation over the permutations (divisor: their number).
    pub standard_deviation: f64,
    /// (observed − mean) / standard deviation; 0 where nothing varies.
    pub z: f64,
    /// Share of arrangements with at least the observed value.
    pub p_greater: f64,
    /// Share with at most the observed value.
    pub p_less: f64,
    /// Share at least as far from the expectation as the observed value, on either side.
    pub p_two_sided: f64,
    /// Twice the smaller of `p_greater` and `p_less`, at most 1.
    pub p_doubled: f64,
    /// The smaller of `p_greater` and `p_less`: one-sided, towards the side that was seen.
    /// Not to be read as two-sided.
    pub p_folded: f64,
}

impl PermutationTest {
    /// The test of `observed` against `simulated`; `expected` is the exact expectation over all
    /// permutations, from which the two-sided distance is taken.
    pub(crate) fn new(observed: f64, expected: f64, simulated: &[f64], seed: u64) -> Self {
        let m = simulated.len() as f64;
        let mean = simulated.iter().sum::<f64>() / m;
        let variance =
            simulated.iter().map(|value| (value - mean) * (value - mean)).sum::<f64>() / m;
        let standard_deviation = variance.sqrt();
        let slack = 1e-10 * standard_deviation;
        let (low, high) = (observed - slack, observed + slack);
        let far = (observed - expected).abs() - slack;
        let (mut greater, mut less, mut farther) = (1u32, 1u32, 1u32);
        for &value in simulated {
            greater += u32::from(value >= low);
            less += u32::from(value <= high);
            farther += u32::from((value - expected).abs() >= far);
        }
        let share = |count: u32| f64::from(count) / (m + 1.0);
        let (p_greater, p_less) = (share(greater), share(less));
        Self {
            permutations: simulated.len(),
            seed,
            mean,
            standard_deviation,
            z: if standard_deviation > 0.0 { (observed - mean) / standard_deviation } else { 0.0 },
            p_greater,
            p_less,
            p_two_sided: share(farther),
            p_doubled: (2.0 * p_greater.min(p_less)).min(1.0),
            p_folded: p_greater.min(p_less),
        }
    }
}

/// A statistic of `permutations` random arrangements of the values.
///
/// # Errors
/// [`Undefined::NoPermutations`] where there is none.
pub(crate) fn simulate(
    mut values: Vec<f64>,
    permutations: usize,
    seed: u64,
    statistic: impl Fn(&[f64]) -> f64,
) -> Result<Vec<f64>, Undefined> {
    if permutations == 0 {
        return Err(Undefined::NoPermutations);
    }
    let mut draw = Draw::seeded(seed);
    Ok((0..permutations)
        .map(|_| {
            draw.shuffle(&mut values);
            statistic(&values)
        })
        .collect())
}

/// A source of random whole numbers that is the same on every target and in every version.
pub(crate) struct Draw(ChaCha8Rng);

impl Draw {
    pub(crate) fn seeded(seed: u64) -> Self {
        Self(ChaCha8Rng::seed_from_u64(seed))
    }

    /// A number in `0..below`, each equally likely (Lemire 2019, ACM TOMACS 29:3).
    pub(crate) fn below(&mut self, below: u32) -> u32 {
        let mut wide = u64::from(self.0.next_u32()) * u64::from(below);
        if (wide as u32) < below {
            let threshold = below.wrapping_neg() % below;
            while (wide as u32) < threshold {
                wide = u64::from(self.0.next_u32()) * u64::from(below);
            }
        }
        (wide >> 32) as u32
    }

    /// Puts values into one of all their orders, each equally likely (Fisher & Yates; Durstenfeld
    /// 1964).
    pub(crate) fn shuffle<T>(&mut self, values: &mut [T]) {
        for last in (1..values.len() as u32).rev() {
            let other = self.below(last + 1);
            values.swap(last as usize, other as usize);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_order_is_equally_likely() {
        let mut draw = Draw::seeded(11);
        let mut seen = std::collections::BTreeMap::<[u8; 4], u32>::new();
        for _ in 0..24_000 {
            let mut order = [0, 1, 2, 3];
            draw.shuffle(&mut order);
            *seen.entry(order).or_default() += 1;
        }
        assert_eq!(seen.len(), 24);
        // χ² with 23 degrees of freedom; 49.7 is its 99.9 % point (any table).
        let chi_square: f64 =
            seen.values().map(|&count| (f64::from(count) - 1000.0).powi(2) / 1000.0).sum();
        assert!(chi_square < 49.7, "{chi_square}");
    }

    #[test]
    fn shares_count_the_observed_arrangement() {
        let test =
            PermutationTest::new(3.0, 0.0, &[-4.0, -1.0, 0.0, 1.0, 3.0, 2.0, 0.5, -0.5, 1.0], 1);
        assert_eq!(test.p_greater, 0.2);
        assert_eq!(test.p_less, 1.0);
        assert_eq!(test.p_two_sided, 0.3);
        assert_eq!(test.p_folded, 0.2);
    }
}
