//! Permutation tests: seeded shuffling, and the p-values that come of it.

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{RngCore, SeedableRng};
use serde::Serialize;

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
        let mean = sum(simulated, |value| value) / m;
        let variance = sum(simulated, |value| (value - mean) * (value - mean)) / m;
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

/// A sum in eight strands, which a processor can take side by side; always in the same order.
fn sum(values: &[f64], of: impl Fn(f64) -> f64) -> f64 {
    let mut strands = [0.0; 8];
    let (whole, rest) = values.as_chunks::<8>();
    for chunk in whole {
        for (strand, &value) in strands.iter_mut().zip(chunk) {
            *strand += of(value);
        }
    }
    strands.iter().sum::<f64>() + rest.iter().map(|&value| of(value)).sum::<f64>()
}

/// A source of random whole numbers that is the same on every target and in every version.
pub(crate) struct Draw(ChaCha8Rng);

impl Draw {
    pub(crate) fn seeded(seed: u64) -> Self {
        Self(ChaCha8Rng::seed_from_u64(seed))
    }

    /// A number in `0..below`, each equally likely.
    pub(crate) fn below(&mut self, below: u32) -> u32 {
        let [number] = self.below_each([below]);
        number
    }

    /// A number in `0..bound` for each of the bounds, from one random word: all combinations are
    /// equally likely (Brackett-Rozinsky & Lemire 2024, *Batched ranged random integer
    /// generation*). The product of the bounds is less than 2⁶⁴.
    fn below_each<const N: usize>(&mut self, bounds: [u32; N]) -> [u32; N] {
        let product: u64 = bounds.iter().map(|&bound| u64::from(bound)).product();
        loop {
            let mut rest = self.0.next_u64();
            let numbers = bounds.map(|bound| {
                let wide = u128::from(rest) * u128::from(bound);
                rest = wide as u64;
                (wide >> 64) as u32
            });
            // Few words lead to one combination more often than to another: those are refused.
            if rest >= product || rest >= product.wrapping_neg() % product {
                return numbers;
            }
        }
    }

    /// Puts values into one of all their orders, each equally likely (Fisher & Yates; Durstenfeld
    /// 1964).
    pub(crate) fn shuffle<T>(&mut self, values: &mut [T]) {
        const THREE_FIT: u32 = 1 << 20;
        let mut left = values.len() as u32;
        let mut place = |left: u32, other: u32| values.swap(left as usize - 1, other as usize);
        while left > 1 {
            if (4..=THREE_FIT).contains(&left) {
                let [first, second, third] = self.below_each([left, left - 1, left - 2]);
                place(left, first);
                place(left - 1, second);
                place(left - 2, third);
                left -= 3;
            } else {
                place(left, self.below(left));
                left -= 1;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_order_is_equally_likely() {
        let mut draw = Draw::seeded(11);
        let mut seen = std::collections::BTreeMap::<[u8; 5], u32>::new();
        for _ in 0..120_000 {
            let mut order = [0, 1, 2, 3, 4];
            draw.shuffle(&mut order);
            *seen.entry(order).or_default() += 1;
        }
        assert_eq!(seen.len(), 120);
        // χ² with 119 degrees of freedom; 172.4 is its 99.9 % point (scipy).
        let chi_square: f64 =
            seen.values().map(|&count| (f64::from(count) - 1000.0).powi(2) / 1000.0).sum();
        assert!(chi_square < 172.4, "{chi_square}");
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
