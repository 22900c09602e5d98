//! Join counts: how often neighbours are alike in a yes-or-no value.

use serde::Serialize;

use crate::quadratic::simulate;
use crate::{PermutationTest, Test, Undefined, Weights};

/// Join counts of a yes-or-no value under the two kinds of sampling.
///
/// Counts are half the sum of weights over ordered pairs, so with binary symmetric weights they
/// are numbers of pairs of neighbours.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct JoinCounts {
    /// Number of points.
    pub n: usize,
    /// How many say yes.
    pub yes: usize,
    /// Pairs in which both say yes (BB, black–black, in the literature).
    pub both: JoinCount,
    /// Pairs in which one says yes (BW).
    pub one: JoinCount,
    /// Pairs in which neither says yes (WW).
    pub neither: JoinCount,
}

/// One kind of join with its moments.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct JoinCount {
    /// The count.
    pub value: f64,
    /// Expectation with the number of yes fixed (non-free sampling, without replacement).
    pub expected_non_free: f64,
    /// Variance of the same.
    pub variance_non_free: f64,
    /// Test of the same; none where nothing can vary.
    pub non_free: Option<Test>,
    /// Expectation with each point saying yes with the observed share (free sampling).
    pub expected_free: f64,
    /// Variance of the same.
    pub variance_free: f64,
    /// Test of the same; none where nothing can vary.
    pub free: Option<Test>,
}

/// Join counts of `yes` at the points of `weights`.
///
/// Formulas: Cliff & Ord 1981, *Spatial Processes*, pp. 19–20, for weights that need be neither
/// binary nor symmetric. With n₁ yes and n₂ no, p = n₁/n, q = n₂/n and x⁽ᵏ⁾ = x(x−1)…(x−k+1):
///
/// - non-free: `E(both) = ½ S0 n₁⁽²⁾/n⁽²⁾`, `Var(both) = ¼ (S1 n₁⁽²⁾/n⁽²⁾ + (S2 − 2 S1) n₁⁽³⁾/n⁽³⁾
///   + (S0² + S1 − S2) n₁⁽⁴⁾/n⁽⁴⁾) − E²`; `E(one) = S0 n₁n₂/n⁽²⁾`, `Var(one) = ¼ (2 S1 n₁n₂/n⁽²⁾
///   + (S2 − 2 S1) n₁n₂(n − 2)/n⁽³⁾ + 4 (S0² + S1 − S2) n₁⁽²⁾n₂⁽²⁾/n⁽⁴⁾) − E²`,
/// - free: `E(both) = ½ S0 p²`, `Var(both) = ¼ (S1 p² + (S2 − 2 S1) p³ + (S1 − S2) p⁴)`;
///   `E(one) = S0 pq`, `Var(one) = ¼ (2 S1 pq (1 − 2pq) + (S2 − 2 S1) pq (1 − 4pq))`.
///
/// # Errors
/// [`Undefined`]: fewer than 4 points, all the same, or no links.
///
/// # Panics
/// Where there are not as many values as points.
pub fn join_counts(weights: &Weights, yes: &[bool]) -> Result<JoinCounts, Undefined> {
    let (s0, s1, s2) = checked(weights, yes)?;
    let count = yes.iter().filter(|&&yes| yes).count();
    let (n, n1) = (yes.len() as f64, count as f64);
    let (n2, p) = (n - n1, n1 / n);
    let spread = s0 * s0 + s1 - s2;
    let alike = |value: f64, k: f64, p: f64| {
        let share = |power: u32| falling(k, power) / falling(n, power);
        let non_free = 0.5 * s0 * share(2);
        let variance = 0.25 * (s1 * share(2) + (s2 - 2.0 * s1) * share(3) + spread * share(4));
        let free = 0.25 * p * p * (s1 + (s2 - 2.0 * s1) * p + (s1 - s2) * p * p);
        JoinCount::new(value, (non_free, variance - non_free * non_free), (0.5 * s0 * p * p, free))
    };
    let [both, one, neither] = counts(weights, yes);
    let unlike = {
        let non_free = s0 * n1 * n2 / falling(n, 2);
        let variance = 0.25
            * (2.0 * s1 * n1 * n2 / falling(n, 2)
                + (s2 - 2.0 * s1) * n1 * n2 * (n - 2.0) / falling(n, 3)
                + 4.0 * spread * falling(n1, 2) * falling(n2, 2) / falling(n, 4));
        let pq = p * (1.0 - p);
        let free = 0.25 * pq * (2.0 * s1 * (1.0 - 2.0 * pq) + (s2 - 2.0 * s1) * (1.0 - 4.0 * pq));
        JoinCount::new(one, (non_free, variance - non_free * non_free), (s0 * pq, free))
    };
    Ok(JoinCounts {
        n: yes.len(),
        yes: count,
        both: alike(both, n1, p),
        one: unlike,
        neither: alike(neither, n2, 1.0 - p),
    })
}

