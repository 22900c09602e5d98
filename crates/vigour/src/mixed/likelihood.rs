//! The restricted likelihood, its slopes, and where it is highest.

use super::fit::{Fit, weighted};
use super::{Mixed, Row};
use crate::search::lowest;
use crate::sparse::Factor;
use crate::structure::Span;

/// The model at given parameters.
struct Solved<'a> {
    deviance: f64,
    rest: f64,
    unknowns: Vec<f64>,
    factor: Factor<'a>,
}

/// Entries of a factor below which a second search costs seconds at most.
const QUICK: usize = 150_000;

impl Mixed {
    /// Estimates the variances and predicts the effects. None where the restricted likelihood has
    /// no maximum that can be computed: a model that leaves nothing as rest.
    pub fn estimate(&self) -> Option<Fit<'_>> {
        let spans: Vec<_> = self.free_spans().collect();
        let bounds: Vec<(f64, f64)> = spans.iter().map(|span| (span.low, span.high)).collect();
        let starts = self.starts();
        let (mut free, mut deviance) = lowest(&starts, &bounds, |free| self.slopes(free))?;
        // Another valley may lie where neighbours are hardly alike; looked for where that is quick.
        let hardly = |(&start, span): (&f64, &Span)| if span.is_ratio { start } else { 0.1 };
        let low: Vec<f64> = starts.iter().zip(&spans).map(hardly).collect();
        if low != starts
            && self.pattern.factor_entries() < QUICK
            && let Some(other) = lowest(&low, &bounds, |free| self.slopes(free))
            && other.1 < deviance - 1e-7
        {
            (free, deviance) = other;
        }
        for (nth, span) in spans.iter().enumerate().filter(|(_, span)| span.is_ratio) {
            let mut without = free.clone();
            without[nth] = span.low;
            let other = self.deviance(&without);
            if other <= deviance + 1e-6 {
                (free, deviance) = (without, other.min(deviance));
            }
        }
        self.fit(&free)
    }

    /// The model at given parameters, in the order of the terms, those with a given ratio left out;
    /// their scales are told by [`Structure`](crate::Structure).
    pub fn at(&self, free: &[f64]) -> Option<Fit<'_>> {
        (free.len() == self.free_spans().count()).then(|| self.fit(free)).flatten()
    }

    /// Whether the equations can be solved where the search begins.
    pub(super) fn has_answer(&self) -> bool {
        self.solve(&self.spread_out(&self.starts())).is_some()
    }

    fn fit(&self, free: &[f64]) -> Option<Fit<'_>> {
        let parameters = self.spread_out(free);
        let solved = self.solve(&parameters)?;
        let estimates = self
            .terms
            .iter()
            .zip(&parameters)
            .map(|(part, own)| part.structure.plain(own, solved.rest))
            .collect();
        let inverse = solved.factor.inverse();
        Some(Fit {
            model: self,
            deviance: solved.deviance,
            parameters: free.len() + 1,
            rest: solved.rest,
            estimates,
            unknowns: solved.unknowns,
            factor: solved.factor,
            inverse,
        })
    }

    fn free_spans(&self) -> impl Iterator<Item = Span> {
        self.terms.iter().flat_map(|part| {
            part.structure.spans().into_iter().filter(|span| part.ratio.is_none() || !span.is_ratio)
        })
    }

    /// Where the search begins: variances of about that of the rest, or of a term that is given as
    /// larger.
    fn starts(&self) -> Vec<f64> {
        let given = self.terms.iter().filter_map(|part| part.ratio).fold(1.0, f64::max);
        let shift = libm::log(given);
        self.free_spans()
            .map(|span| if span.is_ratio { span.start + shift } else { span.start })
            .collect()
    }

    /// Parameters by term: the free ones and those that are given.
    fn spread_out(&self, free: &[f64]) -> Vec<Vec<f64>> {
        let mut free = free.iter();
        self.terms
            .iter()
            .map(|part| {
                let own = |span: Span| match part.ratio {
                    Some(ratio) if span.is_ratio => libm::log(ratio),
                    _ => *free.next().expect("a number for each free parameter"),
                };
                part.structure.spans().into_iter().map(own).collect()
            })
            .collect()
    }

    /// The deviance at some parameters, and its slopes: for the precision H of a term with unknowns u,
    /// tr(C⁻¹ dH) − d log|H| + uᵀ dH u / σ². How H and its determinant change is taken from two near
    /// parameters, which costs next to nothing.
    fn slopes(&self, free: &[f64]) -> Option<(f64, Vec<f64>)> {
        const NEAR: f64 = 1e-5;
        let parameters = self.spread_out(free);
        let solved = self.solve(&parameters)?;
        let inverse = solved.factor.inverse();
        let mut slopes = Vec::with_capacity(free.len());
        for (part, own) in self.terms.iter().zip(&parameters) {
            // uᵢuⱼ/σ² + (C⁻¹)ᵢⱼ for each entry of H, twice beside the diagonal.
            let weights: Vec<f64> = part
                .entries
                .iter()
                .map(|&(i, j)| {
                    let (i, j) = (i as usize, j as usize);
                    let product = solved.unknowns[i] * solved.unknowns[j] / solved.rest;
                    (product + inverse.at(i, j)) * if i == j { 1.0 } else { 2.0 }
                })
                .collect();
            for (nth, span) in part.structure.spans().iter().enumerate() {
                if part.ratio.is_some() && span.is_ratio {
                    continue;
                }
                let beside = |by: f64| {
                    let mut near = own.clone();
                    near[nth] += by;
                    part.structure.precision(&near)
                };
                let ((after, log_after), (before, log_before)) = (beside(NEAR), beside(-NEAR));
                let changes = after.iter().zip(&before).map(|(after, before)| after - before);
                let change: f64 =
                    changes.zip(&weights).map(|(change, weight)| change * weight).sum();
                slopes.push((change - (log_after - log_before)) / (2.0 * NEAR));
            }
        }
        Some((solved.deviance, slopes))
    }

    fn deviance(&self, free: &[f64]) -> f64 {
        self.solve(&self.spread_out(free)).map_or(f64::INFINITY, |solved| solved.deviance)
    }

    fn solve(&self, parameters: &[Vec<f64>]) -> Option<Solved<'_>> {
        let mut values = self.base.clone();
        let mut log_precision = 0.0;
        for (part, own) in self.terms.iter().zip(parameters) {
            let (entries, log) = part.structure.precision(own);
            part.slots.iter().zip(entries).for_each(|(&slot, entry)| values[slot] += entry);
            log_precision += log;
        }
        let factor = self.pattern.factor(&values)?;
        let unknowns = factor.solve(&self.right);
        let fitted = |row: &Row| weighted(row, &unknowns);
        let squares: f64 = self
            .rows
            .iter()
            .zip(&self.values)
            .map(|(row, value)| value * (value - fitted(row)))
            .sum();
        let free = (self.values.len() - self.rank) as f64;
        let rest = squares / free;
        if rest.is_nan() || rest <= 0.0 {
            return None;
        }
        let mut log_c = factor.log_determinant();
        if let Some(coefficients) = self.mean_within {
            // The mean counts once, however many coefficients share it.
            log_c += libm::log(coefficients as f64);
        }
        let deviance =
            free * (1.0 + libm::log(2.0 * std::f64::consts::PI * rest)) + log_c - log_precision;
        Some(Solved { deviance, rest, unknowns, factor })
    }
}
