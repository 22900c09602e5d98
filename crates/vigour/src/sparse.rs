//! Sparse symmetric systems: a factor by Cholesky, solutions, the determinant, and the inverse
//! where the factor has entries.
//!
//! Rows are factored one after the other (Davis 2006, *Direct Methods for Sparse Linear Systems*,
//! ch. 4); the inverse follows Takahashi, Fagan & Chin 1973 (from memory). Sums run in one fixed
//! order, so that every machine gives the same digits.

use crate::order::least_degree;

/// Where the entries of a symmetric matrix lie, and where those of its factor will.
#[derive(Debug)]
pub(crate) struct Pattern {
    /// By step of elimination: which unknown.
    order: Vec<usize>,
    /// By unknown: in which step it is eliminated.
    step: Vec<usize>,
    /// By row: the matrix's entries up to the diagonal, as column and number of the entry.
    entries: Vec<Vec<(u32, u32)>>,
    /// Columns of the factor below the diagonal: where each starts, and its rows in order.
    start: Vec<usize>,
    rows: Vec<u32>,
    /// By row: the columns in which the factor has an entry before the diagonal, in order.
    columns: Vec<Vec<u32>>,
    /// The first column from which on all columns are full below the diagonal.
    full_from: usize,
}

/// A factor L with L Lᵀ = the matrix.
#[derive(Debug)]
pub(crate) struct Factor<'a> {
    pattern: &'a Pattern,
    below: Vec<f64>,
    diagonal: Vec<f64>,
}

/// Entries of an inverse, where the factor has entries.
#[derive(Debug)]
pub(crate) struct Inverse<'a> {
    pattern: &'a Pattern,
    below: Vec<f64>,
    diagonal: Vec<f64>,
}

impl Pattern {
    /// Of a matrix of `n` unknowns whose entries of one triangle are listed once each; none where a
    /// factor would take more than so many products.
    pub(crate) fn new(n: usize, listed: &[(u32, u32)], most: f64) -> Option<Self> {
        let order = least_degree(n, listed, most)?;
        let mut step = vec![0; n];
        order.iter().enumerate().for_each(|(at, &unknown)| step[unknown] = at);
        let mut entries = vec![Vec::new(); n];
        for (nth, &(i, j)) in listed.iter().enumerate() {
            let (i, j) = (step[i as usize], step[j as usize]);
            entries[i.max(j)].push((i.min(j) as u32, nth as u32));
        }
        let below = structure(n, &entries);
        let mut columns: Vec<Vec<u32>> = vec![Vec::new(); n];
        let (mut start, mut rows) = (vec![0], Vec::new());
        for (column, list) in below.into_iter().enumerate() {
            list.iter().for_each(|&row| columns[row as usize].push(column as u32));
            rows.extend(list);
            start.push(rows.len());
        }
        let is_full = |column: usize| start[column + 1] - start[column] == n - 1 - column;
        let full_from = (0..n).rev().take_while(|&column| is_full(column)).last().unwrap_or(n);
        Some(Self { order, step, entries, start, rows, columns, full_from })
    }

    /// Entries of the factor below the diagonal.
    pub(crate) fn factor_entries(&self) -> usize {
        self.rows.len()
    }

    /// Factors the matrix with these values in the order of the list; none where it is not
    /// positive definite.
    pub(crate) fn factor(&self, values: &[f64]) -> Option<Factor<'_>> {
        let n = self.order.len();
        let mut below = vec![0.0; self.rows.len()];
        let mut diagonal = vec![0.0; n];
        let mut filled: Vec<usize> = self.start[..n].to_vec();
        let mut row = vec![0.0; n];
        for k in 0..n {
            for &(column, nth) in &self.entries[k] {
                row[column as usize] += values[nth as usize];
            }
            let mut rest = std::mem::take(&mut row[k]);
            for &column in &self.columns[k] {
                let column = column as usize;
                let entry = std::mem::take(&mut row[column]) / diagonal[column];
                let above = self.start[column]..filled[column];
                if column >= self.full_from {
                    for (rest, value) in row[column + 1..k].iter_mut().zip(&below[above]) {
                        *rest -= value * entry;
                    }
                } else {
                    for (&at, value) in self.rows[above.clone()].iter().zip(&below[above]) {
                        row[at as usize] -= value * entry;
                    }
                }
                rest -= entry * entry;
                below[filled[column]] = entry;
                filled[column] += 1;
            }
            // Not a number fails too.
            if rest.is_nan() || rest <= 0.0 {
                return None;
            }
            diagonal[k] = rest.sqrt();
        }
        Some(Factor { pattern: self, below, diagonal })
    }
}

/// Rows below the diagonal in each column of the factor: the matrix's own, and what elimination of
/// earlier columns hands on to the first row they touch.
fn structure(n: usize, entries: &[Vec<(u32, u32)>]) -> Vec<Vec<u32>> {
    let mut below: Vec<Vec<u32>> = vec![Vec::new(); n];
    for (row, list) in entries.iter().enumerate() {
        for &(column, _) in list.iter().filter(|(column, _)| (*column as usize) < row) {
            below[column as usize].push(row as u32);
        }
    }
    let mut handed: Vec<Vec<usize>> = vec![Vec::new(); n];
    for column in 0..n {
        let mut list = std::mem::take(&mut below[column]);
        for &child in &handed[column] {
            list.extend(below[child].iter().filter(|&&row| row as usize > column));
        }
        list.sort_unstable();
        list.dedup();
        if let Some(&first) = list.first() {
            handed[first as usize].push(column);
        }
        below[column] = list;
    }
    below
}

