//! Variogram models: the shapes that are fitted and kriged with.

use serde::Serialize;

/// How semivariance rises with distance, from 0 to 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Shape {
    /// `1.5 h/a − 0.5 (h/a)³` up to the range a, then 1.
    Spherical,
    /// `1 − e^(−h/a)`: 95 % at 3a.
    Exponential,
    /// `1 − e^(−(h/a)²)`: 95 % at √3 a.
    Gaussian,
}

impl Shape {
    /// The share of the partial sill reached at `distance_m`, with range parameter `range_m` > 0.
    pub fn share(self, distance_m: f64, range_m: f64) -> f64 {
        let h = distance_m / range_m;
        match self {
            Self::Spherical if h >= 1.0 => 1.0,
            Self::Spherical => h * (1.5 - 0.5 * h * h),
            Self::Exponential => -libm::expm1(-h),
            Self::Gaussian => -libm::expm1(-h * h),
        }
    }
}

/// A variogram model: `γ(0) = 0`, `γ(h) = nugget + partial_sill × shape(h / range)` for h > 0.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct VariogramModel {
    /// The shape.
    pub shape: Shape,
    /// The jump at distance 0, not negative.
    pub nugget: f64,
    /// What the shape adds, not negative.
    pub partial_sill: f64,
    /// The range parameter a of the shape, metres (not the distance of 95 %).
    pub range_m: f64,
}

impl VariogramModel {
    /// Semivariance of two points `distance_m` apart.
    pub fn semivariance(&self, distance_m: f64) -> f64 {
        if distance_m > 0.0 { self.beyond_zero(distance_m) } else { 0.0 }
    }

    /// Semivariance at a distance that is not taken for 0.
    pub(crate) fn beyond_zero(&self, distance_m: f64) -> f64 {
        self.nugget + self.partial_sill * self.shape.share(distance_m, self.range_m)
    }

    /// Covariance of two points `distance_m` apart.
    pub fn covariance(&self, distance_m: f64) -> f64 {
        self.nugget + self.partial_sill - self.semivariance(distance_m)
    }
}
