//! One hypothesis fitted: hidden resistance and frailty by expectation–maximisation, the
//! relative risk refreshed from the neighbours at each pass.
//!
//! For a susceptible tree of frailty u the infections expected in round t of a season are
//! `u · level[t] · risk[i,t]`: the plot's level in that round times the place's relative risk
//! ([`crate::pressure`]). Between the last clean round L and the first infected round F the
//! chance of its history is `clean(L) − clean(F)` with `clean` of [`crate::escape`]; a season that
//! stayed clean has `clean(L)`. A resistant tree takes a small leak of the same hazard.

use crate::case::{Case, History, Site, Standing};
use crate::escape::{NODES, frailty, share_before, stay_clean};
use crate::family::{Explained, ShareBelief, beliefs};
use crate::pressure::{RelativeRisk, Spread, Weights};

/// What is held fixed while the rest is fitted.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Hypothesis {
    pub(crate) spread: Spread,
    /// Gamma shape of the relative risk before neighbours are looked at: large, when pressure is
    /// even all over the plot.
    pub(crate) evenness: f64,
    /// Power of the relative tissue: how far heavily diseased neighbours mean more pressure than
    /// lightly diseased ones, where all are infected.
    pub(crate) tissue_power: f64,
    /// Log of the hazard's factor for one standard deviation of log vigour.
    pub(crate) vigour_effect: f64,
    /// How far one round of a season tells of another, 0 to 1 for each round between.
    pub(crate) round_memory: f64,
    /// How far one season tells of another, 0 to 1.
    pub(crate) season_memory: f64,
    /// Standard deviation of log frailty among susceptible trees.
    pub(crate) frailty_sd: f64,
    /// Share of the hazard that still reaches a resistant tree.
    pub(crate) leak: f64,
    /// Whether resistant neighbours count as witnesses too (only to show what it costs).
    pub(crate) all_tell: bool,
}

/// What one fit starts from and hands on to the next.
#[derive(Clone, Debug)]
pub(crate) struct State {
    /// Infections expected of a typical susceptible tree at the plot's level, by round.
    pub(crate) level: Vec<f64>,
    /// By site and round: how hard disease presses on the place.
    pub(crate) risk: Vec<RelativeRisk>,
    /// By group: probability of being resistant.
    pub(crate) resistant: Vec<f64>,
    /// By group: mean frailty, given that it is susceptible.
    frailty: Vec<f64>,
}

/// A fitted hypothesis.
#[derive(Clone, Debug)]
pub(crate) struct Fitted {
    pub(crate) hypothesis: Hypothesis,
    pub(crate) state: State,
    pub(crate) beliefs: Vec<ShareBelief>,
    /// By group.
    pub(crate) explained: Vec<Explained>,
    /// By site, then by history.
    pub(crate) doses: Vec<Vec<SeasonDose>>,
    pub(crate) log_likelihood: f64,
    pub(crate) passes: u32,
    pub(crate) converged: bool,
}

/// Infections expected of a typical susceptible tree in one season.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct SeasonDose {
    /// Up to the last round in which the tree was seen clean.
    pub(crate) clean: f64,
    /// Up to the round in which it was first seen infected, or the last clean one.
    pub(crate) seen: f64,
    /// Gamma shape: how well the neighbours tell it.
    pub(crate) shape: f64,
}

/// What neighbours tell is worth less than as many independent trees would tell: what they share
/// in place and season errs in the same way. The discount was set on made-up plots.
const TRUST_IN_WITNESSES: f64 = 0.5;

/// Neighbours close by that the plot's mean severity counts for.
const TISSUE_PRIOR: f64 = 1.0;

/// Change of a probability below which a fit has settled.
const SETTLED: f64 = 2e-3;

impl State {
    /// Everyone could have been infected, and pressure is the same everywhere: the start that
    /// believes in no one's resistance.
    pub(crate) fn doubting(case: &Case) -> Self {
        Self::start(case, 0.0, 0.3)
    }

    /// Starts that believe in more and more resistance under higher and higher pressure: share of
    /// the clean held for resistant, and the plot's level.
    pub(crate) const OTHER_STARTS: [(f64, f64); 3] = [(0.3, 0.5), (0.55, 0.8), (0.8, 1.5)];

    /// One of these starts. Where the scores cannot tell low pressure from much resistance, fits
    /// from several starts end apart, and all stay in the average.
    pub(crate) fn other_start(case: &Case, nth: usize) -> Self {
        let (clean_resistant, level) = Self::OTHER_STARTS[nth];
        Self::start(case, clean_resistant, level)
    }

