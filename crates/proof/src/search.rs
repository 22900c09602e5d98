//! Which hypotheses are tried, and how much each counts: kernel families and half-distances,
//! evenness of pressure, memory between rounds and seasons, frailty.
//!
//! One dimension at a time is tried around the best so far, the kernel first; every hypothesis
//! fitted on the way keeps a weight, prior times marginal likelihood, in the average. Nothing is
//! fixed by hand that the plot can tell.

use plot::disease::Reach;
use spatial::{Ellipse, Kernel};

use crate::case::Case;
use crate::fit::{Fitted, Hypothesis, Patience, State, fit};
use crate::pressure::{Neighbours, Spread, Weights};
use crate::report::Limit;
use crate::run::Part;

/// Longest half-distances within which a neighbour is looked at.
const FARTHEST_HALVINGS: f64 = 6.0;
/// Exponent of the power law.
const POWER: f64 = 2.0;
const EVENNESS: [f64; 5] = [0.15, 0.3, 0.6, 1.2, 4.0];
const TISSUE_POWERS: [f64; 4] = [0.0, 0.4, 0.8, 1.4];
/// Strong shoots blight more (trade facts: common practice, no source for the size).
const VIGOUR_EFFECTS: [f64; 3] = [0.0, 0.2, 0.4];
const ROUND_MEMORY: [f64; 2] = [0.5, 1.0];
const SEASON_MEMORY: [f64; 2] = [0.0, 0.3];
/// Frailty tried, with prior weight: sd 0.5 to 1 expected, doubt on the side of more.
const FRAILTY: [(f64, f64); 4] = [(0.5, 0.15), (0.75, 0.35), (1.0, 0.35), (1.4, 0.15)];
/// Share of the hazard that still reaches a resistant tree: where the search starts, and what
/// else is tried.
const LEAK: f64 = 0.02;
const LEAKS: [f64; 3] = [0.01, 0.04, 0.08];

/// Power of the likelihood in the average. Each tree's chance is taken given its neighbours, so
/// that every tree is counted as witness and as witnessed: the product says more than the plot
/// knows (composite likelihood; Varin, Reid & Firth 2011, Statistica Sinica 21:5–42, from memory).
/// Set on made-up plots.
const TEMPER: f64 = 0.3;

/// Infected trees needed to choose a kernel by likelihood.
pub(crate) const ENOUGH_FOR_KERNEL: usize = 20;
/// Infected trees needed to choose evenness and frailty by likelihood.
pub(crate) const ENOUGH_FOR_BACKGROUND: usize = 8;
/// Infected trees needed for any fit.
pub(crate) const ENOUGH_FOR_FIT: usize = 3;

/// Log-likelihood behind the best beyond which a hypothesis counts for nothing in the average.
const CONTENDS_WITHIN: f64 = 23.0;
/// What the passes after the second may still add to the log-likelihood, for each site.
const CATCH_UP_PER_SITE: f64 = 0.01;

const FIRST_PASSES: u32 = 15;
const LATER_PASSES: u32 = 6;
const LAST_PASSES: u32 = 60;

/// What is tried next.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Stage {
    Start,
    OtherStart(usize),
    HalfDistance(usize),
    Evenness(usize),
    TissuePower(usize),
    Vigour(usize),
    Frailty(usize),
    Leak(usize),
    PowerLaw(usize),
    Stretch(usize),
    RoundMemory(usize),
    SeasonMemory(usize),
    Settle,
}

/// A search in the making; each step fits one hypothesis.
#[derive(Debug)]
pub(crate) struct Search {
    neighbours: Neighbours,
    start: Hypothesis,
    half_distances_m: Vec<f64>,
    stages: Vec<Stage>,
    next: usize,
    looked_at: Vec<Hypothesis>,
    /// What may still count in the average.
    tried: Vec<Fitted>,
    best: usize,
    weights: Option<(Spread, Weights)>,
}

