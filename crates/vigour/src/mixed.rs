//! A linear mixed model: value = fixed part + random terms + rest, by restricted likelihood.
//!
//! Variances by restricted maximum likelihood (Patterson & Thompson 1971, *Biometrika* 58:545),
//! effects and their errors by the mixed model equations (Henderson 1975, *Biometrics* 31:423).
//! With W the design of all parts, H the precision of the random terms in units of the rest's, and
//! C = WᵀW + H: −2 log L = (n − p)(1 + log 2π σ²) + log|C| − log|H|, σ² = yᵀ(y − W C⁻¹Wᵀy)/(n − p).
//! Nothing is taken off for |XᵀX|, as in lme4.

use std::collections::BTreeMap;

use crate::search::lowest;
use crate::sparse::{Factor, Inverse, Pattern};
use crate::structure::{Span, Structure};
use crate::undefined::Undefined;

/// A part of the model whose effects are taken as they come.
#[derive(Clone, Debug, PartialEq)]
pub enum Fixed {
    /// A level from 0 for each value; effects are differences from level 0.
    Factor(Vec<usize>),
    /// A slope on a number.
    Covariate(Vec<f64>),
}

/// A random term.
#[derive(Clone, Debug, PartialEq)]
pub struct Term {
    /// By value: the levels that count for it, each once, and their weights; may be empty.
    pub of: Vec<Vec<(usize, f64)>>,
    /// How levels hang together.
    pub structure: Structure,
    /// Its variance over that of the rest, where that is given and not estimated.
    pub ratio: Option<f64>,
}

impl Term {
    /// Unrelated levels, one for each value, or none.
    pub fn levels(of: &[Option<usize>]) -> Self {
        let count = of.iter().flatten().max().map_or(0, |last| last + 1);
        let of = of.iter().map(|level| level.iter().map(|&level| (level, 1.0)).collect());
        Self { of: of.collect(), structure: Structure::Independent(count), ratio: None }
    }
}

/// A model and its data.
#[derive(Debug)]
pub struct Mixed {
    /// Values less their mean.
    values: Vec<f64>,
    centre: f64,
    /// By value: the unknowns that count for it, in order, and their weights.
    rows: Vec<Vec<(u32, f64)>>,
    terms: Vec<Part>,
    /// Fixed unknowns, which come first, without the mean where a term holds it.
    fixed: usize,
    /// How many numbers the fixed part has.
    rank: usize,
    /// Levels of the term that holds the mean; 0 without.
    mean_within: usize,
    pattern: Pattern,
    /// Entries of WᵀW in the order of the pattern.
    base: Vec<f64>,
    /// Wᵀ values.
    right: Vec<f64>,
}

#[derive(Debug)]
struct Part {
    structure: Structure,
    ratio: Option<f64>,
    /// The number of its first unknown.
    first: usize,
    /// By entry of the structure: which entry of the pattern.
    slots: Vec<usize>,
}

/// An estimated effect.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
pub struct Effect {
    /// Its best linear unbiased prediction or estimate.
    pub value: f64,
    /// Standard error of value less truth, fixed effects being unknown too.
    pub standard_error: f64,
}

/// A fitted model.
#[derive(Debug)]
pub struct Fit<'a> {
    model: &'a Mixed,
    /// −2 × restricted log-likelihood, with all constants but |XᵀX|.
    pub deviance: f64,
    /// Variances and correlations that were estimated, the rest's variance included.
    pub parameters: usize,
    /// Variance of the rest.
    pub rest: f64,
    /// By term: its variance and, where it has them, its correlations; of a surface the variance of
    /// first differences, across first.
    pub estimates: Vec<Vec<f64>>,
    unknowns: Vec<f64>,
    factor: Factor<'a>,
    inverse: Inverse<'a>,
}

struct Solved<'a> {
    deviance: f64,
    rest: f64,
    unknowns: Vec<f64>,
    factor: Factor<'a>,
}