    fn start(case: &Case, clean_resistant: f64, level: f64) -> Self {
        let clean = |site: &usize| case.sites[*site].first_infected.is_none();
        let resistant = case
            .groups
            .iter()
            .map(|group| match group.standing {
                Standing::Resistant => 1.0,
                Standing::Member(_) if group.sites.iter().all(clean) => clean_resistant,
                Standing::Member(_) | Standing::Susceptible => 0.0,
            })
            .collect();
        Self {
            level: vec![level; case.rounds.len()],
            risk: vec![
                RelativeRisk { mean: 1.0, shape: 1.0 };
                case.sites.len() * case.rounds.len()
            ],
            resistant,
            frailty: vec![1.0; case.groups.len()],
        }
    }
}

/// When a fit ends before it has settled.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Patience {
    pub(crate) most_passes: u32,
    /// A log-likelihood that two passes should reach.
    pub(crate) hopeless_below: f64,
}

/// Fits a hypothesis until it settles or patience ends.
pub(crate) fn fit(
    case: &Case,
    weights: &Weights,
    hypothesis: &Hypothesis,
    start: &State,
    patience: Patience,
) -> Fitted {
    let mut state = start.clone();
    let mut passes = 0;
    loop {
        passes += 1;
        let watched = Watched::of(case, &state, hypothesis.all_tell);
        state.risk = risks(case, weights, hypothesis, &watched);
        let doses = season_doses(case, hypothesis, &state);
        let outcome = expect(case, hypothesis, &doses);
        let change = outcome
            .resistant
            .iter()
            .zip(&state.resistant)
            .map(|(new, old)| (new - old).abs())
            .fold(0.0, f64::max);
        state.resistant = outcome.resistant;
        state.frailty = outcome.frailty;
        state.level = levels(case, &state, &watched, &outcome.pressed);
        let converged = passes > 1 && change < SETTLED;
        let hopeless = passes > 1 && outcome.log_likelihood < patience.hopeless_below;
        if converged || hopeless || passes >= patience.most_passes {
            return Fitted {
                hypothesis: hypothesis.clone(),
                state,
                beliefs: outcome.beliefs,
                explained: outcome.explained,
                doses,
                log_likelihood: outcome.log_likelihood,
                passes,
                converged,
            };
        }
    }
}

/// What happened to each site in each round, were it susceptible.
struct Watched {
    /// By site: for each round the probability that it was infected then, and after these for each
    /// round the infections expected of it at the plot's level while it stood there uninfected.
    seen: Vec<f32>,
    /// By site and round: share of the round that it stood there uninfected.
    time: Vec<f64>,
    /// By site: how far it counts as a witness, 0 to 1.
    tells: Vec<f64>,
}

impl Watched {
    fn of(case: &Case, state: &State, all_tell: bool) -> Self {
        let width = case.rounds.len();
        let tells = |site: &Site| if all_tell { 1.0 } else { 1.0 - state.resistant[site.group] };
        let mut watched = Self {
            seen: vec![0.0; case.sites.len() * width * 2],
            time: vec![0.0; case.sites.len() * width],
            tells: case.sites.iter().map(tells).collect(),
        };
        for (nth, site) in case.sites.iter().enumerate() {
            let frailty = state.frailty[site.group];
            let mut note = |round: usize, event: f64, time: f64| {
                watched.time[nth * width + round] = time;
                let at = nth * width * 2 + round;
                watched.seen[at] = event as f32;
                watched.seen[at + width] = (time * frailty * state.level[round]) as f32;
            };
            for history in &site.histories {
                for round in history.start..history.clean_end {
                    note(round, 0.0, 1.0);
                }
                if history.is_untested {
                    continue;
                }
                let hazard = |round: usize| {
                    frailty * state.level[round] * state.risk[nth * width + round].mean
                };
                split_interval(history, hazard, &mut note);
            }
        }
        watched
    }
}

/// Splits one infection over the rounds of its interval: for each round, the probability that it
/// happened then and the expected share of the round that passed before it.
fn split_interval(
    history: &History,
    hazard: impl Fn(usize) -> f64,
    note: &mut impl FnMut(usize, f64, f64),
) {
    if history.interval().len() == 1 {
        let round = history.interval().start;
        return note(round, 1.0, share_before(hazard(round)));
    }
    let total: f64 = history.interval().map(&hazard).sum();
    let even = 1.0 / history.interval().len().max(1) as f64;
    let within = -libm::expm1(-total);
    let (mut still_clean, mut later) = (1.0, 1.0);
    for round in history.interval() {
        let h = hazard(round);
        let event = if within > 1e-12 { still_clean * -libm::expm1(-h) / within } else { even };
        still_clean *= libm::exp(-h);
        later = f64::max(later - event, 0.0);
        note(round, event, later + event * share_before(h));
    }
}

