//! Cubic B-splines over evenly spaced knots, and the penalty on their first differences.

/// A run of B-splines that covers `low..=high` with `segments` pieces.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Basis {
    low: f64,
    width: f64,
    segments: usize,
}

impl Basis {
    /// Of a length; a length of 0, or no segments, has one basis function, 1 everywhere.
    pub(crate) fn new(low: f64, high: f64, segments: usize) -> Self {
        let segments = if high > low { segments } else { 0 };
        Self { low, width: (high - low) / segments.max(1) as f64, segments }
    }

    /// How many functions.
    pub(crate) fn count(self) -> usize {
        if self.segments == 0 { 1 } else { self.segments + 3 }
    }

    /// The functions that are not 0 at a spot and their values, which add up to 1.
    pub(crate) fn at(self, spot: f64) -> Vec<(usize, f64)> {
        if self.segments == 0 {
            return vec![(0, 1.0)];
        }
        let along = (spot - self.low) / self.width;
        let segment = (along.max(0.0) as usize).min(self.segments - 1);
        let t = along - segment as f64;
        let u = 1.0 - t;
        // The uniform cubic B-spline (de Boor 1978, *A Practical Guide to Splines*; from memory).
        let values = [
            u * u * u,
            3.0 * t * t * t - 6.0 * t * t + 4.0,
            3.0 * u * u * u - 6.0 * u * u + 4.0,
            t * t * t,
        ];
        values.into_iter().enumerate().map(|(nth, value)| (segment + nth, value / 6.0)).collect()
    }
}

/// The diagonal of the penalty on first differences: in how many of them a coefficient takes part.
pub(crate) fn differences(count: usize, at: usize) -> f64 {
    f64::from(u8::from(at > 0) + u8::from(at + 1 < count))
}

/// The `nth` eigenvalue of that penalty, from 0 at `nth` 0: 2 − 2 cos(π nth / count).
pub(crate) fn root(count: usize, nth: usize) -> f64 {
    2.0 - 2.0 * libm::cos(std::f64::consts::PI * nth as f64 / count as f64)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn functions_add_up_to_one_and_join_smoothly() {
        let basis = Basis::new(-2.0, 5.0, 6);
        let value = |spot: f64, of: usize| {
            basis.at(spot).iter().filter(|(nth, _)| *nth == of).map(|(_, v)| v).sum::<f64>()
        };
        for nth in 0..=700 {
            let spot = -2.0 + f64::from(nth) / 100.0;
            let sum: f64 = basis.at(spot).iter().map(|(_, value)| value).sum();
            assert!((sum - 1.0).abs() < 1e-12);
            for of in 0..basis.count() {
                let step = value(spot, of) - value((spot - 1e-6).max(-2.0), of);
                assert!(step.abs() < 2e-6, "{of} jumps at {spot}");
            }
        }
    }

    #[test]
    fn a_length_of_nothing_has_one_function() {
        let basis = Basis::new(3.0, 3.0, 8);
        assert_eq!((basis.count(), basis.at(3.0)), (1, vec![(0, 1.0)]));
    }
}
