//! Fitting a model to an empirical variogram by weighted least squares.

use serde::Serialize;

use super::{Shape, VariogramClass, VariogramModel};
use crate::Undefined;

/// What each class weighs in the sum of squares; N its pairs, h its mean distance.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum FitWeights {
    /// N / h².
    PairsByDistance,
    /// N / γ(h)², γ the model itself, refreshed until it stands still (Cressie 1985,
    /// *Mathematical Geology* 17:563).
    PairsBySemivariance,
    /// 1.
    Equal,
}

/// A fitted variogram model.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Fit {
    /// The model.
    pub model: VariogramModel,
    /// Weighted sum of squared differences at the model.
    pub sum_of_squares: f64,
    /// Whether the refreshed weights came to stand still.
    pub converged: bool,
    /// Whether the classes tell the range: false where the partial sill is 0 or the range lies
    /// beyond the classes' mean distances, as for a variogram that does not level off. Then nugget,
    /// sill and range mean nothing apart.
    pub identifiable: bool,
}

/// The range parameter is sought between the shortest mean distance over this and the longest
/// times this.
const RANGE_FACTOR: f64 = 100.0;
const STEPS: usize = 400;

/// Fits nugget, partial sill (neither below 0) and range.
///
/// For a given range the model is linear in the other two, which are solved for directly; the
/// range is then found by a search over a fine logarithmic grid and golden sections around its
/// best point, so that the result does not hang on a starting value.
///
/// # Errors
/// [`Undefined::TooFew`] with fewer than 4 classes; [`Undefined::Range`] where all semivariances
/// are 0.
pub fn fit_variogram(
    classes: &[VariogramClass],
    shape: Shape,
    weights: FitWeights,
) -> Result<Fit, Undefined> {
    if classes.len() < 4 {
        return Err(Undefined::TooFew { needed: 4, found: classes.len() });
    }
    if classes.iter().all(|class| class.semivariance <= 0.0) {
        return Err(Undefined::Range);
    }
    let start: Vec<f64> = classes
        .iter()
        .map(|class| match weights {
            FitWeights::PairsByDistance => {
                class.pairs as f64 / (class.mean_distance_m * class.mean_distance_m)
            }
            FitWeights::PairsBySemivariance => class.pairs as f64,
            FitWeights::Equal => 1.0,
        })
        .collect();
    if let Some(index) = start.iter().position(|weight| !weight.is_finite()) {
        return Err(Undefined::NotFinite { index });
    }
    let mut problem = Problem { classes, shape, weights: start };
    let mut model = problem.best();
    let mut converged = true;
    if weights == FitWeights::PairsBySemivariance {
        converged = false;
        for _ in 0..500 {
            problem.reweigh(&model);
            let next = problem.best();
            let moved = distance(&model, &next);
            model = next;
            if moved < 1e-10 {
                converged = true;
                break;
            }
        }
        problem.reweigh(&model);
    }
    let sum_of_squares = problem.sum_of_squares(&model);
    let identifiable = problem.identifies(&model);
    Ok(Fit { model, sum_of_squares, converged, identifiable })
}

/// Largest relative change of a parameter.
fn distance(a: &VariogramModel, b: &VariogramModel) -> f64 {
    let sill = (a.nugget + a.partial_sill).max(f64::MIN_POSITIVE);
    [
        (a.nugget - b.nugget) / sill,
        (a.partial_sill - b.partial_sill) / sill,
        (a.range_m - b.range_m) / a.range_m,
    ]
    .into_iter()
    .fold(0.0, |largest, change| largest.max(change.abs()))
}

struct Problem<'a> {
    classes: &'a [VariogramClass],
    shape: Shape,
    weights: Vec<f64>,
}