/// The relative risk of each site in each round, from its neighbours.
fn risks(
    case: &Case,
    weights: &Weights,
    hypothesis: &Hypothesis,
    watched: &Watched,
) -> Vec<RelativeRisk> {
    let width = case.rounds.len();
    let fading: Vec<f64> =
        (0..width).map(|rounds| libm::pow(hypothesis.round_memory, rounds as f64)).collect();
    let told = weights.sums(&watched.seen, width * 2, &watched.tells);
    let tissue = relative_tissue(case, weights, hypothesis, &watched.tells);
    let mut risks = Vec::with_capacity(told.len() / 2);
    let tissue = tissue.chunks_exact(case.seasons.len());
    for ((told, tissue), site) in told.chunks_exact(width * 2).zip(tissue).zip(&case.sites) {
        let (events, exposure) = told.split_at(width);
        let sum = |of: &[f32]| of.iter().copied().map(f64::from).sum::<f64>();
        let all = (sum(events), sum(exposure));
        for ((span, tissue), vigour) in case.seasons.iter().zip(tissue).zip(&site.vigour) {
            let strong = match hypothesis.vigour_effect {
                0.0 => 1.0,
                effect => libm::exp(effect * vigour),
            };
            let own_factor = tissue * strong;
            let season = span.first..span.end;
            let own = (sum(&events[season.clone()]), sum(&exposure[season.clone()]));
            let memory = hypothesis.season_memory;
            let others = (memory * (all.0 - own.0), memory * (all.1 - own.1));
            for round in season.clone() {
                let mut told = others;
                for other in season.clone() {
                    let memory = fading[round.abs_diff(other)];
                    told.0 += memory * f64::from(events[other]);
                    told.1 += memory * f64::from(exposure[other]);
                }
                let risk = RelativeRisk::seen(told.0, told.1, hypothesis.evenness);
                risks.push(RelativeRisk { mean: risk.mean * own_factor, ..risk });
            }
        }
    }
    risks
}

/// By site and season: severity around the place over the plot's mean, to the hypothesis's power;
/// 1 where neighbours tell nothing.
fn relative_tissue(
    case: &Case,
    weights: &Weights,
    hypothesis: &Hypothesis,
    tells: &[f64],
) -> Vec<f64> {
    let width = case.seasons.len();
    if hypothesis.tissue_power == 0.0 {
        return vec![1.0; case.sites.len() * width];
    }
    let mut seen = vec![0.0; case.sites.len() * width * 2];
    let mut all = vec![(0.0, 0.0); width];
    for (nth, site) in case.sites.iter().enumerate() {
        for history in &site.histories {
            let at = (nth * width + history.season) * 2;
            (seen[at], seen[at + 1]) = (history.severity() as f32, 1.0);
            let season = &mut all[history.season];
            season.0 += tells[nth] * history.severity();
            season.1 += tells[nth];
        }
    }
    let around = weights.sums(&seen, width * 2, tells);
    around
        .chunks_exact(2)
        .enumerate()
        .map(|(at, around)| {
            let (tissue, trees) = all[at % width];
            if tissue <= 0.0 {
                return 1.0;
            }
            let mean = tissue / trees;
            let (severity, trees_near) = (f64::from(around[0]), f64::from(around[1]));
            let here = (severity + TISSUE_PRIOR * mean) / (trees_near + TISSUE_PRIOR);
            libm::pow(here / mean, hypothesis.tissue_power)
        })
        .collect()
}

/// Infections expected of a typical susceptible tree, season by season.
fn season_doses(case: &Case, hypothesis: &Hypothesis, state: &State) -> Vec<Vec<SeasonDose>> {
    let width = case.rounds.len();
    let dose = |nth: usize, history: &History| {
        let mut clean = 0.0;
        let (mut seen, mut spread) = (0.0, 0.0);
        for round in history.start..history.interval().end {
            let risk = state.risk[nth * width + round];
            let expected = state.level[round] * risk.mean;
            seen += expected;
            spread += expected / risk.shape.sqrt();
            if round < history.clean_end {
                clean = seen;
            }
        }
        // Rounds of a season are told by the same neighbours: their errors add up.
        let shape = if spread > 0.0 {
            TRUST_IN_WITNESSES * (seen / spread) * (seen / spread)
        } else {
            hypothesis.evenness
        };
        SeasonDose { clean, seen, shape }
    };
    case.sites
        .iter()
        .enumerate()
        .map(|(nth, site)| site.histories.iter().map(|history| dose(nth, history)).collect())
        .collect()
}

struct Outcome {
    resistant: Vec<f64>,
    frailty: Vec<f64>,
    beliefs: Vec<ShareBelief>,
    explained: Vec<Explained>,
    /// By site, then by history: mean of frailty times the place's true over predicted risk, given
    /// the history and susceptibility.
    pressed: Vec<Vec<f64>>,
    log_likelihood: f64,
}