/// The count of pairs in which both say yes, against `permutations` random arrangements.
///
/// # Errors
/// As [`join_counts`], and [`Undefined::NoPermutations`].
///
/// # Panics
/// Where there are not as many values as points.
pub fn join_count_permutation(
    weights: &Weights,
    yes: &[bool],
    permutations: usize,
    seed: u64,
) -> Result<PermutationTest, Undefined> {
    let both = join_counts(weights, yes)?.both;
    let marks: Vec<f64> = yes.iter().map(|&yes| f64::from(u8::from(yes))).collect();
    let simulated = simulate(weights, None, 0.5, &marks, permutations, seed)?;
    Ok(PermutationTest::new(both.value, both.expected_non_free, &simulated, seed))
}

impl JoinCount {
    fn new(value: f64, non_free: (f64, f64), free: (f64, f64)) -> Self {
        Self {
            value,
            expected_non_free: non_free.0,
            variance_non_free: non_free.1,
            non_free: Test::new(value, non_free.0, non_free.1),
            expected_free: free.0,
            variance_free: free.1,
            free: Test::new(value, free.0, free.1),
        }
    }
}

fn checked(weights: &Weights, yes: &[bool]) -> Result<(f64, f64, f64), Undefined> {
    assert_eq!(weights.len(), yes.len(), "one value for each point");
    if yes.len() < 4 {
        return Err(Undefined::TooFew { needed: 4, found: yes.len() });
    }
    if yes.iter().all(|value| value == &yes[0]) {
        return Err(Undefined::Constant);
    }
    let sums = weights.linked_sums()?;
    Ok((sums.s0, sums.s1, sums.s2))
}

/// Half the weight of ordered pairs in which both, one and neither say yes.
fn counts(weights: &Weights, yes: &[bool]) -> [f64; 3] {
    let mut counts = [0.0; 3];
    for (i, &own) in yes.iter().enumerate() {
        for (j, weight) in weights.of(i) {
            let kind = match (own, yes[j]) {
                (true, true) => 0,
                (false, false) => 2,
                _ => 1,
            };
            counts[kind] += 0.5 * weight;
        }
    }
    counts
}

/// x(x − 1)…(x − k + 1).
fn falling(x: f64, k: u32) -> f64 {
    (0..k).map(|step| x - f64::from(step)).product()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Both kinds of moments against every possible marking of five points with uneven, one-sided
    /// weights: all 2⁵ markings under free sampling, those with two yes under non-free sampling.
    #[test]
    fn by_enumeration() {
        let pairs = [(0, 1, 1.0), (1, 0, 2.0), (1, 2, 0.5), (3, 1, 1.0), (3, 4, 3.0), (4, 0, 1.5)];
        let weights = Weights::from_pairs(5, &pairs).expect("good pairs");
        let all: Vec<Vec<bool>> =
            (0..32u32).map(|bits| (0..5).map(|at| bits >> at & 1 == 1).collect()).collect();
        let two = all.iter().filter(|marks| marks.iter().filter(|&&yes| yes).count() == 2);
        let found = join_counts(&weights, two.clone().next().expect("ten")).expect("defined");
        for (kind, join) in [found.both, found.one, found.neither].into_iter().enumerate() {
            let values: Vec<f64> = two.clone().map(|marks| counts(&weights, marks)[kind]).collect();
            let equal = vec![1.0 / values.len() as f64; values.len()];
            let (mean, variance) = moments(&values, &equal);
            assert!((join.expected_non_free - mean).abs() < 1e-12, "{kind}");
            assert!((join.variance_non_free - variance).abs() < 1e-12, "{kind}");

            let values: Vec<f64> = all.iter().map(|marks| counts(&weights, marks)[kind]).collect();
            let chance: Vec<f64> = all
                .iter()
                .map(|marks| marks.iter().map(|&yes| if yes { 0.4 } else { 0.6 }).product())
                .collect();
            let (mean, variance) = moments(&values, &chance);
            assert!((join.expected_free - mean).abs() < 1e-12, "{kind}");
            assert!((join.variance_free - variance).abs() < 1e-12, "{kind}");
        }
    }

    fn moments(values: &[f64], chance: &[f64]) -> (f64, f64) {
        let mean: f64 = values.iter().zip(chance).map(|(x, p)| x * p).sum();
        (mean, values.iter().zip(chance).map(|(x, p)| p * (x - mean) * (x - mean)).sum())
    }

    #[test]
    fn what_is_not_defined_says_so() {
        let line: Vec<_> = (0..5).map(|i| (f64::from(i), 0.0)).collect();
        let weights = Weights::band(&line, 1.0);
        assert_eq!(join_counts(&weights, &[true; 5]), Err(Undefined::Constant));
        let apart = Weights::band(&line, 0.5);
        let yes = [true, false, true, false, true];
        assert_eq!(join_counts(&apart, &yes), Err(Undefined::NoLinks));
        let none = join_count_permutation(&weights, &yes, 0, 1);
        assert_eq!(none, Err(Undefined::NoPermutations));
    }
}
