//! Spatial weights: who counts as whose neighbour, and how much.

use crate::{Neighbours, Undefined};

/// A sparse matrix of weights w_ij from point i to point j, no point linked to itself; unlisted
/// pairs weigh 0. Links of a point are sorted by the index of their far end.
///
/// ```
/// let points = [(0.0, 0.0), (1.0, 0.0), (2.0, 0.0)];
/// let weights = spatial::Weights::nearest(&points, 1).row_standardised();
/// assert_eq!(weights.of(1).collect::<Vec<_>>(), [(0, 1.0)]);
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Weights {
    starts: Vec<usize>,
    to: Vec<u32>,
    weight: Strength,
}

/// How links are weighed.
#[derive(Clone, Debug, PartialEq)]
enum Strength {
    /// All links of a point alike, as with binary and row-standardised neighbours; 0 for an island.
    ByPoint(Vec<f64>),
    /// Each link its own.
    ByLink(Vec<f64>),
}

/// The links of one point.
#[derive(Clone, Copy)]
pub(crate) struct Row<'a> {
    pub(crate) to: &'a [u32],
    weight: RowStrength<'a>,
}

#[derive(Clone, Copy)]
enum RowStrength<'a> {
    Alike(f64),
    Each(&'a [f64]),
}

/// Sums over the weights that the moments of global statistics need (Cliff & Ord 1981, p. 19).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sums {
    /// Σ_ij w_ij.
    pub s0: f64,
    /// ½ Σ_ij (w_ij + w_ji)².
    pub s1: f64,
    /// Σ_i (Σ_j w_ij + Σ_j w_ji)².
    pub s2: f64,
}

/// What is wrong with a listed pair.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum PairFault {
    /// An index beyond the last point.
    #[error("point {index} does not exist")]
    NoSuchPoint {
        /// The index.
        index: usize,
    },
    /// A point linked to itself.
    #[error("point {index} is linked to itself")]
    Itself {
        /// The index.
        index: usize,
    },
    /// A weight that is negative, infinite or not a number.
    #[error("weight {weight} is not a finite number of at least 0")]
    Weight {
        /// The weight.
        weight: f64,
    },
    /// The same ordered pair twice.
    #[error("the pair {from}, {to} is listed twice")]
    Twice {
        /// Where the link starts.
        from: usize,
        /// Where it ends.
        to: usize,
    },
}

impl Weights {
    /// Weight 1 for each point's `k` nearest neighbours, ties by index. Not symmetric in general.
    pub fn nearest(points: &[(f64, f64)], k: usize) -> Self {
        Self::binary(&Neighbours::nearest(points, k))
    }

    /// Weight 1 for all neighbours at most `radius_m` away, the limit included.
    pub fn band(points: &[(f64, f64)], radius_m: f64) -> Self {
        Self::binary(&Neighbours::within(points, radius_m))
    }

    /// A weight for each neighbour by `weigh(i, neighbour)`: finite, not negative.
    pub fn from_neighbours(
        neighbours: &Neighbours,
        weigh: impl Fn(usize, crate::Near) -> f64,
    ) -> Self {
        let mut out = Parts::with_capacity(neighbours.len(), neighbours.links());
        let mut links: Vec<(u32, f64)> = Vec::new();
        for i in 0..neighbours.len() {
            links.clear();
            links.extend(neighbours.of(i).map(|near| (near.index as u32, weigh(i, near))));
            links.sort_unstable_by_key(|&(to, _)| to);
            links.iter().for_each(|&(to, weight)| out.push(to, weight));
            out.close();
        }
        out.done()
    }

    fn binary(neighbours: &Neighbours) -> Self {
        Self::from_neighbours(neighbours, |_, _| 1.0)
    }

