//! Luck and its interval: the chance that a clean genotype is susceptible after all, averaged over
//! every hypothesis that the plot leaves standing.
//!
//! The interval takes the 5 % and 95 % points of luck over what is not known: the hypothesis, the
//! pressure at the place (gamma), and the cross's share.

use crate::case::{Case, Standing};
use crate::escape::frailty;
use crate::family::{ShareBelief, posterior};
use crate::fit::Fitted;
use crate::report::Estimate;

/// Five equally likely slices of a standard normal, each by its middle.
const SLICES: [f64; 5] =
    [-1.281_551_565_545, -0.524_400_512_708, 0.0, 0.524_400_512_708, 1.281_551_565_545];
/// The same slices as levels.
const LEVELS: [f64; 5] = [0.1, 0.3, 0.5, 0.7, 0.9];
/// Hypotheses that carry less weight than this leave the interval as it is.
const TOO_LIGHT: f64 = 0.01;

/// Probability of resistance of a group under one hypothesis, as its own scores and family say.
///
/// A declared resistant check is judged by its scores alone, with even odds: the declaration is
/// no evidence from this plot.
pub(crate) fn resistance(case: &Case, fitted: &Fitted, group: usize) -> f64 {
    let one = fitted.explained[group];
    match case.groups[group].standing {
        Standing::Susceptible => 0.0,
        Standing::Resistant => posterior(0.5, one.susceptible, one.resistant),
        Standing::Member(_) => fitted.state.resistant[group],
    }
}

/// Luck of a group, averaged over hypotheses, with its 90 % interval.
pub(crate) fn luck(case: &Case, weighed: &[(f64, Fitted)], group: usize) -> Estimate {
    if case.groups[group].standing == Standing::Susceptible {
        return Estimate { value: 1.0, low: 1.0, high: 1.0 };
    }
    let averaged: f64 = weighed
        .iter()
        .map(|(weight, fitted)| weight * (1.0 - resistance(case, fitted, group)))
        .sum();
    // Rounding may carry a sum of weights over one.
    let value = averaged.clamp(0.0, 1.0);
    let mut draws: Vec<(f64, f64)> = Vec::new();
    for (weight, fitted) in weighed.iter().filter(|(weight, _)| *weight >= TOO_LIGHT) {
        for_each_draw(case, fitted, group, |luck| draws.push((luck, *weight)));
    }
    draws.sort_by(|a, b| a.0.total_cmp(&b.0));
    let low = weighted_quantile(&draws, 0.05).min(value);
    let high = weighted_quantile(&draws, 0.95).max(value).min(1.0);
    Estimate { value, low, high }
}

/// Luck for equally likely values of pressure and share.
fn for_each_draw(case: &Case, fitted: &Fitted, group: usize, mut take: impl FnMut(f64)) {
    let shares = match case.groups[group].standing {
        Standing::Susceptible | Standing::Resistant => [0.5; 5],
        Standing::Member(family) => shares(&fitted.beliefs[family]),
    };
    let one = fitted.explained[group];
    let sites = &case.groups[group].sites;
    let clean = sites.iter().all(|&site| case.sites[site].first_infected.is_none());
    if !clean {
        // A copy was seen infected: pressure hardly matters any more, the share does.
        for share in shares {
            take(1.0 - posterior(share, one.susceptible, one.resistant));
        }
        return;
    }
    let (mut dose, mut spread) = (0.0, 0.0);
    for season in sites.iter().flat_map(|&site| &fitted.doses[site]) {
        dose += season.clean;
        spread += season.clean * season.clean / season.shape;
    }
    let shape = if spread > 0.0 { dose * dose / spread } else { 1.0 };
    let nodes = frailty(fitted.hypothesis.frailty_sd);
    for slice in SLICES {
        let expected = dose * gamma_slice(shape, slice);
        let susceptible: f64 =
            nodes.iter().map(|(u, weight)| weight * libm::exp(-u * expected)).sum();
        let resistant = libm::exp(-fitted.hypothesis.leak * expected);
        for share in shares {
            take(1.0 - posterior(share, susceptible, resistant));
        }
    }
}

fn shares(belief: &ShareBelief) -> [f64; 5] {
    LEVELS.map(|level| belief.quantile(level))
}

/// A gamma variable of mean 1 at a standard normal point (Wilson & Hilferty 1931, PNAS
/// 17:684–688: its cube root is nearly normal).
fn gamma_slice(shape: f64, normal: f64) -> f64 {
    let nearly = 1.0 - 1.0 / (9.0 * shape) + normal / (3.0 * shape.sqrt());
    nearly.max(0.0) * nearly.max(0.0) * nearly.max(0.0)
}

/// The value below which `level` of the weight lies; `sorted` rises.
fn weighted_quantile(sorted: &[(f64, f64)], level: f64) -> f64 {
    let total: f64 = sorted.iter().map(|(_, weight)| weight).sum();
    let mut sum = 0.0;
    for (value, weight) in sorted {
        sum += weight;
        if sum >= level * total {
            return *value;
        }
    }
    sorted.last().map_or(1.0, |(value, _)| *value)
}