impl Mixed {
    /// A model of values; the mean is part of it.
    ///
    /// # Errors
    /// A value or covariate that is not finite; fewer than 3 values more than fixed numbers; values
    /// that are all alike; fixed parts that cannot be told apart.
    ///
    /// # Panics
    /// Where a part is not as long as the values, a level is out of range, or two terms hold the
    /// mean.
    pub fn new(values: &[f64], fixed: &[Fixed], terms: Vec<Term>) -> Result<Self, Undefined> {
        if let Some(index) = values.iter().position(|value| !value.is_finite()) {
            return Err(Undefined::NotFinite { index });
        }
        let holders: Vec<usize> = terms
            .iter()
            .filter(|term| term.structure.holds_mean())
            .map(|term| term.structure.levels())
            .collect();
        assert!(holders.len() <= 1, "one term at most holds the mean");
        let (mut rows, fixed) = fixed_rows(values.len(), fixed, holders.is_empty())?;
        let rank = fixed + holders.len();
        let needed = rank + 3;
        if values.len() < needed {
            return Err(Undefined::TooFew { needed, found: values.len() });
        }
        let centre = values.iter().sum::<f64>() / values.len() as f64;
        let centred: Vec<f64> = values.iter().map(|value| value - centre).collect();
        let spread = centred.iter().map(|value| value * value).sum::<f64>();
        if spread <= 1e-24 * centre * centre * values.len() as f64 {
            return Err(Undefined::Constant);
        }
        let mut first = fixed;
        let mut starts = Vec::new();
        for term in &terms {
            assert_eq!(term.of.len(), rows.len(), "levels for each value");
            for (row, levels) in rows.iter_mut().zip(&term.of) {
                for &(level, weight) in levels {
                    assert!(level < term.structure.levels(), "a level of the structure");
                    row.push(((first + level) as u32, weight));
                }
            }
            starts.push(first);
            first += term.structure.levels();
        }
        let mut sums = cross_products(&rows);
        let structured: Vec<Vec<(u32, u32)>> = terms
            .iter()
            .zip(&starts)
            .map(|(term, &start)| {
                let shift = |(i, j)| (i + start as u32, j + start as u32);
                let entries = term.structure.entries().into_iter().map(shift);
                entries.map(|(i, j): (u32, u32)| (i.max(j), i.min(j))).collect()
            })
            .collect();
        structured.iter().flatten().for_each(|&entry| {
            sums.entry(entry).or_insert(0.0);
        });
        let listed: Vec<(u32, u32)> = sums.keys().copied().collect();
        let slot = |entry: &(u32, u32)| listed.binary_search(entry).expect("listed above");
        let parts = terms.into_iter().zip(&starts).zip(&structured).map(|((term, &first), own)| {
            let slots = own.iter().map(slot).collect();
            Part { structure: term.structure, ratio: term.ratio, first, slots }
        });
        let mut right = vec![0.0; first];
        for (row, value) in rows.iter().zip(&centred) {
            row.iter().for_each(|&(at, weight)| right[at as usize] += weight * value);
        }
        let model = Self {
            values: centred,
            centre,
            terms: parts.collect(),
            fixed,
            rank,
            mean_within: holders.first().copied().unwrap_or(0),
            pattern: Pattern::new(first, &listed),
            base: sums.into_values().collect(),
            right,
            rows,
        };
        match model.solve(&model.spread_out(&model.starts())) {
            Some(_) => Ok(model),
            None => Err(Undefined::NotToldApart),
        }
    }

    /// Estimates the variances and predicts the effects. None where the restricted likelihood has
    /// no maximum that can be computed: a model that leaves nothing as rest.
    pub fn estimate(&self) -> Option<Fit<'_>> {
        let spans: Vec<_> = self.free_spans().collect();
        let bounds: Vec<(f64, f64)> = spans.iter().map(|span| (span.low, span.high)).collect();
        let (mut free, mut deviance) = lowest(&self.starts(), &bounds, |free| self.slopes(free))?;
        // Another valley may lie where neighbours are hardly alike.
        let alike = |(start, span): (f64, &Span)| if span.is_ratio { start } else { 0.1 };
        let low: Vec<f64> = self.starts().into_iter().zip(&spans).map(alike).collect();
        if low != self.starts()
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
    /// their scales are told by [`Structure`].
    pub fn at(&self, free: &[f64]) -> Option<Fit<'_>> {
        (free.len() == self.free_spans().count()).then(|| self.fit(free)).flatten()
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
                .structure
                .entries()
                .iter()
                .map(|&(i, j)| {
                    let (at, of) = (part.first + i as usize, part.first + j as usize);
                    let product = solved.unknowns[at] * solved.unknowns[of] / solved.rest;
                    (product + inverse.at(at, of)) * if i == j { 1.0 } else { 2.0 }
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
        let fitted = |row: &Vec<(u32, f64)>| weighted(row, &unknowns);
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
        if self.mean_within > 0 {
            // The mean counts once, whatever the number of coefficients that share it.
            log_c += libm::log(self.mean_within as f64);
        }
        let deviance =
            free * (1.0 + libm::log(2.0 * std::f64::consts::PI * rest)) + log_c - log_precision;
        Some(Solved { deviance, rest, unknowns, factor })
    }
}

impl Fit<'_> {
    /// −2 × restricted log-likelihood + 2 × parameters (Akaike 1974): comparable between models of
    /// the same values and the same fixed part.
    pub fn aic(&self) -> f64 {
        self.deviance + 2.0 * self.parameters as f64
    }

