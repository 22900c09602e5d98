//! A statistic against the normal distribution.

use serde::ser::{Serialize, SerializeStruct, Serializer};

/// Half of the 90 % interval of a normal distribution, in standard deviations.
pub const HALF_INTERVAL_90: f64 = 1.644_853_626_951_472_2;

/// A standardised statistic, with its p-values under the standard normal distribution.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Test {
    /// (value − expected) / √variance.
    pub z: f64,
}

impl Test {
    /// The test of `value` under a normal distribution; none where nothing can vary.
    pub(crate) fn new(value: f64, expected: f64, variance: f64) -> Option<Self> {
        (variance > 0.0).then(|| Self { z: (value - expected) / variance.sqrt() })
    }

    /// Probability of a value at least as large.
    pub fn p_greater(self) -> f64 {
        upper_tail(self.z)
    }

    /// Probability of a value at least as small.
    pub fn p_less(self) -> f64 {
        upper_tail(-self.z)
    }

    /// Probability of a value at least as far from the expectation on either side.
    pub fn p_two_sided(self) -> f64 {
        2.0 * upper_tail(self.z.abs())
    }
}

impl Serialize for Test {
    /// z and the three p-values.
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut keys = serializer.serialize_struct("Test", 4)?;
        keys.serialize_field("z", &self.z)?;
        keys.serialize_field("p_greater", &self.p_greater())?;
        keys.serialize_field("p_less", &self.p_less())?;
        keys.serialize_field("p_two_sided", &self.p_two_sided())?;
        keys.end()
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
    fn nine_tenths_lie_within_the_half_interval() {
        assert!((Test { z: HALF_INTERVAL_90 }.p_two_sided() - 0.1).abs() < 1e-15);
    }

    #[test]
    fn tails() {
        let check = |z: f64, p: f64| {
            let found = Test { z }.p_greater();
            assert!((found / p - 1.0).abs() < 1e-12, "{z}: {found}");
        };
        check(0.0, 0.5);
        // P(Z > 1.959963984540054) = 0.025: the definition of the 97.5 % quantile.
        check(1.959_963_984_540_054, 0.025);
        // Two-sided 9.681076459062882e-43 at z 13.703451438645816: the pepper field's reference.
        assert!(
            (Test { z: 13.703_451_438_645_816 }.p_two_sided() / 9.681_076_459_062_882e-43 - 1.0)
                .abs()
                < 1e-12
        );
        let test = Test::new(1.0, 3.0, 4.0).expect("a variance");
        assert_eq!((test.z, test.p_less()), (-1.0, Test { z: 1.0 }.p_greater()));
        assert_eq!(Test::new(1.0, 3.0, 0.0), None);
    }
}
