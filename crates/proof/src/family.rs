//! How many of a cross are resistant: a share with Mendelian prior, estimated from its members.

use crate::case::{Case, Family, Standing};

/// Shares are looked at in twenty-fourths, so that every Mendelian share is one of them.
pub(crate) const PARTS: usize = 24;

/// Prior weight of the Mendelian shares 0, ¼, ½, ¾ and 1; the rest lies flat over all shares.
/// None: a susceptible cross is common; ½: one heterozygous parent; ¾: both, or two genes
/// (trade facts, common practice, no source for the weights).
const MENDELIAN: [(usize, f64); 5] = [(0, 0.10), (6, 0.12), (12, 0.20), (18, 0.12), (24, 0.02)];

/// Weight that a breeder's expected share takes from the prior.
const TRUST_IN_EXPECTED: f64 = 0.5;

/// What is believed of a family's share of resistant members: a weight for each of
/// 0/24, 1/24 … 24/24, summing to 1.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct ShareBelief {
    pub(crate) weights: [f64; PARTS + 1],
}

/// The share that stands at a position of a [`ShareBelief`].
pub(crate) fn share_at(part: usize) -> f64 {
    part as f64 / PARTS as f64
}

impl ShareBelief {
    /// Before any score.
    pub(crate) fn prior(family: &Family) -> Self {
        let mendelian: f64 = MENDELIAN.iter().map(|(_, weight)| weight).sum();
        let mut weights = [(1.0 - mendelian) / (PARTS + 1) as f64; PARTS + 1];
        for (part, weight) in MENDELIAN {
            weights[part] += weight;
        }
        if let Some(expected) = family.expected {
            weights.iter_mut().for_each(|weight| *weight *= 1.0 - TRUST_IN_EXPECTED);
            // Split between the two parts that enclose the expected share.
            let at = expected * PARTS as f64;
            let below = (at as usize).min(PARTS - 1);
            let above = at - below as f64;
            weights[below] += TRUST_IN_EXPECTED * (1.0 - above);
            weights[below + 1] += TRUST_IN_EXPECTED * above;
        }
        Self { weights }
    }

    /// Mean share.
    pub(crate) fn mean(&self) -> f64 {
        self.weights.iter().enumerate().map(|(part, weight)| weight * share_at(part)).sum()
    }

    /// The share below which `level` (0 to 1) of the belief lies.
    pub(crate) fn quantile(&self, level: f64) -> f64 {
        let mut sum = 0.0;
        for (part, weight) in self.weights.iter().enumerate() {
            sum += weight;
            if sum >= level - 1e-12 {
                return share_at(part);
            }
        }
        1.0
    }

    /// Probability that a member is resistant, from how well *susceptible* and *resistant* explain
    /// its own scores, averaged over the belief.
    pub(crate) fn resistant(&self, susceptible: f64, resistant: f64) -> f64 {
        self.weights
            .iter()
            .enumerate()
            .map(|(part, weight)| weight * posterior(share_at(part), susceptible, resistant))
            .sum()
    }
}

/// Bayes' rule for one member.
pub(crate) fn posterior(share: f64, susceptible: f64, resistant: f64) -> f64 {
    let (s, r) = ((1.0 - share) * susceptible, share * resistant);
    if s + r > 0.0 { r / (s + r) } else { share }
}

/// How well the two states explain a genotype's scores (probabilities of its scores).
#[derive(Clone, Copy, Debug)]
pub(crate) struct Explained {
    pub(crate) susceptible: f64,
    pub(crate) resistant: f64,
}

/// The belief of each family after its members' scores, and the log marginal likelihood of all
/// groups, known checks among them.
pub(crate) fn beliefs(case: &Case, explained: &[Explained]) -> (Vec<ShareBelief>, f64) {
    let mut log_weights: Vec<[f64; PARTS + 1]> = vec![[0.0; PARTS + 1]; case.families.len()];
    // Products are taken as they come and turned into logarithms before they run out of range.
    let mut products = vec![[1.0_f64; PARTS + 1]; case.families.len()];
    let mut log_likelihood = 0.0;
    for (group, one) in case.groups.iter().zip(explained) {
        match group.standing {
            Standing::Susceptible => log_likelihood += log_of(one.susceptible),
            Standing::Resistant => log_likelihood += log_of(one.resistant),
            Standing::Member(family) => {
                for (part, product) in products[family].iter_mut().enumerate() {
                    let share = share_at(part);
                    *product *= (1.0 - share) * one.susceptible + share * one.resistant;
                    if *product < 1e-200 {
                        log_weights[family][part] += log_of(*product);
                        *product = 1.0;
                    }
                }
            }
        }
    }
    let mut beliefs = Vec::with_capacity(case.families.len());
    for ((family, mut logs), products) in case.families.iter().zip(log_weights).zip(products) {
        let prior = ShareBelief::prior(family);
        for ((log, product), weight) in logs.iter_mut().zip(products).zip(prior.weights) {
            *log += log_of(product) + log_of(weight);
        }
        let (weights, log_sum) = normalised(&logs);
        log_likelihood += log_sum;
        beliefs.push(ShareBelief { weights });
    }
    (beliefs, log_likelihood)
}

/// Weights that sum to 1, from their logarithms, and the logarithm of the sum.
pub(crate) fn normalised<const N: usize>(logs: &[f64; N]) -> ([f64; N], f64) {
    let highest = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let mut weights = logs.map(|log| libm::exp(log - highest));
    let sum: f64 = weights.iter().sum();
    weights.iter_mut().for_each(|weight| *weight /= sum);
    (weights, highest + libm::log(sum))
}

/// A logarithm that stays finite: no scores are impossible, only very unlikely.
fn log_of(probability: f64) -> f64 {
    libm::log(probability.max(1e-300))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::case::Kin;

    fn family(expected: Option<f64>) -> Family {
        Family { kin: Kin::Unknown, expected }
    }

    #[test]
    fn priors_sum_to_one_and_lean_towards_what_the_breeder_expects() {
        for expected in [None, Some(0.0), Some(0.5), Some(0.61), Some(1.0)] {
            let prior = ShareBelief::prior(&family(expected));
            assert!((prior.weights.iter().sum::<f64>() - 1.0).abs() < 1e-12, "{expected:?}");
        }
        let plain = ShareBelief::prior(&family(None)).mean();
        let sharpened = ShareBelief::prior(&family(Some(1.0))).mean();
        assert!(sharpened > plain + 0.25, "{plain} {sharpened}");
    }

    #[test]
    fn one_member_follows_the_worked_values_of_the_escape_rule() {
        // P(resistant | clean) = π / (π + (1 − π) e): trade facts, section 5 (computed there).
        for (share, escape, expected) in [
            (0.5, 0.7, 0.588),
            (0.5, 0.3, 0.769),
            (0.5, 0.1, 0.909),
            (0.5, 0.01, 0.990),
            (0.1, 0.1, 0.526),
        ] {
            assert!((posterior(share, escape, 1.0) - expected).abs() < 5e-4, "{share} {escape}");
        }
    }
}