impl Search {
    /// Plans what this plot can carry; the limits say what it cannot.
    pub(crate) fn plan(case: &Case, without: &[Part], limits: &mut Vec<Limit>) -> Self {
        let infected = case.infected();
        let neighbours = Neighbours::find(case, farthest_m(&case.reach));
        let half_distances_m = half_distances_that_fit(&case.reach, neighbours.median_spacing_m());
        let other_starts = || (0..State::OTHER_STARTS.len()).map(Stage::OtherStart);
        let mut stages = vec![Stage::Start];
        stages.extend(other_starts());
        if infected >= ENOUGH_FOR_BACKGROUND {
            stages.extend((0..EVENNESS.len()).map(Stage::Evenness));
        } else {
            limits.push(Limit::BackgroundFixed { infected, needed: ENOUGH_FOR_BACKGROUND });
        }
        if infected >= ENOUGH_FOR_KERNEL {
            stages.extend((0..half_distances_m.len()).map(Stage::HalfDistance));
            stages.extend((0..half_distances_m.len()).map(Stage::PowerLaw));
            stages.extend((0..STRETCHES.len()).map(Stage::Stretch));
            stages.extend((0..TISSUE_POWERS.len()).map(Stage::TissuePower));
            if case.knows_vigour() {
                stages.extend((0..VIGOUR_EFFECTS.len()).map(Stage::Vigour));
            }
            stages.extend((0..ROUND_MEMORY.len()).map(Stage::RoundMemory));
            if case.seasons.len() > 1 {
                stages.extend((0..SEASON_MEMORY.len()).map(Stage::SeasonMemory));
            }
            stages.extend((0..EVENNESS.len()).map(Stage::Evenness));
            if !without.contains(&Part::Frailty) {
                stages.extend((0..FRAILTY.len()).map(Stage::Frailty));
            }
            stages.extend((0..LEAKS.len()).map(Stage::Leak));
        } else {
            limits.push(Limit::KernelFixed { infected, needed: ENOUGH_FOR_KERNEL });
        }
        stages.extend(other_starts());
        stages.push(Stage::Settle);
        let half_distance_m = nearest_to(&half_distances_m, case.reach.usual_half_distance_m);
        let start = Hypothesis {
            spread: Spread { kernel: exponential(half_distance_m), ellipse: Ellipse::CIRCLE },
            evenness: 1.0,
            tissue_power: 0.0,
            vigour_effect: 0.0,
            round_memory: 1.0,
            season_memory: 0.0,
            frailty_sd: if without.contains(&Part::Frailty) { 0.0 } else { 0.75 },
            leak: LEAK,
            all_tell: without.contains(&Part::WitnessWeighting),
        };
        Self {
            neighbours,
            start,
            half_distances_m,
            stages,
            next: 0,
            looked_at: Vec::new(),
            tried: Vec::new(),
            best: 0,
            weights: None,
        }
    }

    /// Stages done, and in all.
    pub(crate) fn progress(&self) -> (usize, usize) {
        (self.next, self.stages.len())
    }

    /// Fits the next hypothesis; nothing when the search is over.
    pub(crate) fn step(&mut self, case: &Case) {
        let Some(&stage) = self.stages.get(self.next) else { return };
        self.next += 1;
        let hypothesis = self.hypothesis(stage);
        let again = matches!(stage, Stage::OtherStart(_) | Stage::Settle);
        if !again && self.looked_at.contains(&hypothesis) {
            return;
        }
        self.looked_at.push(hypothesis.clone());
        let weights = match self.weights.take() {
            Some((spread, weights)) if spread == hypothesis.spread => weights,
            _ => self.neighbours.weigh(&hypothesis.spread),
        };
        let (start, patience) = self.start_of(stage, case);
        let fitted = fit(case, &weights, &hypothesis, &start, patience);
        self.weights = Some((hypothesis.spread, weights));
        if stage == Stage::Settle {
            self.tried[self.best] = fitted;
            return;
        }
        let known = |tried: &Fitted| tried.hypothesis == hypothesis && same(&fitted, tried);
        if !self.tried.iter().any(known) {
            self.tried.push(fitted);
            self.keep_contenders();
        }
    }

    fn start_of(&self, stage: Stage, case: &Case) -> (State, Patience) {
        let patient = |most_passes| Patience { most_passes, hopeless_below: f64::NEG_INFINITY };
        let Some(best) = self.tried.get(self.best) else {
            return (State::doubting(case), patient(FIRST_PASSES));
        };
        match stage {
            Stage::OtherStart(nth) => (State::other_start(case, nth), patient(FIRST_PASSES)),
            Stage::Settle => (best.state.clone(), patient(LAST_PASSES)),
            _ => {
                let catch_up = CONTENDS_WITHIN + CATCH_UP_PER_SITE * case.sites.len() as f64;
                let hopeless_below = best.log_likelihood - catch_up;
                (best.state.clone(), Patience { most_passes: LATER_PASSES, hopeless_below })
            }
        }
    }

    /// Finds the best anew and lets go of what cannot count beside it.
    fn keep_contenders(&mut self) {
        let best = self.tried.iter().map(score).fold(f64::NEG_INFINITY, f64::max);
        self.tried.retain(|fitted| score(fitted) >= best - CONTENDS_WITHIN);
        self.best = self.tried.iter().position(|fitted| score(fitted) >= best).unwrap_or(0);
    }

