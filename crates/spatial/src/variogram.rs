//! The empirical variogram: how unlike two points are, by their distance.

mod fit;
mod model;

use serde::Serialize;

use crate::Undefined;
use crate::tie::{distance_2, limit_2};

pub use fit::{Fit, FitWeights, fit_variogram};
pub use model::{Shape, VariogramModel};

/// Pairs of points whose distance falls into one class.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct VariogramClass {
    /// Lower limit, metres, not included (but 0 is).
    pub above_m: f64,
    /// Upper limit, metres, included.
    pub at_most_m: f64,
    /// Number of unordered pairs N.
    pub pairs: usize,
    /// Their mean distance, metres.
    pub mean_distance_m: f64,
    /// Semivariance `Σ (z_i − z_j)² / (2N)` (Matheron 1962).
    pub semivariance: f64,
    /// Robust semivariance `½ (Σ |z_i − z_j|^½ / N)⁴ / (0.457 + 0.494/N)` (Cressie & Hawkins 1980,
    /// *Mathematical Geology* 12:115).
    pub semivariance_robust: f64,
}

/// Only pairs that lie along one direction, either way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Direction {
    /// Degrees from the x axis towards the y axis.
    pub axis_deg: f64,
    /// Largest deviation from it, degrees, 0 to 90.
    pub tolerance_deg: f64,
}

/// Upper limits of `classes` equal classes up to `cutoff_m`.
pub fn equal_classes(cutoff_m: f64, classes: usize) -> Vec<f64> {
    (1..=classes).map(|class| cutoff_m * class as f64 / classes as f64).collect()
}

/// A third of the diagonal of the rectangle around the points: the usual cutoff where nothing else
/// is known (*common practice*).
pub fn usual_cutoff_m(points: &[(f64, f64)]) -> f64 {
    let extent = |pick: fn(&(f64, f64)) -> f64| {
        let (low, high) = points
            .iter()
            .map(pick)
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), x| (low.min(x), high.max(x)));
        (high - low).max(0.0)
    };
    let (width, height) = (extent(|p| p.0), extent(|p| p.1));
    (width * width + height * height).sqrt() / 3.0
}

/// The empirical variogram of `values` at `points`, in classes from `from_m` to the first of
/// `limits_m`, from that to the second and so on; limits rise. Lower limits are excluded (but
/// distance 0 belongs to the first class where `from_m` is 0), upper ones included, with the
/// crate's slack of one part in 10⁹, because on a planted grid many pairs lie exactly on a limit.
/// Classes without pairs are left out.
///
/// Costs as many steps as there are pairs of points.
///
/// # Errors
/// [`Undefined`]: fewer than 2 points, a value that is not finite, or no pair within the limits.
///
/// # Panics
/// Where there are not as many values as points.
pub fn variogram(
    points: &[(f64, f64)],
    values: &[f64],
    from_m: f64,
    limits_m: &[f64],
    direction: Option<Direction>,
) -> Result<Vec<VariogramClass>, Undefined> {
    assert_eq!(points.len(), values.len(), "one value for each point");
    if points.len() < 2 {
        return Err(Undefined::TooFew { needed: 2, found: points.len() });
    }
    if let Some(index) = values.iter().position(|value| !value.is_finite()) {
        return Err(Undefined::NotFinite { index });
    }
    let edges_2: Vec<f64> = limits_m.iter().map(|&limit_m| limit_2(limit_m)).collect();
    let lowest_2 = if from_m > 0.0 { limit_2(from_m) } else { -1.0 };
    let along = direction.map(Axis::of);
    let mut sums = vec![Sum::default(); limits_m.len()];
    for (i, &point) in points.iter().enumerate() {
        for j in i + 1..points.len() {
            let d2 = distance_2(point, points[j]);
            let class = edges_2.partition_point(|&edge_2| edge_2 < d2);
            if d2 <= lowest_2 || class == sums.len() {
                continue;
            }
            if along.as_ref().is_some_and(|axis| !axis.holds(point, points[j])) {
                continue;
            }
            sums[class].add(d2.sqrt(), values[i] - values[j]);
        }
    }
    let classes: Vec<_> = std::iter::once(&from_m)
        .chain(limits_m)
        .zip(limits_m)
        .zip(&sums)
        .filter(|(_, sum)| sum.pairs > 0)
        .map(|((&above_m, &at_most_m), sum)| sum.class(above_m, at_most_m))
        .collect();
    if classes.is_empty() { Err(Undefined::NoLinks) } else { Ok(classes) }
}

#[derive(Clone, Copy, Default)]
struct Sum {
    pairs: usize,
    distance_m: f64,
    squares: f64,
    roots: f64,
}

