//! The plain facts around each tree, and the pressure that a person can read: inoculum and witness
//! share.

use crate::case::{Case, Site};
use crate::pressure::Weights;
use crate::report::{Nearest, Neighbourhood};

/// The facts around each site, by site. `resistant` is by group, none without a fit.
pub(crate) fn neighbourhoods(case: &Case, resistant: &[Option<f64>]) -> Vec<Neighbourhood> {
    let sites = &case.sites;
    sites
        .iter()
        .map(|site| {
            let nearby = || site.nearby.iter().map(|&other| &sites[other]);
            let could_have = |other: &Site| 1.0 - resistant[other.group].unwrap_or(0.0);
            let nearest_infected = site.nearest_infected.and_then(|(other, distance_m)| {
                let other = &sites[other];
                Some(Nearest {
                    tree: other.tree,
                    distance_m,
                    trait_ix: other.worst.trait_ix,
                    score: other.worst.score,
                    on: other.first_infected?,
                })
            });
            Neighbourhood {
                scored: nearby().count(),
                infected: nearby().filter(|other| other.first_infected.is_some()).count(),
                could_have: nearby().map(could_have).sum(),
                nearest_infected,
                ..Neighbourhood::default()
            }
        })
        .collect()
}

/// Adds inoculum and witness share, in the season when each was highest. The share leans on the
/// plot's own with a weight of `prior_witnesses` trees close by.
pub(crate) fn add_pressure(
    case: &Case,
    weights: &Weights,
    resistant: &[Option<f64>],
    prior_witnesses: f64,
    around: &mut [Neighbourhood],
) {
    let width = case.seasons.len();
    // By site and season: severity, infected witness, witness.
    let mut told = vec![0.0_f32; case.sites.len() * width * 3];
    for (nth, site) in case.sites.iter().enumerate() {
        let could_have = (1.0 - resistant[site.group].unwrap_or(0.0)) as f32;
        for history in &site.histories {
            let at = (nth * width + history.season) * 3;
            told[at] = history.severity() as f32;
        }
        for history in site.tests() {
            let at = (nth * width + history.season) * 3;
            told[at + 1] = if history.infected.is_some() { could_have } else { 0.0 };
            told[at + 2] = could_have;
        }
    }
    let mut plot_share = vec![(0.0_f64, 0.0_f64); width];
    for (at, one) in told.chunks_exact(3).enumerate() {
        let season = &mut plot_share[at % width];
        *season = (season.0 + f64::from(one[1]), season.1 + f64::from(one[2]));
    }
    let k = prior_witnesses;
    let sums = weights.sums(&told, width * 3, &vec![1.0; case.sites.len()]);
    for (facts, sums) in around.iter_mut().zip(sums.chunks_exact(width * 3)) {
        for (one, (infected, all)) in sums.chunks_exact(3).zip(&plot_share) {
            let share = if *all > 0.0 { infected / all } else { 0.0 };
            let [tissue, sick, witnesses] = [one[0], one[1], one[2]].map(f64::from);
            facts.inoculum = facts.inoculum.max(tissue);
            facts.witness_share = facts.witness_share.max((sick + k * share) / (witnesses + k));
            facts.witnesses = facts.witnesses.max(witnesses);
        }
    }
}