impl<'a> Factor<'a> {
    /// Logarithm of the matrix's determinant.
    pub(crate) fn log_determinant(&self) -> f64 {
        2.0 * self.diagonal.iter().map(|&entry| libm::log(entry)).sum::<f64>()
    }

    /// x with matrix · x = `right`.
    pub(crate) fn solve(&self, right: &[f64]) -> Vec<f64> {
        let pattern = self.pattern;
        let mut x: Vec<f64> = pattern.order.iter().map(|&unknown| right[unknown]).collect();
        for column in 0..x.len() {
            x[column] /= self.diagonal[column];
            let value = x[column];
            for at in pattern.start[column]..pattern.start[column + 1] {
                x[pattern.rows[at] as usize] -= self.below[at] * value;
            }
        }
        for column in (0..x.len()).rev() {
            let span = pattern.start[column]..pattern.start[column + 1];
            let sum: f64 = span.map(|at| self.below[at] * x[pattern.rows[at] as usize]).sum();
            x[column] = (x[column] - sum) / self.diagonal[column];
        }
        pattern.step.iter().map(|&step| x[step]).collect()
    }

    /// The inverse where the factor has entries.
    pub(crate) fn inverse(&self) -> Inverse<'a> {
        let pattern = self.pattern;
        let n = self.diagonal.len();
        let mut below = vec![0.0; self.below.len()];
        let mut diagonal = vec![0.0; n];
        let mut slot = vec![usize::MAX; n];
        for column in (0..n).rev() {
            let span = pattern.start[column]..pattern.start[column + 1];
            let rows = &pattern.rows[span.clone()];
            let own = &self.below[span.clone()];
            rows.iter().enumerate().for_each(|(nth, &row)| slot[row as usize] = nth);
            let mut sums = vec![0.0; rows.len()];
            for (nth, &row) in rows.iter().enumerate() {
                let row = row as usize;
                sums[nth] += own[nth] * diagonal[row];
                let factor = own[nth];
                if column >= pattern.full_from {
                    let other = &below[pattern.start[row]..pattern.start[row + 1]];
                    for (sum, entry) in sums[nth + 1..].iter_mut().zip(other) {
                        *sum += factor * entry;
                    }
                    sums[nth] += product(&own[nth + 1..], other);
                    continue;
                }
                if row >= pattern.full_from {
                    let first = pattern.start[row];
                    for other in nth + 1..rows.len() {
                        let entry = below[first + rows[other] as usize - row - 1];
                        sums[other] += factor * entry;
                        sums[nth] += own[other] * entry;
                    }
                    continue;
                }
                for at in pattern.start[row]..pattern.start[row + 1] {
                    let other = slot[pattern.rows[at] as usize];
                    if other != usize::MAX {
                        sums[other] += factor * below[at];
                        sums[nth] += own[other] * below[at];
                    }
                }
            }
            let pivot = self.diagonal[column];
            let mut sum = 0.0;
            for (nth, at) in span.enumerate() {
                below[at] = -sums[nth] / pivot;
                sum += own[nth] * below[at];
            }
            diagonal[column] = (1.0 / pivot - sum) / pivot;
            rows.iter().for_each(|&row| slot[row as usize] = usize::MAX);
        }
        Inverse { pattern, below, diagonal }
    }
}

impl Inverse<'_> {
    /// The entry of two unknowns.
    ///
    /// # Panics
    /// Where the factor has no entry for them: two unknowns that no observation and no structure
    /// joins.
    pub(crate) fn at(&self, i: usize, j: usize) -> f64 {
        let (i, j) = (self.pattern.step[i], self.pattern.step[j]);
        if i == j {
            return self.diagonal[i];
        }
        let (column, row) = (i.min(j), i.max(j) as u32);
        let span = self.pattern.start[column]..self.pattern.start[column + 1];
        let nth = self.pattern.rows[span.clone()].binary_search(&row).expect("a joined pair");
        self.below[span.start + nth]
    }

    /// The variance Σ wᵢ wⱼ · entry(i, j) of a sum of joined unknowns.
    pub(crate) fn spread(&self, sum: &[(u32, f64)]) -> f64 {
        let mut spread = 0.0;
        for (nth, &(i, wi)) in sum.iter().enumerate() {
            spread += wi * wi * self.at(i as usize, i as usize);
            for &(j, wj) in &sum[..nth] {
                spread += 2.0 * wi * wj * self.at(i as usize, j as usize);
            }
        }
        spread
    }
}

/// The sum of products, in four lanes: one fixed order that a processor can do at once.
fn product(a: &[f64], b: &[f64]) -> f64 {
    let mut lanes = [0.0; 4];
    let (fours, of) = (a.chunks_exact(4), b.chunks_exact(4));
    let rest = fours.remainder().iter().zip(of.remainder());
    let rest: f64 = rest.map(|(a, b)| a * b).sum();
    for (a, b) in fours.zip(of) {
        for ((lane, a), b) in lanes.iter_mut().zip(a).zip(b) {
            *lane += a * b;
        }
    }
    (lanes[0] + lanes[1]) + (lanes[2] + lanes[3]) + rest
}

#[cfg(test)]
mod tests;