impl Problem<'_> {
    fn reweigh(&mut self, model: &VariogramModel) {
        for (weight, class) in self.weights.iter_mut().zip(self.classes) {
            let semivariance = model.beyond_zero(class.mean_distance_m);
            *weight = class.pairs as f64 / (semivariance * semivariance);
        }
    }

    fn sum_of_squares(&self, model: &VariogramModel) -> f64 {
        self.classes
            .iter()
            .zip(&self.weights)
            .map(|(class, weight)| {
                let off = class.semivariance - model.beyond_zero(class.mean_distance_m);
                weight * off * off
            })
            .sum()
    }

    /// Whether the range lies between the shortest and the longest distance.
    fn identifies(&self, model: &VariogramModel) -> bool {
        let (shortest, longest) = self.span();
        model.partial_sill > 0.0 && (shortest..=longest).contains(&model.range_m)
    }

    /// Shortest (above 0) and longest mean distance.
    fn span(&self) -> (f64, f64) {
        let distances = self.classes.iter().map(|class| class.mean_distance_m);
        let longest = distances.clone().fold(0.0, f64::max);
        (distances.filter(|&d| d > 0.0).fold(longest, f64::min), longest)
    }

    fn best(&self) -> VariogramModel {
        let (shortest, longest) = self.span();
        let (low, high) = (libm::log(shortest / RANGE_FACTOR), libm::log(longest * RANGE_FACTOR));
        let step = (high - low) / STEPS as f64;
        let cost = |log_range: f64| self.sum_of_squares(&self.given_range(libm::exp(log_range)));
        let mut best = (0, f64::INFINITY);
        for at in 0..=STEPS {
            let found = cost(low + step * at as f64);
            if found < best.1 {
                best = (at, found);
            }
        }
        let left = low + step * (best.0.max(1) - 1) as f64;
        let right = low + step * (best.0 + 1).min(STEPS) as f64;
        self.given_range(libm::exp(golden_section(left, right, cost)))
    }

    /// Nugget and partial sill, neither below 0, for a range.
    fn given_range(&self, range_m: f64) -> VariogramModel {
        let (mut w, mut f, mut ff, mut g, mut fg) = (0.0, 0.0, 0.0, 0.0, 0.0);
        for (class, weight) in self.classes.iter().zip(&self.weights) {
            let share = self.shape.share(class.mean_distance_m, range_m);
            w += weight;
            f += weight * share;
            ff += weight * share * share;
            g += weight * class.semivariance;
            fg += weight * share * class.semivariance;
        }
        let model = |nugget: f64, partial_sill: f64| VariogramModel {
            shape: self.shape,
            nugget,
            partial_sill,
            range_m,
        };
        let determinant = w * ff - f * f;
        if determinant > 1e-12 * w * ff {
            let sill = (w * fg - f * g) / determinant;
            let nugget = (g - sill * f) / w;
            if sill >= 0.0 && nugget >= 0.0 {
                return model(nugget, sill);
            }
        }
        // On the border: the better of the two.
        let flat = model(g / w, 0.0);
        let no_nugget = model(0.0, if ff > 0.0 { fg / ff } else { 0.0 });
        let better = self.sum_of_squares(&no_nugget) < self.sum_of_squares(&flat);
        if better { no_nugget } else { flat }
    }
}

/// The place of the least value of a function with one valley between `left` and `right`.
fn golden_section(mut left: f64, mut right: f64, cost: impl Fn(f64) -> f64) -> f64 {
    const SHARE: f64 = 0.618_033_988_749_894_9;
    let mut inner = (right - SHARE * (right - left), left + SHARE * (right - left));
    let mut costs = (cost(inner.0), cost(inner.1));
    while right - left > 1e-12 {
        if costs.0 < costs.1 {
            right = inner.1;
            inner = (right - SHARE * (right - left), inner.0);
            costs = (cost(inner.0), costs.0);
        } else {
            left = inner.0;
            inner = (inner.1, left + SHARE * (right - left));
            costs = (costs.1, cost(inner.1));
        }
        if inner.0 >= inner.1 {
            break;
        }
    }
    0.5 * (left + right)
}