    /// Weights of `n` points from listed pairs `(from, to, weight)`, in any order.
    ///
    /// # Errors
    /// The position in the list and the fault of the first pair that names a point ≥ `n`, links a
    /// point to itself, has a weight that is negative or not finite, or repeats an earlier pair.
    pub fn from_pairs(n: usize, pairs: &[(usize, usize, f64)]) -> Result<Self, (usize, PairFault)> {
        for (at, &(from, to, weight)) in pairs.iter().enumerate() {
            if let Some(index) = [from, to].into_iter().find(|&index| index >= n) {
                return Err((at, PairFault::NoSuchPoint { index }));
            }
            if from == to {
                return Err((at, PairFault::Itself { index: from }));
            }
            if !(weight >= 0.0 && weight.is_finite()) {
                return Err((at, PairFault::Weight { weight }));
            }
        }
        let mut order: Vec<usize> = (0..pairs.len()).collect();
        order.sort_by_key(|&at| (pairs[at].0, pairs[at].1));
        let repeated = order
            .windows(2)
            .filter(|two| pairs[two[0]].0 == pairs[two[1]].0 && pairs[two[0]].1 == pairs[two[1]].1)
            .map(|two| two[1])
            .min();
        if let Some(at) = repeated {
            return Err((at, PairFault::Twice { from: pairs[at].0, to: pairs[at].1 }));
        }
        let mut out = Parts::with_capacity(n, pairs.len());
        let mut sorted = order.into_iter().map(|at| pairs[at]).peekable();
        for i in 0..n {
            while let Some((_, to, weight)) = sorted.next_if(|&(from, ..)| from == i) {
                out.push(to as u32, weight);
            }
            out.close();
        }
        Ok(out.done())
    }

    /// The same with each point's weights divided by their sum; an island keeps none.
    #[must_use]
    pub fn row_standardised(mut self) -> Self {
        let scale: Vec<f64> = (0..self.len())
            .map(|i| self.row(i).sum())
            .map(|total| if total > 0.0 { total } else { 1.0 })
            .collect();
        match &mut self.weight {
            Strength::ByPoint(weight) => {
                weight.iter_mut().zip(&scale).for_each(|(weight, total)| *weight /= total);
            }
            Strength::ByLink(weight) => {
                for (span, total) in self.starts.windows(2).zip(&scale) {
                    weight[span[0]..span[1]].iter_mut().for_each(|weight| *weight /= total);
                }
            }
        }
        self
    }

    /// Number of points.
    pub fn len(&self) -> usize {
        self.starts.len() - 1
    }

    /// Whether there is no point.
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// Number of listed ordered pairs.
    pub fn links(&self) -> usize {
        self.to.len()
    }

    /// The links `(to, weight)` of point `i`, by rising index.
    ///
    /// # Panics
    /// Where `i` is not a point.
    pub fn of(&self, i: usize) -> impl ExactSizeIterator<Item = (usize, f64)> + '_ {
        let row = self.row(i);
        row.to.iter().enumerate().map(move |(at, &to)| (to as usize, row.weight(at)))
    }

    /// The links of point `i`.
    pub(crate) fn row(&self, i: usize) -> Row<'_> {
        let span = self.starts[i]..self.starts[i + 1];
        let weight = match &self.weight {
            Strength::ByPoint(weight) => RowStrength::Alike(weight[i]),
            Strength::ByLink(weight) => RowStrength::Each(&weight[span.clone()]),
        };
        Row { to: &self.to[span], weight }
    }

    /// Points without links, by rising index.
    pub fn islands(&self) -> Vec<usize> {
        (0..self.len()).filter(|&i| self.starts[i] == self.starts[i + 1]).collect()
    }

    /// The weighted sum of the values at point `i`'s neighbours.
    pub(crate) fn lag(&self, i: usize, values: &[f64]) -> f64 {
        self.row(i).lag(values)
    }

    /// The matrix with its directions turned round.
    pub(crate) fn transposed(&self) -> Self {
        let mut starts = vec![0; self.len() + 1];
        for &to in &self.to {
            starts[to as usize + 1] += 1;
        }
        for i in 1..starts.len() {
            starts[i] += starts[i - 1];
        }
        let mut next = starts.clone();
        let mut back = Parts { starts, to: vec![0; self.links()], weight: vec![0.0; self.links()] };
        for i in 0..self.len() {
            for (to, weight) in self.of(i) {
                back.to[next[to]] = i as u32;
                back.weight[next[to]] = weight;
                next[to] += 1;
            }
        }
        back.done()
    }

    /// The sum of all weights.
    ///
    /// # Errors
    /// [`Undefined::NoLinks`] where all weights are 0.
    pub(crate) fn linked(&self) -> Result<f64, Undefined> {
        let total: f64 = (0..self.len()).map(|i| self.row(i).sum()).sum();
        if total > 0.0 { Ok(total) } else { Err(Undefined::NoLinks) }
    }

    /// The sums, of weights that link somebody.
    ///
    /// # Errors
    /// [`Undefined::NoLinks`] where all weights are 0.
    pub(crate) fn linked_sums(&self) -> Result<Sums, Undefined> {
        let sums = self.sums();
        if sums.s0 > 0.0 { Ok(sums) } else { Err(Undefined::NoLinks) }
    }

    /// The sums that the moments of global statistics need.
    pub fn sums(&self) -> Sums {
        let back = self.transposed();
        let (mut s0, mut s1, mut s2) = (0.0, 0.0, 0.0);
        for i in 0..self.len() {
            let (mut out, mut both) = (0.0, 0.0);
            let mut reverse = back.of(i).peekable();
            for (to, weight) in self.of(i) {
                out += weight;
                // Reverse links that have no forward one count for themselves below.
                while reverse.next_if(|&(from, _)| from < to).is_some() {}
                let returned = reverse.next_if(|&(from, _)| from == to).map_or(0.0, |(_, w)| w);
                // Σ (w_ij + w_ji)² over ordered pairs, each term w_ij² + w_ij w_ji, doubled.
                both += weight * (weight + returned);
            }
            let inward: f64 = back.of(i).map(|(_, weight)| weight).sum();
            s0 += out;
            s1 += both;
            s2 += (out + inward) * (out + inward);
        }
        Sums { s0, s1, s2 }
    }
}

