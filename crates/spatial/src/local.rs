//! The shape of a local statistic, and the conditional permutations that local statistics share.

use serde::Serialize;

use crate::permute::Draw;
use crate::weights::Row;
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

/// Most neighbours × permutations of a conditional permutation test: about 1.4 GB of draws.
const MOST_DRAWS: usize = 50_000_000;

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
    let most = (0..weights.len()).map(|i| weights.row(i).to.len()).max().unwrap_or(0);
    if most.saturating_mul(permutations) > MOST_DRAWS {
        return Err(Undefined::TooManyDraws { neighbours: most, permutations });
    }
    let draws = Draws::new(values, most + 1, permutations, seed);
    let total: f64 = values.iter().sum();
    let others = values.len() as f64 - 1.0;
    let mut simulated = vec![0.0; permutations];
    Ok((0..weights.len())
        .map(|i| {
            let row = weights.row(i);
            if row.to.is_empty() {
                return None;
            }
            let scale = scale(i);
            draws.lags(row, i, values[i], scale, &mut simulated);
            let observed = scale * row.lag(values);
            let expected = scale * row.sum() * (total - values[i]) / others;
            Some(PermutationTest::new(observed, expected, &simulated, seed))
        })
        .collect())
}

/// Points drawn at random: `width` distinct ones for each permutation.
struct Draws {
    permutations: usize,
    /// Values of the points drawn, `[draw][permutation]`.
    values: Vec<f64>,
    /// Sums of the first draws, `[number of draws][permutation]`.
    sums: Vec<f64>,
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
        let values: Vec<f64> = points.iter().map(|&point| values[point as usize]).collect();
        let mut sums = vec![0.0; permutations];
        for at in 0..points.len() {
            sums.push(sums[at] + values[at]);
        }
        Self { permutations, values, sums, met, starts }
    }

    /// `scale` times the lag of point i, with value `own`, in every permutation.
    fn lags(&self, row: Row<'_>, i: usize, own: f64, scale: f64, lags: &mut [f64]) {
        let m = self.permutations;
        let links = row.to.len();
        if let Some(weight) = row.alike() {
            let scale = scale * weight;
            let sums = &self.sums[links * m..(links + 1) * m];
            lags.iter_mut().zip(sums).for_each(|(lag, sum)| *lag = scale * sum);
        } else {
            lags.fill(0.0);
            for (at, drawn) in self.values.chunks_exact(m).take(links).enumerate() {
                let scale = scale * row.weight(at);
                lags.iter_mut().zip(drawn).for_each(|(lag, value)| *lag += scale * value);
            }
        }
        for &(at, permutation) in &self.met[self.starts[i] as usize..self.starts[i + 1] as usize] {
            let (at, permutation) = (at as usize, permutation as usize);
            if at < links {
                let spare = self.values[links * m + permutation];
                lags[permutation] += scale * row.weight(at) * (spare - own);
            }
        }
    }
}