    /// The hypotheses tried with their weight in the average (sums to 1), the best first, and the
    /// kernel weights of the best.
    pub(crate) fn finish(self) -> (Vec<(f64, Fitted)>, Weights) {
        let best_score = score(&self.tried[self.best]);
        let weights = self.neighbours.weigh(&self.tried[self.best].hypothesis.spread);
        let mut weighed: Vec<(f64, Fitted)> = self
            .tried
            .into_iter()
            .map(|fitted| (libm::exp(TEMPER * (score(&fitted) - best_score)), fitted))
            .collect();
        let sum: f64 = weighed.iter().map(|(weight, _)| weight).sum();
        weighed.iter_mut().for_each(|(weight, _)| *weight /= sum);
        weighed.sort_by(|a, b| b.0.total_cmp(&a.0));
        (weighed, weights)
    }

    fn hypothesis(&self, stage: Stage) -> Hypothesis {
        let base = match self.tried.get(self.best) {
            Some(best) => best.hypothesis.clone(),
            None => self.start.clone(),
        };
        match stage {
            Stage::Start | Stage::OtherStart(_) | Stage::Settle => base,
            Stage::HalfDistance(nth) => {
                let kernel = exponential(self.half_distances_m[nth]);
                Hypothesis { spread: Spread { kernel, ..base.spread }, ..base }
            }
            Stage::PowerLaw(nth) => {
                let kernel = power_law(self.half_distances_m[nth]);
                Hypothesis { spread: Spread { kernel, ..base.spread }, ..base }
            }
            Stage::Stretch(nth) => {
                let (ratio, axis_deg) = STRETCHES[nth];
                // The area reached stays the same.
                let ellipse = Ellipse::turned(ratio.sqrt(), 1.0 / ratio.sqrt(), axis_deg);
                Hypothesis { spread: Spread { ellipse, ..base.spread }, ..base }
            }
            Stage::Evenness(nth) => Hypothesis { evenness: EVENNESS[nth], ..base },
            Stage::Leak(nth) => Hypothesis { leak: LEAKS[nth], ..base },
            Stage::TissuePower(nth) => Hypothesis { tissue_power: TISSUE_POWERS[nth], ..base },
            Stage::Vigour(nth) => Hypothesis { vigour_effect: VIGOUR_EFFECTS[nth], ..base },
            Stage::Frailty(nth) => Hypothesis { frailty_sd: FRAILTY[nth].0, ..base },
            Stage::RoundMemory(nth) => Hypothesis { round_memory: ROUND_MEMORY[nth], ..base },
            Stage::SeasonMemory(nth) => Hypothesis { season_memory: SEASON_MEMORY[nth], ..base },
        }
    }
}

/// Stretched kernels: how many times farther along the axis than across it, and the axis in
/// degrees from the row towards its left.
const STRETCHES: [(f64, f64); 4] = [(2.0, 0.0), (2.0, 90.0), (2.0, 45.0), (2.0, 135.0)];

/// Log of prior times marginal likelihood.
fn score(fitted: &Fitted) -> f64 {
    let prior = FRAILTY
        .iter()
        .find(|(sd, _)| *sd == fitted.hypothesis.frailty_sd)
        .map_or(1.0, |(_, weight)| *weight);
    fitted.log_likelihood + libm::log(prior)
}

/// Whether two starts led to the same fit.
fn same(one: &Fitted, other: &Fitted) -> bool {
    let apart = |(a, b): (&f64, &f64)| (a - b).abs() > 0.05;
    !one.state.resistant.iter().zip(&other.state.resistant).any(apart)
}

/// Farthest neighbour that is looked at, metres.
pub(crate) fn farthest_m(reach: &Reach) -> f64 {
    reach.half_distances_m.last().map_or(0.0, |longest| longest * FARTHEST_HALVINGS)
}

/// The disease's grid without half-distances too short for this planting (where even the next tree would
/// weigh nothing); where the planting is wider than the whole grid, multiples of its spacing.
fn half_distances_that_fit(reach: &Reach, spacing_m: Option<f64>) -> Vec<f64> {
    let spacing_m = spacing_m.unwrap_or(1.0);
    let grid = reach.half_distances_m.iter().copied();
    let fit: Vec<f64> = grid.filter(|half| *half >= 0.45 * spacing_m).collect();
    if fit.is_empty() { vec![0.5 * spacing_m, spacing_m, 2.0 * spacing_m] } else { fit }
}

fn exponential(half_distance_m: f64) -> Kernel {
    Kernel::Exponential { half_distance_m }
}

/// A power law that halves at `half_distance_m`: (1 + d/s)^−b is ½ at d = s (2^(1/b) − 1).
fn power_law(half_distance_m: f64) -> Kernel {
    let scale_m = half_distance_m / (libm::pow(2.0, 1.0 / POWER) - 1.0);
    Kernel::PowerLaw { scale_m, exponent: POWER }
}

fn nearest_to(grid: &[f64], wanted: f64) -> f64 {
    grid.iter()
        .copied()
        .min_by(|a, b| (a - wanted).abs().total_cmp(&(b - wanted).abs()))
        .unwrap_or(wanted)
}
