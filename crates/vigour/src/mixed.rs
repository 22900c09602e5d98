//! A linear mixed model: value = fixed part + random terms + rest, by restricted likelihood.
//!
//! Variances by restricted maximum likelihood (Patterson & Thompson 1971, *Biometrika* 58:545),
//! effects and their errors by the mixed model equations (Henderson 1975, *Biometrics* 31:423).
//! With W the design of all parts, H the precision of the random terms in units of the rest's, and
//! C = WᵀW + H: −2 log L = (n − p)(1 + log 2π σ²) + log|C| − log|H|, σ² = yᵀ(y − W C⁻¹Wᵀy)/(n − p).
//! Nothing is taken off for |XᵀX|, as in lme4.

mod fit;
mod likelihood;

use std::collections::BTreeMap;

pub use fit::{Effect, Fit};

use crate::sparse::Pattern;
use crate::structure::Structure;
use crate::undefined::Undefined;

/// Million products for one factor: a search factors some twenty times.
const MOST_MILLIONS: u64 = 100;

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

/// Unknowns in order, and their weights.
type Row = Vec<(u32, f64)>;

/// A model and its data.
#[derive(Debug)]
pub struct Mixed {
    /// Values less their mean.
    values: Vec<f64>,
    centre: f64,
    /// By value: the unknowns that count for it, in order, and their weights.
    rows: Vec<Row>,
    terms: Vec<Part>,
    /// Fixed unknowns, which come first, without the mean where a term holds it.
    fixed: usize,
    /// How many numbers the fixed part has.
    rank: usize,
    /// Levels of the term that holds the mean.
    mean_within: Option<usize>,
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
    /// Entries of the structure, in the model's unknowns.
    entries: Vec<(u32, u32)>,
    /// By entry: which of the pattern's it is.
    slots: Vec<usize>,
}

impl Mixed {
    /// A model of values; the mean is part of it.
    ///
    /// # Errors
    /// A value or covariate that is not finite; fewer than 3 values more than fixed numbers; values
    /// that are all alike; equations too large; fixed parts that cannot be told apart.
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
        let parts =
            terms.into_iter().zip(starts).zip(structured).map(|((term, first), entries)| {
                let slots = entries.iter().map(slot).collect();
                Part { structure: term.structure, ratio: term.ratio, first, entries, slots }
            });
        let mut right = vec![0.0; first];
        for (row, value) in rows.iter().zip(&centred) {
            row.iter().for_each(|&(at, weight)| right[at as usize] += weight * value);
        }
        let pattern = Pattern::new(first, &listed, MOST_MILLIONS as f64 * 1e6)
            .ok_or(Undefined::TooLarge { millions: MOST_MILLIONS })?;
        let model = Self {
            values: centred,
            centre,
            terms: parts.collect(),
            fixed,
            rank,
            mean_within: holders.first().copied(),
            pattern,
            base: sums.into_values().collect(),
            right,
            rows,
        };
        if model.has_answer() { Ok(model) } else { Err(Undefined::NotToldApart) }
    }
}

/// Rows of the fixed part, and how many unknowns it has.
fn fixed_rows(n: usize, fixed: &[Fixed], with_mean: bool) -> Result<(Vec<Row>, usize), Undefined> {
    let mut rows: Vec<Row> = vec![Vec::new(); n];
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
fn cross_products(rows: &[Row]) -> BTreeMap<(u32, u32), f64> {
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
