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
