//! The position test, free of any model: within a cross, do clean trees stand in quieter places
//! than infected ones?
//!
//! Season by season, each tree of the cross has a witness share: the kernel-weighted share infected
//! among its neighbours, its own score left out. The statistic is the mean share of the infected
//! less that of the clean, weighted over seasons by the smaller of the two counts. Labels are
//! permuted within the cross and season, and the shares computed anew, since members of a cross
//! are each other's neighbours. p is the share of permutations, the scores themselves among them,
//! that reach the statistic (one-sided; Davison & Hinkley 1997, *Bootstrap methods*, ch. 4, from
//! memory). Small p: cleanliness in that cross follows position.

use rand::SeedableRng;
use rand::seq::SliceRandom;
use rand_chacha::ChaCha8Rng;

use crate::case::{Case, Standing};
use crate::pressure::Weights;
use crate::report::PositionTest;

/// Seed of the permutations, written into the report.
const SEED: u64 = 2031;
const MOST_PERMUTATIONS: usize = 999;
const FEWEST_PERMUTATIONS: usize = 99;
/// Neighbour looks that one test may cost; a large cross gets fewer permutations.
const MOST_LOOKS: usize = 20_000_000;
/// Clean and infected trees needed in a season to compare them.
const ENOUGH: usize = 5;

/// Tests one family; none where no season has enough clean and enough infected trees.
pub(crate) fn test(case: &Case, weights: &Weights, family: usize) -> Option<PositionTest> {
    let seasons: Vec<Season> =
        (0..case.seasons.len()).filter_map(|nth| Season::of(case, weights, family, nth)).collect();
    if seasons.is_empty() {
        return None;
    }
    let looks: usize = seasons.iter().map(|season| season.links.len()).sum();
    let permutations = (MOST_LOOKS / looks.max(1)).clamp(FEWEST_PERMUTATIONS, MOST_PERMUTATIONS);
    let total: f64 = seasons.iter().map(|season| season.weight).sum();
    let pooled = |infected: &[Vec<bool>]| -> (f64, f64) {
        let mut means = (0.0, 0.0);
        for (season, infected) in seasons.iter().zip(infected) {
            let (sick, clean) = season.means(infected);
            means.0 += season.weight * sick / total;
            means.1 += season.weight * clean / total;
        }
        means
    };
    let mut labels: Vec<Vec<bool>> = seasons.iter().map(|one| one.infected.clone()).collect();
    let (infected_share, clean_share) = pooled(&labels);
    let observed = infected_share - clean_share;
    let mut random = ChaCha8Rng::seed_from_u64(SEED);
    let mut reached = 1;
    for _ in 0..permutations {
        labels.iter_mut().for_each(|season| season.shuffle(&mut random));
        let (sick, clean) = pooled(&labels);
        // Ties count as reached; rounding must not break them.
        reached += usize::from(sick - clean >= observed - 1e-12);
    }
    Some(PositionTest {
        infected_share,
        clean_share,
        p: reached as f64 / (permutations + 1) as f64,
        permutations,
        seed: SEED,
    })
}

/// One season of one cross, ready to be relabelled.
struct Season {
    infected: Vec<bool>,
    /// By member: weighted infected neighbours outside the cross, and the weight of all.
    outside: Vec<(f64, f64)>,
    /// By member: where its links start, and with one more the end of all.
    starts: Vec<usize>,
    /// Members that have the member as neighbour, with its weight.
    links: Vec<(u32, f32)>,
    weight: f64,
}

impl Season {
    fn of(case: &Case, weights: &Weights, family: usize, season: usize) -> Option<Self> {
        let infected_in = |site: usize| {
            let history = case.sites[site].tests().find(|one| one.season == season)?;
            Some(history.infected.is_some())
        };
        let is_member =
            |site: usize| case.groups[case.sites[site].group].standing == Standing::Member(family);
        let mut member_of = vec![u32::MAX; case.sites.len()];
        let (mut members, mut infected) = (Vec::new(), Vec::new());
        for site in (0..case.sites.len()).filter(|&site| is_member(site)) {
            if let Some(seen) = infected_in(site) {
                member_of[site] = members.len() as u32;
                members.push(site);
                infected.push(seen);
            }
        }
        let sick = infected.iter().filter(|seen| **seen).count();
        let weight = sick.min(infected.len() - sick);
        if weight < ENOUGH {
            return None;
        }
        let (mut outside, mut links) = (Vec::new(), Vec::new());
        for (nth, &site) in members.iter().enumerate() {
            let mut sums = (0.0, 0.0);
            for (other, weight) in weights.of(site) {
                let Some(seen) = infected_in(other) else { continue };
                sums.1 += weight;
                match member_of[other] {
                    u32::MAX => sums.0 += if seen { weight } else { 0.0 },
                    member => links.push((member, nth as u32, weight as f32)),
                }
            }
            outside.push(sums);
        }
        links.sort_unstable_by_key(|&(member, nth, _)| (member, nth));
        let starts = (0..=members.len() as u32)
            .map(|member| links.partition_point(|link| link.0 < member))
            .collect();
        let links = links.into_iter().map(|(_, nth, weight)| (nth, weight)).collect();
        Some(Self { infected, outside, starts, links, weight: weight as f64 })
    }

    /// Mean witness share of the infected and of the clean under these labels. A member without
    /// any neighbour has share 0 under every labelling.
    fn means(&self, infected: &[bool]) -> (f64, f64) {
        let mut sums: Vec<f64> = self.outside.iter().map(|sums| sums.0).collect();
        for (span, _) in self.starts.windows(2).zip(infected).filter(|(_, seen)| **seen) {
            for &(member, weight) in &self.links[span[0]..span[1]] {
                sums[member as usize] += f64::from(weight);
            }
        }
        let (mut sick, mut clean) = ((0.0, 0.0), (0.0, 0.0));
        for ((sum, outside), seen) in sums.iter().zip(&self.outside).zip(infected) {
            let side = if *seen { &mut sick } else { &mut clean };
            side.0 += if outside.1 > 0.0 { sum / outside.1 } else { 0.0 };
            side.1 += 1.0;
        }
        (sick.0 / sick.1, clean.0 / clean.1)
    }
}