impl Sum {
    fn add(&mut self, distance_m: f64, difference: f64) {
        self.pairs += 1;
        self.distance_m += distance_m;
        self.squares += difference * difference;
        self.roots += difference.abs().sqrt();
    }

    fn class(&self, above_m: f64, at_most_m: f64) -> VariogramClass {
        let n = self.pairs as f64;
        let root = self.roots / n;
        VariogramClass {
            above_m,
            at_most_m,
            pairs: self.pairs,
            mean_distance_m: self.distance_m / n,
            semivariance: self.squares / (2.0 * n),
            semivariance_robust: 0.5 * (root * root) * (root * root) / (0.457 + 0.494 / n),
        }
    }
}

/// A direction as a unit vector and the least cosine.
struct Axis {
    unit: (f64, f64),
    least_cosine: f64,
}

impl Axis {
    fn of(direction: Direction) -> Self {
        let (axis, tolerance) =
            (direction.axis_deg.to_radians(), direction.tolerance_deg.to_radians());
        Self { unit: (libm::cos(axis), libm::sin(axis)), least_cosine: libm::cos(tolerance) - 1e-9 }
    }

    fn holds(&self, a: (f64, f64), b: (f64, f64)) -> bool {
        let (dx, dy) = (a.0 - b.0, a.1 - b.1);
        let length = (dx * dx + dy * dy).sqrt();
        (dx * self.unit.0 + dy * self.unit.1).abs() >= self.least_cosine * length
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A row of four at 0.35 m: one class for each step, whatever rounding does to distances.
    #[test]
    fn limits_are_included() {
        let points: Vec<_> = (0..4).map(|i| (f64::from(i) * 0.35, 0.0)).collect();
        let found = variogram(&points, &[1.0, 2.0, 4.0, 7.0], 0.0, &[0.35, 0.7, 1.05], None)
            .expect("defined");
        let pairs: Vec<_> = found.iter().map(|class| class.pairs).collect();
        assert_eq!(pairs, [3, 2, 1]);
        // (1 + 4 + 9) / (2 × 3), (9 + 25) / (2 × 2), 36 / 2 (by hand).
        let heights: Vec<_> = found.iter().map(|class| class.semivariance).collect();
        assert_eq!(heights, [14.0 / 6.0, 34.0 / 4.0, 18.0]);
    }

    /// A model's own semivariances lead back to the model.
    #[test]
    fn a_fit_finds_its_model() {
        for shape in [Shape::Spherical, Shape::Exponential, Shape::Gaussian] {
            let truth = VariogramModel { shape, nugget: 0.4, partial_sill: 1.7, range_m: 6.0 };
            let classes: Vec<_> = (1..=15)
                .map(|class| {
                    let mean_distance_m = f64::from(class);
                    VariogramClass {
                        above_m: mean_distance_m - 0.5,
                        at_most_m: mean_distance_m + 0.5,
                        pairs: 40 + 3 * class as usize,
                        mean_distance_m,
                        semivariance: truth.semivariance(mean_distance_m),
                        semivariance_robust: 0.0,
                    }
                })
                .collect();
            for weights in
                [FitWeights::Equal, FitWeights::PairsByDistance, FitWeights::PairsBySemivariance]
            {
                let fit = fit_variogram(&classes, shape, weights).expect("fitted");
                assert!(fit.converged && fit.identifiable, "{fit:?}");
                let close = |a: f64, b: f64| assert!((a / b - 1.0).abs() < 1e-4, "{fit:?}");
                close(fit.model.nugget, truth.nugget);
                close(fit.model.partial_sill, truth.partial_sill);
                close(fit.model.range_m, truth.range_m);
            }
        }
    }

    #[test]
    fn what_is_not_defined_says_so() {
        let check = |points: &[(f64, f64)], values: &[f64], why: Undefined| {
            assert_eq!(variogram(points, values, 0.0, &[1.0], None), Err(why));
        };
        check(&[(0.0, 0.0)], &[1.0], Undefined::TooFew { needed: 2, found: 1 });
        check(&[(0.0, 0.0), (9.0, 0.0)], &[1.0, 2.0], Undefined::NoLinks);
        check(&[(0.0, 0.0), (1.0, 0.0)], &[1.0, f64::NAN], Undefined::NotFinite { index: 1 });
        let points: Vec<_> = (0..9).map(|i| (f64::from(i), 0.0)).collect();
        let flat = variogram(&points, &[3.0; 9], 0.0, &equal_classes(5.0, 5), None).expect("flat");
        let fit = fit_variogram(&flat, Shape::Gaussian, FitWeights::Equal);
        assert_eq!(fit, Err(Undefined::Range));
        let few = fit_variogram(&flat[..3], Shape::Gaussian, FitWeights::Equal);
        assert_eq!(few, Err(Undefined::TooFew { needed: 4, found: 3 }));
    }
}