fn expect(case: &Case, hypothesis: &Hypothesis, doses: &[Vec<SeasonDose>]) -> Outcome {
    let nodes = frailty(hypothesis.frailty_sd);
    let mut explained = Vec::with_capacity(case.groups.len());
    let mut mean_frailty = Vec::with_capacity(case.groups.len());
    let mut pressed: Vec<Vec<f64>> =
        doses.iter().map(|histories| vec![0.0; histories.len()]).collect();
    let mut excess = Vec::new();
    let mut log_scale = 0.0;
    for group in &case.groups {
        let mut susceptible = nodes.map(|(_, weight)| weight);
        let mut resistant = 1.0;
        excess.clear();
        for &site in &group.sites {
            for (history, dose) in case.sites[site].histories.iter().zip(&doses[site]) {
                let infected = history.infected.is_some();
                let mut risks = [0.0; NODES];
                for ((chance, risk), (u, _)) in susceptible.iter_mut().zip(&mut risks).zip(nodes) {
                    let one = chance_of(dose, infected, u);
                    *chance *= one.0;
                    *risk = u * one.1;
                }
                resistant *= chance_of(dose, infected, hypothesis.leak).0;
                excess.push(risks);
                let largest = susceptible.iter().copied().fold(resistant, f64::max);
                if largest < 1e-100 {
                    susceptible.iter_mut().for_each(|chance| *chance *= 1e100);
                    resistant *= 1e100;
                    log_scale -= 100.0 * std::f64::consts::LN_10;
                }
            }
        }
        let total: f64 = susceptible.iter().sum();
        let mean = |of: &dyn Fn(usize) -> f64| -> f64 {
            if total > 0.0 {
                (0..NODES).map(|node| susceptible[node] * of(node)).sum::<f64>() / total
            } else {
                of(NODES / 2)
            }
        };
        mean_frailty.push(mean(&|node| nodes[node].0));
        let mut risks = excess.iter();
        for &site in &group.sites {
            for (slot, risks) in pressed[site].iter_mut().zip(&mut risks) {
                *slot = mean(&|node| risks[node]);
            }
        }
        explained.push(Explained { susceptible: total, resistant });
    }
    let (beliefs, log_likelihood) = beliefs(case, &explained);
    let resistant = case
        .groups
        .iter()
        .zip(&explained)
        .map(|(group, one)| match group.standing {
            Standing::Susceptible => 0.0,
            Standing::Resistant => 1.0,
            Standing::Member(family) => beliefs[family].resistant(one.susceptible, one.resistant),
        })
        .collect();
    Outcome {
        resistant,
        frailty: mean_frailty,
        beliefs,
        explained,
        pressed,
        log_likelihood: log_likelihood + log_scale,
    }
}

/// The chance of one season's history for a tree that takes `frailty` times the typical hazard,
/// and the mean of the place's true over predicted risk, given that history.
fn chance_of(dose: &SeasonDose, infected: bool, frailty: f64) -> (f64, f64) {
    let until = |expected: f64| {
        let stays = stay_clean(expected, dose.shape);
        (stays, stays / (1.0 + expected / dose.shape))
    };
    let (clean, clean_risk) = until(frailty * dose.clean);
    if !infected {
        return (clean, clean_risk / clean.max(1e-300));
    }
    let (seen, seen_risk) = until(frailty * dose.seen);
    let chance = (clean - seen).max(1e-300);
    // Where next to nothing is expected, infection points to the upper side of the gamma.
    let risk = if clean - seen > 1e-12 {
        (clean_risk - seen_risk) / chance
    } else {
        1.0 + 1.0 / dose.shape
    };
    (chance, risk)
}

/// The level of each round that makes the infections expected equal to those seen.
fn levels(case: &Case, state: &State, watched: &Watched, pressed: &[Vec<f64>]) -> Vec<f64> {
    let width = case.rounds.len();
    let (mut events, mut expected) = (vec![0.0; width], vec![0.0; width]);
    for (nth, site) in case.sites.iter().enumerate() {
        let susceptible = 1.0 - state.resistant[site.group];
        for (history, pressed) in site.histories.iter().zip(&pressed[nth]) {
            for round in history.start..history.interval().end {
                let at = nth * width + round;
                events[round] += susceptible * f64::from(watched.seen[at + nth * width]);
                expected[round] += susceptible * watched.time[at] * pressed * state.risk[at].mean;
            }
        }
    }
    events
        .iter()
        .zip(&expected)
        .map(|(events, expected)| if *expected > 1e-12 { events / expected } else { 0.0 })
        .collect()
}

#[cfg(test)]
mod tests;
