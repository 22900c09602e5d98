//! Kernels: how much a neighbour counts by its distance.

use serde::{Deserialize, Serialize};

/// How weight falls with distance; 1 at distance 0.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Kernel {
    /// `2^(−d/h)`: half at `half_distance_m`, a quarter at twice that (Kiyosawa & Shiyomi 1972
    /// write it `e^(−bd)`; h = ln 2 / b).
    Exponential {
        /// Distance at which the weight is one half, metres, above 0.
        half_distance_m: f64,
    },
    /// `(1 + d/h)^(−b)`: a long tail (the modified power law `(x + c)^(−b)` of Gregory 1968,
    /// scaled to 1 at distance 0).
    PowerLaw {
        /// The length h, metres, above 0.
        scale_m: f64,
        /// The exponent b, above 0.
        exponent: f64,
    },
}

impl Kernel {
    /// The weight of a neighbour at `distance_m` (not negative): in (0, 1], falling.
    pub fn weight(&self, distance_m: f64) -> f64 {
        match *self {
            Self::Exponential { half_distance_m } => libm::exp2(-distance_m / half_distance_m),
            Self::PowerLaw { scale_m, exponent } => {
                let base = 1.0 + distance_m / scale_m;
                // The usual exponent, without the cost of any.
                if exponent == 2.0 { 1.0 / (base * base) } else { libm::pow(base, -exponent) }
            }
        }
    }

    /// The distance at which the weight has fallen to `negligible` (between 0 and 1): everything
    /// beyond counts for less, so that leaving out m neighbours beyond it loses less than
    /// `m × negligible`.
    pub fn reach_m(&self, negligible: f64) -> f64 {
        match *self {
            Self::Exponential { half_distance_m } => -half_distance_m * libm::log2(negligible),
            Self::PowerLaw { scale_m, exponent } => {
                scale_m * (libm::pow(negligible, -1.0 / exponent) - 1.0)
            }
        }
    }
}

/// A distance that counts differently along an axis and across it: splash along the row, or a
/// prevailing wind.
///
/// `d = sqrt((u / along)² + (v / across)²)`, where u is the part of the way along the axis and v
/// the part across it. With `along` 2 and `across` 1 a neighbour on the axis counts as if it were
/// half as far. Both ways along the axis count alike.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Ellipse {
    along: f64,
    across: f64,
    cos: f64,
    sin: f64,
}

impl Ellipse {
    /// A circle: the plain distance.
    pub const CIRCLE: Self = Self { along: 1.0, across: 1.0, cos: 1.0, sin: 0.0 };

    /// Scales along the x axis and across it, both above 0.
    pub fn new(along: f64, across: f64) -> Self {
        Self { along, across, cos: 1.0, sin: 0.0 }
    }

    /// The same with its axis turned `axis_deg` degrees from the x axis towards the y axis.
    pub fn turned(along: f64, across: f64, axis_deg: f64) -> Self {
        let axis = axis_deg.to_radians();
        Self { along, across, cos: libm::cos(axis), sin: libm::sin(axis) }
    }

    /// The distance that a way of (`dx_m`, `dy_m`) counts as, metres.
    pub fn distance_m(&self, dx_m: f64, dy_m: f64) -> f64 {
        let u = (dx_m * self.cos + dy_m * self.sin) / self.along;
        let v = (dy_m * self.cos - dx_m * self.sin) / self.across;
        (u * u + v * v).sqrt()
    }

    /// The plain radius that holds every point counting as at most `reach_m` away.
    pub fn reach_m(&self, reach_m: f64) -> f64 {
        reach_m * self.along.max(self.across)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn half_at_the_half_distance() {
        // ln 2 / 0.5 = 1.386 m (plain arithmetic on b = 0.5 per metre).
        let kernel = Kernel::Exponential { half_distance_m: libm::log(2.0) / 0.5 };
        assert!((kernel.weight(1.386_294_361_119_890_6) - 0.5).abs() < 1e-15);
        assert!((kernel.weight(2.0) - (-1.0f64).exp()).abs() < 1e-15);
        // (1 + 3/1)^-2 = 1/16.
        let tail = Kernel::PowerLaw { scale_m: 1.0, exponent: 2.0 };
        assert!((tail.weight(3.0) - 0.0625).abs() < 1e-16);
    }

    #[test]
    fn weight_at_the_reach_is_the_stated_one() {
        for kernel in [
            Kernel::Exponential { half_distance_m: 2.5 },
            Kernel::PowerLaw { scale_m: 1.5, exponent: 2.2 },
        ] {
            assert_eq!(kernel.weight(0.0), 1.0);
            for negligible in [0.1, 1e-3, 1e-4] {
                let weight = kernel.weight(kernel.reach_m(negligible));
                assert!((weight / negligible - 1.0).abs() < 1e-12, "{kernel:?} {negligible}");
                assert!(kernel.weight(kernel.reach_m(negligible) * 1.01) < negligible);
            }
        }
    }

    #[test]
    fn ellipse_stretches_along_its_axis() {
        let close = |a: f64, b: f64| assert!((a - b).abs() < 1e-12, "{a} {b}");
        close(Ellipse::CIRCLE.distance_m(3.0, 4.0), 5.0);
        let row = Ellipse::new(2.0, 1.0);
        close(row.distance_m(4.0, 0.0), 2.0);
        close(row.distance_m(0.0, 4.0), 4.0);
        close(row.distance_m(-4.0, 0.0), 2.0);
        // Turned by 90°, along is y.
        let across = Ellipse::turned(2.0, 1.0, 90.0);
        close(across.distance_m(0.0, 4.0), 2.0);
        close(across.distance_m(4.0, 0.0), 4.0);
        // Turned by 30°: a point on the axis at 2 m counts as 1 m, and the reach holds it.
        let slanted = Ellipse::turned(2.0, 1.0, 30.0);
        close(slanted.distance_m(2.0 * 0.75f64.sqrt(), 1.0), 1.0);
        close(slanted.reach_m(1.0), 2.0);
    }
}
