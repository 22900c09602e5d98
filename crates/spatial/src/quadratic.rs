//! Quadratic forms of values under many permutations: what every global statistic comes down to.

use std::collections::VecDeque;

use crate::permute::Draw;
use crate::{Undefined, Weights};

/// Permutations that are worked on side by side.
const LANES: usize = 8;

/// `scale (Σ_ij w_ij x_i x_j + Σ_i own_i x_i²)` for each of `permutations` random arrangements x of the
/// values over the points.
///
/// Which point carries which number does not matter under permutation, so points are renumbered
/// by walking from neighbour to neighbour: then the values that a point asks for lie close
/// together. Links of both directions are added up, and eight arrangements share each look at a
/// link.
///
/// # Errors
/// [`Undefined::NoPermutations`] where there is none.
pub(crate) fn simulate(
    weights: &Weights,
    own: Option<&[f64]>,
    scale: f64,
    values: &[f64],
    permutations: usize,
    seed: u64,
) -> Result<Vec<f64>, Undefined> {
    if permutations == 0 {
        return Err(Undefined::NoPermutations);
    }
    let form = Form::new(weights, own);
    let mut draw = Draw::seeded(seed);
    let mut shuffled: [Vec<f64>; LANES] = std::array::from_fn(|_| values.to_vec());
    let mut lanes = vec![[0.0; LANES]; values.len()];
    let mut out = Vec::with_capacity(permutations);
    while out.len() < permutations {
        let wanted = LANES.min(permutations - out.len());
        shuffled.iter_mut().take(wanted).for_each(|values| draw.shuffle(values));
        for (at, slot) in lanes.iter_mut().enumerate() {
            *slot = std::array::from_fn(|lane| shuffled[lane][at]);
        }
        out.extend_from_slice(&form.evaluate(&lanes)[..wanted]);
    }
    out.iter_mut().for_each(|form| *form *= scale);
    Ok(out)
}

/// A quadratic form over renumbered points: each pair once, its later point first.
struct Form {
    starts: Vec<u32>,
    earlier: Vec<u32>,
    weight: Vec<f64>,
    own: Option<Vec<f64>>,
}

impl Form {
    fn new(weights: &Weights, own: Option<&[f64]>) -> Self {
        let back = weights.transposed();
        let order = walk(weights, &back);
        let mut place = vec![0u32; order.len()];
        for (at, &point) in (0u32..).zip(&order) {
            place[point as usize] = at;
        }
        let mut form = Self {
            starts: vec![0],
            earlier: Vec::with_capacity(weights.links()),
            weight: Vec::with_capacity(weights.links()),
            own: own.map(|own| order.iter().map(|&point| own[point as usize]).collect()),
        };
        let mut links: Vec<(u32, f64)> = Vec::new();
        for (at, &point) in (0u32..).zip(&order) {
            let point = point as usize;
            links.clear();
            links.extend(weights.of(point).chain(back.of(point)).map(|(to, w)| (place[to], w)));
            links.retain(|&(to, _)| to < at);
            links.sort_by_key(|&(to, _)| to);
            for &(to, weight) in &links {
                if form.earlier.len() > form.starts[at as usize] as usize
                    && form.earlier.last() == Some(&to)
                {
                    if let Some(last) = form.weight.last_mut() {
                        *last += weight;
                    }
                } else {
                    form.earlier.push(to);
                    form.weight.push(weight);
                }
            }
            form.starts.push(form.earlier.len() as u32);
        }
        form
    }

    fn evaluate(&self, lanes: &[[f64; LANES]]) -> [f64; LANES] {
        let mut total = [0.0; LANES];
        for (at, (span, own)) in self.starts.windows(2).zip(lanes).enumerate() {
            let span = span[0] as usize..span[1] as usize;
            let mut lag = [0.0; LANES];
            if let Some(diagonal) = &self.own {
                lag = own.map(|value| diagonal[at] * value);
            }
            for (&to, &weight) in self.earlier[span.clone()].iter().zip(&self.weight[span]) {
                for (lag, &value) in lag.iter_mut().zip(&lanes[to as usize]) {
                    *lag += weight * value;
                }
            }
            for ((total, &lag), &value) in total.iter_mut().zip(&lag).zip(own) {
                *total += lag * value;
            }
        }
        total
    }
}

/// Points in the order of a walk from neighbour to neighbour, breadth first (Cuthill & McKee 1969
/// without sorting by degree).
fn walk(weights: &Weights, back: &Weights) -> Vec<u32> {
    let mut order = Vec::with_capacity(weights.len());
    let mut met = vec![false; weights.len()];
    let mut next = VecDeque::new();
    for start in 0..weights.len() {
        if met[start] {
            continue;
        }
        met[start] = true;
        next.push_back(start);
        while let Some(point) = next.pop_front() {
            order.push(point as u32);
            for &to in weights.row(point).to.iter().chain(back.row(point).to) {
                if !std::mem::replace(&mut met[to as usize], true) {
                    next.push_back(to as usize);
                }
            }
        }
    }
    order
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The form of arranged values equals its definition, whatever the numbering.
    #[test]
    fn by_definition() {
        let pairs = [(0, 1, 1.0), (1, 0, 2.0), (4, 2, 0.5), (2, 0, 3.0), (3, 4, 1.5)];
        let weights = Weights::from_pairs(6, &pairs).expect("good pairs");
        let own = [0.5, -1.0, 2.0, 0.0, 1.0, 4.0];
        let form = Form::new(&weights, Some(&own));
        let order = walk(&weights, &weights.transposed());
        let x: Vec<f64> = (0..6).map(|i| f64::from(i * i) - 4.0).collect();
        let expected: f64 = pairs.iter().map(|&(i, j, w)| w * x[i] * x[j]).sum::<f64>()
            + own.iter().zip(&x).map(|(own, x)| own * x * x).sum::<f64>();
        let lanes: Vec<_> = order.iter().map(|&point| [x[point as usize]; LANES]).collect();
        assert_eq!(form.evaluate(&lanes), [expected; LANES]);
    }

    #[test]
    fn as_many_as_asked_for() {
        let weights = Weights::from_pairs(3, &[(0, 1, 1.0)]).expect("good pairs");
        for permutations in [1, 7, 8, 9, 33] {
            let found = simulate(&weights, None, 0.5, &[1.0, 2.0, 4.0], permutations, 3);
            let found = found.expect("some");
            assert_eq!(found.len(), permutations);
            assert!(found.iter().all(|form| [1.0, 2.0, 4.0].contains(form)));
        }
    }
}
