//! The luck that one would give who knew every dose, every cross share and the spread of frailty.

use std::collections::BTreeMap;

use plot::{GenotypeId, Plot, TreeIx};

use crate::{DiseaseTruth, Strand};

/// Trees that are judged and looked at, but never seen infected.
pub fn clean_trees(plot: &Plot, truth: &DiseaseTruth) -> Vec<TreeIx> {
    looked_at(plot, truth).filter(|&tree| !was_seen(truth, tree)).collect()
}

/// Judged trees with at least one look.
fn looked_at<'a>(plot: &'a Plot, truth: &'a DiseaseTruth) -> impl Iterator<Item = TreeIx> + 'a {
    plot.trees_ix()
        .map(|(tree, _)| tree)
        .filter(|&tree| plot.is_judged(tree) && !truth.tree(tree).strands.is_empty())
}

/// Whether symptoms were ever written down.
pub(crate) fn was_seen(truth: &DiseaseTruth, tree: TreeIx) -> bool {
    truth.tree(tree).strands.iter().flat_map(|strand| &strand.looks).any(|look| look.seen)
}

/// The oracle's luck of each clean tree: the probability that it is susceptible, given the true
/// dose behind each look, the true distribution of susceptibility in its recorded cross and the
/// true error rates of the looks. Copies of one genotype are judged together.
///
/// For susceptibility `x` with prior weight `w(x)`, a strand of looks has the likelihood
/// `Σ_j P(infected between look j−1 and j | x) · P(looks | infected then)`, where
/// `P(not infected by look j | x) = exp(−x · dose up to j)`; luck is the posterior weight of the
/// susceptible nodes (Bayes).
pub fn luck(plot: &Plot, truth: &DiseaseTruth) -> BTreeMap<TreeIx, f64> {
    let mut copies: BTreeMap<GenotypeId, Vec<TreeIx>> = BTreeMap::new();
    for tree in looked_at(plot, truth) {
        copies.entry(plot.tree(tree).genotype()).or_default().push(tree);
    }
    let mut luck = BTreeMap::new();
    for trees in copies.values() {
        let clean: Vec<TreeIx> =
            trees.iter().copied().filter(|&tree| !was_seen(truth, tree)).collect();
        if clean.is_empty() {
            continue;
        }
        let (mut susceptible, mut all) = (0.0, 0.0);
        for &(weight, susceptibility, resistant) in &truth.prior(trees[0]).nodes {
            let strands = trees.iter().flat_map(|&tree| &truth.tree(tree).strands);
            let likelihood: f64 =
                strands.map(|strand| strand_likelihood(truth, strand, susceptibility)).product();
            all += weight * likelihood;
            susceptible += if resistant { 0.0 } else { weight * likelihood };
        }
        let of_genotype = if all > 0.0 { susceptible / all } else { 1.0 };
        luck.extend(clean.into_iter().map(|tree| (tree, of_genotype)));
    }
    luck
}

fn strand_likelihood(truth: &DiseaseTruth, strand: &Strand, susceptibility: f64) -> f64 {
    let look = |seen: bool, infected: bool| match (infected, seen) {
        (true, true) => 1.0 - truth.false_negative,
        (true, false) => truth.false_negative,
        (false, true) => truth.false_positive,
        (false, false) => 1.0 - truth.false_positive,
    };
    // Two states, walked look by look: still clean, or infected by now.
    let (mut clean, mut infected) = (1.0, 0.0);
    for taken in &strand.looks {
        let stays = libm::exp(-susceptibility * taken.dose);
        infected = (infected + clean * (1.0 - stays)) * look(taken.seen, true);
        clean *= stays * look(taken.seen, false);
    }
    clean + infected
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Look, Prior};

    fn truth(false_negative: f64) -> DiseaseTruth {
        DiseaseTruth {
            disease: "scab".to_owned(),
            trees: Vec::new(),
            prior_of: Vec::new(),
            priors: vec![Prior { nodes: vec![(0.5, 0.0, true), (0.5, 1.0, false)] }],
            false_negative,
            false_positive: 0.0,
        }
    }

    fn strand(looks: &[(f64, bool)]) -> Strand {
        let looks = looks.iter().map(|&(dose, seen)| Look { dose, seen }).collect();
        Strand { season: 0, looks }
    }

    #[test]
    fn a_clean_strand_is_the_escape_chance() {
        // Escape e^-m (trade-facts: P(infection) = 1 - (1-p)^s, escape about e^-ps).
        let likelihood =
            strand_likelihood(&truth(0.0), &strand(&[(1.0, false), (2.0, false)]), 1.0);
        assert!((likelihood - libm::exp(-3.0)).abs() < 1e-12);
    }

    #[test]
    fn a_missed_look_adds_its_share() {
        // One look: clean e^-1, or infected and missed 0.25 (1 - e^-1).
        let likelihood = strand_likelihood(&truth(0.25), &strand(&[(1.0, false)]), 1.0);
        let stays = libm::exp(-1.0);
        assert!((likelihood - (stays + 0.25 * (1.0 - stays))).abs() < 1e-12);
    }

    #[test]
    fn likelihoods_of_all_histories_sum_to_one() {
        let truth = DiseaseTruth { false_positive: 0.1, ..truth(0.2) };
        let mut sum = 0.0;
        for first in [false, true] {
            for second in [false, true] {
                let looks = strand(&[(0.7, first), (1.1, second)]);
                sum += strand_likelihood(&truth, &looks, 0.8);
            }
        }
        assert!((sum - 1.0).abs() < 1e-12);
    }
}
