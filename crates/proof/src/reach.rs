//! How far disease reaches on a plot: the kernels of the fit's hypotheses, each with its weight.

use serde::{Deserialize, Serialize};
use spatial::{Ellipse, Kernel};

use crate::pressure::Spread;

/// A mixture of kernels: `K(along, across) = Σ share · kernel(distance of the ellipse)`, the shares
/// adding up to 1. 1 at no distance, falling with it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Reach {
    parts: Vec<ReachPart>,
}

/// A kernel and how much of the mixture it is.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct ReachPart {
    /// Its share of the mixture, 0 to 1.
    pub share: f64,
    /// How weight falls with distance.
    pub kernel: Kernel,
    /// How distance counts along the row (x) and across it (y).
    pub ellipse: Ellipse,
}

impl Reach {
    /// Of several kernels; shares are scaled to add up to 1, and like kernels are added up.
    pub fn of(parts: impl IntoIterator<Item = ReachPart>) -> Self {
        let mut all: Vec<ReachPart> = Vec::new();
        for part in parts {
            let is_same =
                |one: &&mut ReachPart| (one.kernel, one.ellipse) == (part.kernel, part.ellipse);
            match all.iter_mut().find(is_same) {
                Some(known) => known.share += part.share,
                None => all.push(part),
            }
        }
        let sum: f64 = all.iter().map(|part| part.share).sum();
        all.iter_mut().for_each(|part| part.share /= sum);
        Self { parts: all }
    }

    /// The kernels and their shares.
    pub fn parts(&self) -> &[ReachPart] {
        &self.parts
    }

    /// How much a neighbour `along_m` metres away along the row and `across_m` across it counts,
    /// from 0 to 1; 1 on the spot.
    pub fn weight(&self, along_m: f64, across_m: f64) -> f64 {
        let weight = |part: &ReachPart| {
            part.share * part.kernel.weight(part.ellipse.distance_m(along_m, across_m))
        };
        self.parts.iter().map(weight).sum()
    }

    /// A distance, metres, beyond which every kernel of the mixture weighs at most `negligible`
    /// (between 0 and 1), whichever the direction.
    pub fn radius_m(&self, negligible: f64) -> f64 {
        let radius = |part: &ReachPart| part.ellipse.reach_m(part.kernel.reach_m(negligible));
        self.parts.iter().map(radius).fold(0.0, f64::max)
    }
}

impl ReachPart {
    pub(crate) fn new(share: f64, spread: Spread) -> Self {
        Self { share, kernel: spread.kernel, ellipse: spread.ellipse }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn exponential(share: f64, half_distance_m: f64, ellipse: Ellipse) -> ReachPart {
        ReachPart { share, kernel: Kernel::Exponential { half_distance_m }, ellipse }
    }

    #[test]
    fn weighs_by_the_mean_of_its_kernels() {
        let near = exponential(3.0, 1.0, Ellipse::CIRCLE);
        let long = exponential(1.0, 1.0, Ellipse::new(2.0, 1.0));
        let reach = Reach::of([near, long]);
        assert_eq!(reach.weight(0.0, 0.0), 1.0);
        // ¾ · 2^-2 + ¼ · 2^-1 along the row; both 2^-2 across it.
        assert!((reach.weight(2.0, 0.0) - 0.3125).abs() < 1e-15);
        assert!((reach.weight(-2.0, 0.0) - 0.3125).abs() < 1e-15);
        assert!((reach.weight(0.0, 2.0) - 0.25).abs() < 1e-15);
    }

    #[test]
    fn like_kernels_are_one_and_shares_add_up_to_one() {
        let one = |share| exponential(share, 1.4, Ellipse::CIRCLE);
        let reach = Reach::of([one(0.2), exponential(0.5, 2.8, Ellipse::CIRCLE), one(0.3)]);
        let shares: Vec<f64> = reach.parts().iter().map(|part| part.share).collect();
        assert_eq!(shares, [0.5, 0.5]);
    }

    #[test]
    fn nothing_beyond_its_radius_weighs_more_than_asked() {
        let far = Kernel::PowerLaw { scale_m: 1.5, exponent: 2.0 };
        let far = ReachPart { share: 0.4, kernel: far, ellipse: Ellipse::turned(1.4, 0.7, 30.0) };
        let reach = Reach::of([far, exponential(0.6, 2.0, Ellipse::CIRCLE)]);
        let radius_m = reach.radius_m(0.01);
        for deg in (0..360).step_by(15) {
            let turn = f64::from(deg).to_radians();
            let (sin, cos) = (libm::sin(turn), libm::cos(turn));
            assert!(reach.weight(radius_m * cos, radius_m * sin) <= 0.01 + 1e-12, "{deg}");
        }
    }
}