    /// Fixed effects: the mean (level 0 of each factor) unless a term holds it, then factors and
    /// covariates in order.
    pub fn fixed(&self) -> Vec<Effect> {
        let mut effects: Vec<Effect> = (0..self.model.fixed).map(|at| self.effect(at)).collect();
        if self.model.mean_within == 0 {
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
        let kept: Vec<Vec<(u32, f64)>> =
            self.model.rows.iter().map(|row| self.within(row, terms)).collect();
        let middle = self.average(&kept);
        let level = weighted_dense(&middle, &self.unknowns);
        let solved = self.factor.solve(&middle);
        let of_middle = weighted_dense(&middle, &solved);
        kept.iter()
            .map(|row| {
                let spread = self.inverse.spread(row) - 2.0 * weighted(row, &solved) + of_middle;
                Effect {
                    value: weighted(row, &self.unknowns) - level,
                    standard_error: (spread.max(0.0) * self.rest).sqrt(),
                }
            })
            .collect()
    }

    /// By group: the value of its levels (term, level) together in the middle of the field, which is
    /// the fixed part and the terms of the trend on average. Levels of a group must have a value in
    /// common.
    pub fn predict(&self, groups: &[Vec<(usize, usize)>], trend: &[usize]) -> Vec<Effect> {
        let is_fixed = |at: u32| (at as usize) < self.model.fixed;
        let kept: Vec<Vec<(u32, f64)>> = self
            .model
            .rows
            .iter()
            .map(|row| {
                let fixed = row.iter().copied().filter(|&(at, _)| is_fixed(at));
                fixed.chain(self.within(row, trend)).collect()
            })
            .collect();
        let middle = self.average(&kept);
        let level = self.model.centre + weighted_dense(&middle, &self.unknowns);
        let solved = self.factor.solve(&middle);
        let of_middle = weighted_dense(&middle, &solved);
        let one = |group: &Vec<(usize, usize)>| {
            let own = |&(term, level): &(usize, usize)| {
                ((self.model.terms[term].first + level) as u32, 1.0)
            };
            let own: Vec<(u32, f64)> = group.iter().map(own).collect();
            let spread = of_middle + 2.0 * weighted(&own, &solved) + self.inverse.spread(&own);
            Effect {
                value: level + weighted(&own, &self.unknowns),
                standard_error: (spread.max(0.0) * self.rest).sqrt(),
            }
        };
        groups.iter().map(one).collect()
    }

    /// By value: what no part of the model explains.
    pub fn residuals(&self) -> Vec<f64> {
        let apart = |(row, value): (&Vec<(u32, f64)>, &f64)| value - weighted(row, &self.unknowns);
        self.model.rows.iter().zip(&self.model.values).map(apart).collect()
    }

    fn effect(&self, at: usize) -> Effect {
        let error = (self.inverse.at(at, at) * self.rest).sqrt();
        Effect { value: self.unknowns[at], standard_error: error }
    }

    fn within(&self, row: &[(u32, f64)], terms: &[usize]) -> Vec<(u32, f64)> {
        let is_own = |at: u32| {
            terms.iter().map(|&term| &self.model.terms[term]).any(|part| {
                (part.first..part.first + part.structure.levels()).contains(&(at as usize))
            })
        };
        row.iter().copied().filter(|&(at, _)| is_own(at)).collect()
    }

    fn average(&self, rows: &[Vec<(u32, f64)>]) -> Vec<f64> {
        let mut sum = vec![0.0; self.unknowns.len()];
        for &(at, weight) in rows.iter().flatten() {
            sum[at as usize] += weight / rows.len() as f64;
        }
        sum
    }
}

fn weighted(row: &[(u32, f64)], of: &[f64]) -> f64 {
    row.iter().map(|&(at, weight)| weight * of[at as usize]).sum()
}

fn weighted_dense(weights: &[f64], of: &[f64]) -> f64 {
    weights.iter().zip(of).map(|(weight, value)| weight * value).sum()
}

/// Rows of the fixed part, and how many unknowns it has.
fn fixed_rows(
    n: usize,
    fixed: &[Fixed],
    with_mean: bool,
) -> Result<(Vec<Vec<(u32, f64)>>, usize), Undefined> {
    let mut rows: Vec<Vec<(u32, f64)>> = vec![Vec::new(); n];
    let mut next = 0;
    if with_mean {
        rows.iter_mut().for_each(|row| row.push((0, 1.0)));
        next = 1;
    }
    for one in fixed {
        match one {
            Fixed::Factor(levels) => {
                assert_eq!(levels.len(), n, "a level for each value");
                for (row, &level) in rows.iter_mut().zip(levels).filter(|(_, level)| **level > 0) {
                    row.push(((next + level - 1) as u32, 1.0));
                }
                next += levels.iter().max().copied().unwrap_or(0);
            }
            Fixed::Covariate(numbers) => {
                assert_eq!(numbers.len(), n, "a number for each value");
                for (index, (row, &number)) in rows.iter_mut().zip(numbers).enumerate() {
                    if !number.is_finite() {
                        return Err(Undefined::NotFinite { index });
                    }
                    row.push((next as u32, number));
                }
                next += 1;
            }
        }
    }
    Ok((rows, next))
}

/// The entries of WᵀW of one triangle (row ≥ column), summed in the order of the values.
fn cross_products(rows: &[Vec<(u32, f64)>]) -> BTreeMap<(u32, u32), f64> {
    let mut sums = BTreeMap::new();
    for row in rows {
        for (nth, &(i, wi)) in row.iter().enumerate() {
            for &(j, wj) in &row[..=nth] {
                *sums.entry((i.max(j), i.min(j))).or_insert(0.0) += wi * wj;
            }
        }
    }
    sums
}
