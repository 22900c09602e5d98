//! What a fitted model tells: effects, trends and predictions with their errors.

use serde::{Deserialize, Serialize};
use spatial::HALF_INTERVAL_90;

use super::{Mixed, Row};
use crate::sparse::{Factor, Inverse};

/// An estimated effect.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Effect {
    /// Its best linear unbiased prediction or estimate.
    pub value: f64,
    /// Standard error of value less truth, fixed effects being unknown too.
    pub standard_error: f64,
}

impl Effect {
    /// Its 90 % interval, low and high: value ± 1.645 standard errors.
    pub fn interval_90(&self) -> (f64, f64) {
        let half = HALF_INTERVAL_90 * self.standard_error;
        (self.value - half, self.value + half)
    }
}

/// A fitted model.
#[derive(Debug)]
pub struct Fit<'a> {
    pub(super) model: &'a Mixed,
    /// −2 × restricted log-likelihood, with all constants but |XᵀX|.
    pub deviance: f64,
    /// Variances and correlations that were estimated, the rest's variance included.
    pub parameters: usize,
    /// Variance of the rest.
    pub rest: f64,
    /// By term: its variance and, where it has them, its correlations; of a surface the variance of
    /// first differences, across first.
    pub estimates: Vec<Vec<f64>>,
    pub(super) unknowns: Vec<f64>,
    pub(super) factor: Factor<'a>,
    pub(super) inverse: Inverse<'a>,
}

impl Fit<'_> {
    /// Fixed effects: the mean (level 0 of each factor) unless a term holds it, then factors and
    /// covariates in order.
    pub fn fixed(&self) -> Vec<Effect> {
        let mut effects: Vec<Effect> = (0..self.model.fixed).map(|at| self.effect(at)).collect();
        if self.model.mean_within.is_none() {
            effects[0].value += self.model.centre;
        }
        effects
    }

    /// The effects of a term, by level.
    pub fn effects(&self, term: usize) -> Vec<Effect> {
        let part = &self.model.terms[term];
        (0..part.structure.levels()).map(|level| self.effect(part.first + level)).collect()
    }

    /// By value: what some terms add to it, less the mean of that over all values.
    pub fn trend(&self, terms: &[usize]) -> Vec<Effect> {
        let kept: Vec<Row> = self.model.rows.iter().map(|row| self.within(row, terms)).collect();
        let middle = self.average(&kept);
        let apart = |row: &Row| {
            let both = 2.0 * weighted(row, &middle.solved);
            let spread = self.inverse.spread(row) - both + middle.spread;
            self.told(weighted(row, &self.unknowns) - middle.value, spread)
        };
        kept.iter().map(apart).collect()
    }

    /// By group: the value of its levels (term, level) together in the middle of the field, which is
    /// the fixed part and the terms of the trend on average. Levels of a group must have a value in
    /// common.
    pub fn predict(&self, groups: &[Vec<(usize, usize)>], trend: &[usize]) -> Vec<Effect> {
        let is_fixed = |at: u32| (at as usize) < self.model.fixed;
        let kept: Vec<Row> = self
            .model
            .rows
            .iter()
            .map(|row| {
                let fixed = row.iter().copied().filter(|&(at, _)| is_fixed(at));
                fixed.chain(self.within(row, trend)).collect()
            })
            .collect();
        let middle = self.average(&kept);
        let level = self.model.centre + middle.value;
        let one = |group: &Vec<(usize, usize)>| {
            let own = |&(term, level): &(usize, usize)| {
                ((self.model.terms[term].first + level) as u32, 1.0)
            };
            let own: Row = group.iter().map(own).collect();
            let both = 2.0 * weighted(&own, &middle.solved);
            let spread = middle.spread + both + self.inverse.spread(&own);
            self.told(level + weighted(&own, &self.unknowns), spread)
        };
        groups.iter().map(one).collect()
    }

    /// By value: what no part of the model explains.
    pub fn residuals(&self) -> Vec<f64> {
        let apart = |(row, value): (&Row, &f64)| value - weighted(row, &self.unknowns);
        self.model.rows.iter().zip(&self.model.values).map(apart).collect()
    }

    fn effect(&self, at: usize) -> Effect {
        self.told(self.unknowns[at], self.inverse.at(at, at))
    }

    /// A value and its variance in units of the rest's.
    fn told(&self, value: f64, spread: f64) -> Effect {
        Effect { value, standard_error: (spread.max(0.0) * self.rest).sqrt() }
    }

    fn within(&self, row: &[(u32, f64)], terms: &[usize]) -> Row {
        let is_own = |at: u32| {
            terms.iter().map(|&term| &self.model.terms[term]).any(|part| {
                (part.first..part.first + part.structure.levels()).contains(&(at as usize))
            })
        };
        row.iter().copied().filter(|&(at, _)| is_own(at)).collect()
    }

    fn average(&self, rows: &[Row]) -> Average {
        let mut weights = vec![0.0; self.unknowns.len()];
        for &(at, weight) in rows.iter().flatten() {
            weights[at as usize] += weight / rows.len() as f64;
        }
        let solved = self.factor.solve(&weights);
        Average {
            value: weighted_dense(&weights, &self.unknowns),
            spread: weighted_dense(&weights, &solved),
            solved,
        }
    }
}

/// What rows add on average.
struct Average {
    value: f64,
    /// Its variance in units of the rest's.
    spread: f64,
    /// C⁻¹ times its weights.
    solved: Vec<f64>,
}

pub(super) fn weighted(row: &[(u32, f64)], of: &[f64]) -> f64 {
    row.iter().map(|&(at, weight)| weight * of[at as usize]).sum()
}

fn weighted_dense(weights: &[f64], of: &[f64]) -> f64 {
    weights.iter().zip(of).map(|(weight, value)| weight * value).sum()
}