impl Row<'_> {
    /// Weight of the link at position `at`.
    pub(crate) fn weight(&self, at: usize) -> f64 {
        match self.weight {
            RowStrength::Alike(weight) => weight,
            RowStrength::Each(weight) => weight[at],
        }
    }

    /// The common weight of all links, if they have one.
    pub(crate) fn alike(&self) -> Option<f64> {
        match self.weight {
            RowStrength::Alike(weight) => Some(weight),
            RowStrength::Each(_) => None,
        }
    }

    /// Σ w.
    pub(crate) fn sum(&self) -> f64 {
        match self.weight {
            RowStrength::Alike(weight) => weight * self.to.len() as f64,
            RowStrength::Each(weight) => weight.iter().sum(),
        }
    }

    /// Σ w².
    pub(crate) fn squares(&self) -> f64 {
        match self.weight {
            RowStrength::Alike(weight) => weight * weight * self.to.len() as f64,
            RowStrength::Each(weight) => weight.iter().map(|weight| weight * weight).sum(),
        }
    }

    /// The largest weight; 0 for an island.
    pub(crate) fn largest(&self) -> f64 {
        match self.weight {
            RowStrength::Alike(weight) => weight,
            RowStrength::Each(weight) => weight.iter().copied().fold(0.0, f64::max),
        }
    }

    /// Σ w x over the links' far ends.
    pub(crate) fn lag(&self, values: &[f64]) -> f64 {
        let far = self.to.iter().map(|&to| values[to as usize]);
        match self.weight {
            RowStrength::Alike(weight) => weight * far.sum::<f64>(),
            RowStrength::Each(weight) => {
                far.zip(weight).map(|(value, weight)| weight * value).sum()
            }
        }
    }
}

/// Weights in the making, point by point.
struct Parts {
    starts: Vec<usize>,
    to: Vec<u32>,
    weight: Vec<f64>,
}

impl Parts {
    fn with_capacity(points: usize, links: usize) -> Self {
        let mut starts = Vec::with_capacity(points + 1);
        starts.push(0);
        Self { starts, to: Vec::with_capacity(links), weight: Vec::with_capacity(links) }
    }

    fn push(&mut self, to: u32, weight: f64) {
        self.to.push(to);
        self.weight.push(weight);
    }

    fn close(&mut self) {
        self.starts.push(self.to.len());
    }

    /// One weight a point where that says it all.
    fn done(self) -> Weights {
        let Self { starts, to, weight } = self;
        let rows = || starts.windows(2).map(|span| &weight[span[0]..span[1]]);
        let alike =
            rows().all(|row| row.windows(2).all(|two| two[0].to_bits() == two[1].to_bits()));
        let weight = if alike {
            Strength::ByPoint(rows().map(|row| row.first().copied().unwrap_or(0.0)).collect())
        } else {
            Strength::ByLink(weight)
        };
        Weights { starts, to, weight }
    }
}

#[cfg(test)]
mod tests;
