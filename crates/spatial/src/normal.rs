//! A statistic against the normal distribution.

use serde::Serialize;

/// A standardised statistic and its p-values under the standard normal distribution.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Test {
    /// (value − expected) / √variance.
    pub z: f64,
    /// Probability of a value at least as large.
    pub p_greater: f64,
    /// Probability of a value at least as small.
    pub p_less: f64,
    /// Probability of a value at least as far from the expectation on either side.
    pub p_two_sided: f64,
}

impl Test {
    /// The test of `value` under a normal distribution; none where nothing can vary.
    pub(crate) fn new(value: f64, expected: f64, variance: f64) -> Option<Self> {
        (variance > 0.0).then(|| Self::of((value - expected) / variance.sqrt()))
    }

    /// The test of a standardised value.
    pub(crate) fn of(z: f64) -> Self {
        Self {
            z,
            p_greater: upper_tail(z),
            p_less: upper_tail(-z),
            p_two_sided: 2.0 * upper_tail(z.abs()),
        }
    }
}

/// P(Z > z) of the standard normal distribution, `erfc(z / √2) / 2`: accurate in the far tail.
fn upper_tail(z: f64) -> f64 {
    0.5 * libm::erfc(z * std::f64::consts::FRAC_1_SQRT_2)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tails() {
        let check = |z: f64, p: f64| {
            let found = Test::of(z).p_greater;
            assert!((found / p - 1.0).abs() < 1e-12, "{z}: {found}");
        };
        check(0.0, 0.5);
        // P(Z > 1.959963984540054) = 0.025: the definition of the 97.5 % quantile.
        check(1.959_963_984_540_054, 0.025);
        // Two-sided 9.681076459062882e-43 at z 13.703451438645816: the pepper field's reference.
        assert!(
            (Test::of(13.703_451_438_645_816).p_two_sided / 9.681_076_459_062_882e-43 - 1.0).abs()
                < 1e-12
        );
        let test = Test::new(1.0, 3.0, 4.0).expect("a variance");
        assert_eq!((test.z, test.p_less), (-1.0, Test::of(1.0).p_greater));
        assert_eq!(Test::new(1.0, 3.0, 0.0), None);
    }
}
