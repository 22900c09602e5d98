//! Clark–Evans: whether points stand closer together or more evenly than chance would place them.

use serde::Serialize;

use crate::{Neighbours, Test, Undefined};

/// A rectangle of metres that points were free to fall in.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Window {
    /// Least x, metres.
    pub left_m: f64,
    /// Least y.
    pub bottom_m: f64,
    /// Greatest x, above the least.
    pub right_m: f64,
    /// Greatest y, above the least.
    pub top_m: f64,
}

impl Window {
    /// The smallest rectangle around points. It is too small for Clark–Evans, whose window is
    /// where points *could* have fallen: use it for want of better.
    ///
    /// # Errors
    /// [`Undefined`] where the points do not span an area.
    pub fn around(points: &[(f64, f64)]) -> Result<Self, Undefined> {
        let start = Self {
            left_m: f64::INFINITY,
            bottom_m: f64::INFINITY,
            right_m: f64::NEG_INFINITY,
            top_m: f64::NEG_INFINITY,
        };
        let window = points.iter().fold(start, |window, &(x, y)| Self {
            left_m: window.left_m.min(x),
            bottom_m: window.bottom_m.min(y),
            right_m: window.right_m.max(x),
            top_m: window.top_m.max(y),
        });
        if window.area_m2() > 0.0 && window.right_m > window.left_m {
            Ok(window)
        } else {
            Err(Undefined::NoArea)
        }
    }

    fn area_m2(&self) -> f64 {
        (self.right_m - self.left_m) * (self.top_m - self.bottom_m)
    }

    fn perimeter_m(&self) -> f64 {
        2.0 * ((self.right_m - self.left_m) + (self.top_m - self.bottom_m))
    }
}

/// The mean distance to the nearest neighbour against complete spatial randomness.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct ClarkEvans {
    /// Number of points.
    pub n: usize,
    /// Mean distance to the nearest neighbour, metres.
    pub mean_nearest_m: f64,
    /// Points per square metre.
    pub density_per_m2: f64,
    /// Without regard to the window's edge.
    pub plain: NearestRatio,
    /// With Donnelly's correction for it.
    pub donnelly: NearestRatio,
}

/// A mean nearest distance against its expectation.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct NearestRatio {
    /// Observed over expected: below 1 clumped, above 1 even.
    pub ratio: f64,
    /// Expected mean nearest distance, metres.
    pub expected_m: f64,
    /// Its variance, square metres.
    pub variance_m2: f64,
    /// The test of the mean distance.
    pub test: Test,
}

/// Clark–Evans of points in a window.
///
/// With ρ = n/A: `E = 1/(2√ρ)`, `SE = √((4 − π)/(4π)) / √(nρ)` = 0.26136/√(nρ) (Clark & Evans 1954,
/// *Ecology* 35:445). Points near the edge have their nearest neighbour outside: Donnelly 1978
/// corrects for a window of perimeter P: `E = ½ √(A/n) + (0.0514 + 0.0412/√n) P/n`,
/// `Var = 0.0703 A/n² + 0.037 P √(A/n⁵)` (the constants as general-purpose libraries print them;
/// 0.041 is also met). Coincident points have distance 0.
///
/// It asks about positions. In a planted grid positions are given: ask about values instead.
///
/// # Errors
/// [`Undefined`]: fewer than 2 points, or a window without area.
pub fn clark_evans(points: &[(f64, f64)], window: &Window) -> Result<ClarkEvans, Undefined> {
    if points.len() < 2 {
        return Err(Undefined::TooFew { needed: 2, found: points.len() });
    }
    let (area, perimeter) = (window.area_m2(), window.perimeter_m());
    if area.is_nan() || area <= 0.0 || window.right_m <= window.left_m {
        return Err(Undefined::NoArea);
    }
    let n = points.len() as f64;
    let nearest = Neighbours::nearest(points, 1);
    let mean = (0..points.len())
        .filter_map(|i| nearest.of(i).next())
        .map(|near| near.distance_m)
        .sum::<f64>()
        / n;
    let density = n / area;
    let pi = std::f64::consts::PI;
    let plain = (0.5 / density.sqrt(), (4.0 - pi) / (4.0 * pi) / (n * density));
    let donnelly = (
        0.5 * (area / n).sqrt() + (0.0514 + 0.0412 / n.sqrt()) * perimeter / n,
        0.0703 * area / (n * n) + 0.037 * perimeter * (area / (n * n * n * n * n)).sqrt(),
    );
    let against = |(expected_m, variance_m2): (f64, f64)| {
        Some(NearestRatio {
            ratio: mean / expected_m,
            expected_m,
            variance_m2,
            test: Test::new(mean, expected_m, variance_m2)?,
        })
    };
    let (Some(plain), Some(donnelly)) = (against(plain), against(donnelly)) else {
        return Err(Undefined::NoArea);
    };
    Ok(ClarkEvans {
        n: points.len(),
        mean_nearest_m: mean,
        density_per_m2: density,
        plain,
        donnelly,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_not_defined_says_so() {
        let window = Window { left_m: 0.0, bottom_m: 0.0, right_m: 5.0, top_m: 0.0 };
        let row = [(0.0, 0.0), (1.0, 0.0), (2.0, 0.0)];
        assert_eq!(clark_evans(&row, &window), Err(Undefined::NoArea));
        assert_eq!(Window::around(&row), Err(Undefined::NoArea));
        assert_eq!(Window::around(&[]), Err(Undefined::NoArea));
        let one = clark_evans(&row[..1], &Window { top_m: 5.0, ..window });
        assert_eq!(one, Err(Undefined::TooFew { needed: 2, found: 1 }));
    }

    /// Twins stand at distance 0; a lattice stands as evenly as points can.
    #[test]
    fn the_two_ends() {
        let lattice: Vec<_> = (0..100).map(|i| (f64::from(i % 10), f64::from(i / 10))).collect();
        let window = Window { left_m: -0.5, bottom_m: -0.5, right_m: 9.5, top_m: 9.5 };
        let even = clark_evans(&lattice, &window).expect("defined");
        assert!((even.plain.ratio - 2.0).abs() < 1e-12, "a square lattice has R = 2");
        let twins: Vec<_> = lattice.iter().chain(&lattice).copied().collect();
        let clumped = clark_evans(&twins, &window).expect("defined");
        assert_eq!((clumped.plain.ratio, clumped.mean_nearest_m), (0.0, 0.0));
    }
}
