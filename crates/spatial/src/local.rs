//! The shape of a local statistic, and the conditional permutations that local statistics share.

use serde::Serialize;

use crate::permute::Draw;
use crate::{PermutationTest, Test, Undefined, Weights};

/// A statistic of one point with its moments.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Local {
    /// The statistic.
    pub value: f64,
    /// Its expectation.
    pub expected: f64,
    /// Its variance.
    pub variance: f64,
    /// The test; none where the variance is 0, as for an island.
    pub test: Option<Test>,
}

impl Local {
    pub(crate) fn new(value: f64, expected: f64, variance: f64) -> Self {
        Self { value, expected, variance, test: Test::new(value, expected, variance) }
    }
}

/// Tests each point's lag against random values of other points at its neighbours, its own value
/// held fixed (Anselin 1995): for point i with s = `scale(i)`, the statistic is s × lag, with
/// exact expectation s Σ_j w_ij × (mean of the others). None for an island.
///
/// All points share one set of draws. Each permutation draws, in random order and without
/// replacement, one point more than the largest number of neighbours; a point that meets itself
/// among its draws takes the spare one instead, so that each point sees a uniform draw from the
/// others.
pub(crate) fn conditional_permutation(
    weights: &Weights,
    values: &[f64],
    permutations: usize,
    seed: u64,
    scale: impl Fn(usize) -> f64,
) -> Result<Vec<Option<PermutationTest>>, Undefined> {
    if permutations == 0 {
        return Err(Undefined::NoPermutations);
    }
    let most = (0..weights.len()).map(|i| weights.of(i).len()).max().unwrap_or(0);
    let draws = Draws::new(values, most + 1, permutations, seed);
    let total: f64 = values.iter().sum();
    let others = values.len() as f64 - 1.0;
    let mut simulated = vec![0.0; permutations];
    Ok((0..weights.len())
        .map(|i| {
            let links = weights.of(i).len();
            if links == 0 {
                return None;
            }
            let scale = scale(i);
            draws.lags(weights, i, values, &mut simulated);
            let weight: f64 = weights.of(i).map(|(_, weight)| weight).sum();
            simulated.iter_mut().for_each(|lag| *lag *= scale);
            let observed = scale * weights.lag(i, values);
            let expected = scale * weight * (total - values[i]) / others;
            Some(PermutationTest::new(observed, expected, &simulated, seed))
        })
        .collect())
}

/// Points drawn at random: `width` distinct ones for each permutation.
struct Draws {
    permutations: usize,
    /// Values of the points drawn, `[draw][permutation]`.
    values: Vec<f64>,
    /// Where each point was drawn, as `(draw, permutation)`; point i's in
    /// `starts[i]..starts[i + 1]`.
    met: Vec<(u32, u32)>,
    starts: Vec<u32>,
}

impl Draws {
    fn new(values: &[f64], width: usize, permutations: usize, seed: u64) -> Self {
        let n = values.len();
        let width = width.min(n);
        let mut draw = Draw::seeded(seed);
        let mut order: Vec<u32> = (0..n as u32).collect();
        let mut points = vec![0u32; width * permutations];
        let mut starts = vec![0u32; n + 1];
        for permutation in 0..permutations {
            for at in 0..width {
                let other = at + draw.below((n - at) as u32) as usize;
                order.swap(at, other);
                points[at * permutations + permutation] = order[at];
                starts[order[at] as usize + 1] += 1;
            }
        }
        for i in 1..starts.len() {
            starts[i] += starts[i - 1];
        }
        let mut next = starts.clone();
        let mut met = vec![(0, 0); points.len()];
        for at in 0..width {
            for permutation in 0..permutations {
                let slot = &mut next[points[at * permutations + permutation] as usize];
                met[*slot as usize] = (at as u32, permutation as u32);
                *slot += 1;
            }
        }
        let values = points.iter().map(|&point| values[point as usize]).collect();
        Self { permutations, values, met, starts }
    }

    /// The lag of point i in every permutation.
    fn lags(&self, weights: &Weights, i: usize, values: &[f64], lags: &mut [f64]) {
        lags.fill(0.0);
        for ((_, weight), drawn) in weights.of(i).zip(self.values.chunks_exact(self.permutations)) {
            for (lag, value) in lags.iter_mut().zip(drawn) {
                *lag += weight * value;
            }
        }
        let links = weights.of(i).len();
        for &(at, permutation) in &self.met[self.starts[i] as usize..self.starts[i + 1] as usize] {
            let (at, permutation) = (at as usize, permutation as usize);
            if let Some((_, weight)) = weights.of(i).nth(at) {
                let spare = self.values[links * self.permutations + permutation];
                lags[permutation] += weight * (spare - values[i]);
            }
        }
    }
}
