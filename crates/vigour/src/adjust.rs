//! Numbers of trees adjusted for the trend of the field, with the choice of the trend and its
//! reasons.

mod groups;

use std::collections::{BTreeMap, VecDeque};
use std::iter::successors;

use serde::{Deserialize, Serialize};
use spatial::HALF_INTERVAL_90;

use groups::Groups;

use crate::Effect;
use crate::trend::{LeftOut, Part, Stand, Trend};

/// What became of the numbers of one season.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Adjusted {
    /// The trend that was taken; none: nothing could be adjusted.
    pub trend: Option<Trend>,
    /// What was tried, in order, and what it gave.
    pub tried: Vec<Tried>,
    /// By tree, in the order given; empty where nothing could be adjusted.
    pub trees: Vec<TreeValue>,
    /// By genotype number: genotypes with two measured trees or more, in the middle of the field.
    pub genotypes: BTreeMap<usize, Ranked>,
    /// By cross number: likewise.
    pub crosses: BTreeMap<usize, Ranked>,
    /// Variances of the model; none after Papadakis' adjustment.
    pub variances: Option<Variances>,
}

/// One way that was tried.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Tried {
    /// Which.
    pub trend: Trend,
    /// How well it describes the numbers, or why it was left out.
    pub outcome: Result<Likelihood, LeftOut>,
}

/// How well a trend describes the numbers; comparable within one season.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Likelihood {
    /// −2 × restricted log-likelihood; none for Papadakis' adjustment, which has none.
    pub deviance: Option<f64>,
    /// Variances and correlations that were estimated, the rest's variance included.
    pub parameters: usize,
}

impl Likelihood {
    /// The deviance and two for each parameter (Akaike 1974): the lowest is best. None for
    /// Papadakis' adjustment.
    pub fn aic(&self) -> Option<f64> {
        self.deviance.map(|deviance| deviance + 2.0 * self.parameters as f64)
    }
}

/// What the adjustment makes of one tree's number.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct TreeValue {
    /// What the place adds, against the average place of the measured trees.
    pub trend: f64,
    /// The number less that.
    pub adjusted: f64,
    /// Standard error of the adjustment: how surely the trend is known. How far a tree strays from
    /// its genotype is not in it.
    pub standard_error: f64,
    /// What neither place nor genotype nor cross explains; with Papadakis' adjustment the adjusted
    /// number less the adjusted mean of its group.
    pub residual: f64,
}

impl TreeValue {
    /// The 90 % interval of the adjusted number as far as the trend is known, low and high:
    /// adjusted ± 1.645 standard errors.
    pub fn interval_90(&self) -> (f64, f64) {
        let half = HALF_INTERVAL_90 * self.standard_error;
        (self.adjusted - half, self.adjusted + half)
    }
}

/// A genotype or cross in the middle of the field.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Ranked {
    /// Measured trees.
    pub trees: usize,
    /// Their plain mean.
    pub raw_mean: f64,
    /// Best linear unbiased prediction, shrunk towards cross and mean, with its standard error; none
    /// after Papadakis' adjustment, which is of groups of trees alone.
    pub predicted: Option<Effect>,
    /// The group's mean adjusted by the neighbours; only after Papadakis' adjustment.
    pub adjusted_mean: Option<f64>,
}

impl Ranked {
    /// The mean in the middle of the field, whichever way it was had.
    pub fn adjusted(&self) -> Option<f64> {
        self.predicted.map(|effect| effect.value).or(self.adjusted_mean)
    }
}

/// Where the numbers' differences come from.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Variances {
    /// Between crosses; none where the model has no crosses.
    pub cross: Option<f64>,
    /// Between genotypes (within crosses); none where none is repeated.
    pub genotype: Option<f64>,
    /// What was estimated of the trend.
    pub trend: Vec<(Part, f64)>,
    /// The rest: the tree itself and its measurement.
    pub rest: f64,
}

/// Trees below which nothing is adjusted.
const FEWEST: usize = 8;
/// What is compared where no trend is asked for, in this order.
const COMPARED: [Trend; 4] = [Trend::None, Trend::Rows, Trend::Surface, Trend::Ar1];
/// How much lower the best criterion must be for a trend with more parameters (common practice).
const WORTH: f64 = 2.0;

/// Adjusts numbers for the trend of the field: the one asked for, else the best of none, rows,
/// surface and autoregression.
///
/// The model is number = mean + cross + genotype + trend + rest, all but the mean random; crosses
/// and genotypes come in where two trees or more were measured of each of them. Trends are compared
/// by their restricted likelihood, since the fixed part is the same; a more complex one must have
/// an AIC lower by 2. A trend that cannot be fitted gives way to the next simpler one; `tried`
/// tells why. With fewer than 8 trees, or numbers that are all alike, nothing is adjusted.
///
/// Caution: a trend takes away what neighbours share, also where they share it by their genes:
/// a family planted in one block looks like a good spot. Show the raw number, the trend and the
/// adjusted number side by side.
pub fn adjust(stands: &[Stand], wanted: Option<Trend>) -> Adjusted {
    let mut adjusting = Adjusting::new(stands.to_vec(), wanted);
    while !adjusting.is_done() {
        adjusting.step();
    }
    adjusting.finish()
}

/// The same, one trend at a time.
pub(crate) struct Adjusting {
    stands: Vec<Stand>,
    groups: Groups,
    /// Still to be tried, in order.
    ahead: VecDeque<Trend>,
    /// Whether a trend was asked for: the first that can be had is it.
    is_asked: bool,
    tried: Vec<Tried>,
    best: Option<(f64, Adjusted)>,
}

impl Adjusting {
    pub(crate) fn new(stands: Vec<Stand>, wanted: Option<Trend>) -> Self {
        let ahead = match wanted {
            None => COMPARED.into(),
            Some(wanted) => successors(Some(wanted), |trend| trend.simpler()).collect(),
        };
        let groups = Groups::of(&stands);
        Self { stands, groups, ahead, is_asked: wanted.is_some(), tried: Vec::new(), best: None }
    }

    pub(crate) fn is_done(&self) -> bool {
        self.ahead.is_empty()
    }

    /// Trends that are still to be tried at most.
    pub(crate) fn ahead(&self) -> usize {
        self.ahead.len()
    }

    /// Fits the next trend.
    pub(crate) fn step(&mut self) {
        let Some(trend) = self.ahead.pop_front() else { return };
        let found = match trend {
            Trend::Papadakis => self.groups.papadakis(&self.stands),
            _ => self.groups.model(&self.stands, trend),
        };
        let outcome = found.map(|(likelihood, adjusted)| {
            let aic = likelihood.aic().unwrap_or(f64::NEG_INFINITY);
            if self.best.as_ref().is_none_or(|(lowest, _)| aic < lowest - WORTH) {
                self.best = Some((aic, adjusted));
            }
            likelihood
        });
        self.tried.push(Tried { trend, outcome });
        if self.is_asked && self.best.is_some() {
            self.ahead.clear();
        }
    }

    pub(crate) fn finish(self) -> Adjusted {
        let (_, adjusted) = self.best.unwrap_or_default();
        Adjusted { tried: self.tried, ..adjusted }
    }
}

#[cfg(test)]
mod tests;
