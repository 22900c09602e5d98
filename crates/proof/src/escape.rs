//! The chance to stay clean: expected infections, unequal trees, pressure that is only guessed.
//!
//! Where m infections are expected, a share exp(−m) stays clean (multiple-infection
//! transformation; Gregory 1948, Ann. appl. Biol. 35:412–417, title from memory). Pressure at a
//! place is known only as far as its neighbours tell: a gamma distribution of shape α about its
//! mean. The chance averaged over it is (1 + m/α)^−α, the zero term of a negative binomial.

/// The chance, 0 to 1, that no infection happens where `expected` (≥ 0) are expected and the
/// expectation itself is gamma distributed with shape `shape` (> 0).
pub(crate) fn stay_clean(expected: f64, shape: f64) -> f64 {
    if expected == 0.0 { 1.0 } else { libm::exp(-shape * libm::log1p(expected / shape)) }
}

/// The chance, 0 to 1, that a typical susceptible tree stays clean where `dose` infections (≥ 0)
/// are expected for sure: exp(−dose).
pub fn typical_stays_clean(dose: f64) -> f64 {
    libm::exp(-dose)
}

/// Mean share of an interval that passes before infection, given that it happens within it at a
/// constant hazard that sums to `hazard` over the interval: 1/h − 1/(eʰ − 1), ½ for small h.
pub(crate) fn share_before(hazard: f64) -> f64 {
    if hazard < 1e-4 { 0.5 - hazard / 12.0 } else { 1.0 / hazard - 1.0 / libm::expm1(hazard) }
}

/// Number of frailty nodes.
pub(crate) const NODES: usize = 9;

/// Gauss–Hermite rule of nine points for a standard normal: nodes and weights (weights sum to 1).
/// Computed from the zeros of the probabilists' Hermite polynomial He₉; the tests check its
/// moments up to the 17th, which pins them.
const RULE: [(f64, f64); NODES] = [
    (-4.512_745_863_399_783, 2.234_584_400_774_656e-5),
    (-3.205_429_002_856_47, 2.789_141_321_231_765e-3),
    (-2.076_847_978_677_83, 4.991_640_676_521_787e-2),
    (-1.023_255_663_789_132_6, 2.440_975_028_949_392_8e-1),
    (0.0, 4.063_492_063_492_063_5e-1),
    (1.023_255_663_789_132_6, 2.440_975_028_949_392_8e-1),
    (2.076_847_978_677_83, 4.991_640_676_521_787e-2),
    (3.205_429_002_856_47, 2.789_141_321_231_765e-3),
    (4.512_745_863_399_783, 2.234_584_400_774_656e-5),
];

/// A log-normal frailty with median 1, as nodes: multiplier of the hazard and weight.
pub(crate) fn frailty(sd: f64) -> [(f64, f64); NODES] {
    RULE.map(|(z, weight)| (libm::exp(sd * z), weight))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_rule_has_the_moments_of_a_standard_normal() {
        // E z^n = 0 for odd n and (n − 1)!! for even n; a rule of nine points is exact to n = 17.
        let mut double_factorial = 1.0;
        for n in (0..=16).step_by(2) {
            if n > 0 {
                double_factorial *= f64::from(n - 1);
            }
            let even: f64 = RULE.iter().map(|(z, w)| w * z.powi(n)).sum();
            let odd: f64 = RULE.iter().map(|(z, w)| w * z.powi(n + 1)).sum();
            assert!((even / double_factorial - 1.0).abs() < 1e-12, "moment {n}: {even}");
            assert!(odd.abs() < 1e-6 * double_factorial, "moment {}: {odd}", n + 1);
        }
    }

    #[test]
    fn certain_pressure_is_the_plain_exponential() {
        for expected in [0.0, 0.3, 3.0] {
            let sure = stay_clean(expected, 1e9);
            assert!((sure - libm::exp(-expected)).abs() < 1e-7, "{expected}: {sure}");
        }
        assert!(stay_clean(3.0, 1.0) > stay_clean(3.0, 10.0), "unsure pressure proves less");
        // Tables of the Poisson distribution: no event in 1000 where 3 are expected, 49.8.
        assert!((typical_stays_clean(3.0) - 0.0498).abs() < 5e-5);
        assert!((typical_stays_clean(0.0) - 1.0).abs() < 1e-15);
    }

    #[test]
    fn the_share_before_infection_matches_its_limit_and_a_sum() {
        assert!((share_before(1e-9) - 0.5).abs() < 1e-9);
        let (hazard, steps) = (2.5_f64, 200_000);
        let mut sums = (0.0, 0.0);
        for step in 0..steps {
            let t = (f64::from(step) + 0.5) / f64::from(steps);
            let density = (-hazard * t).exp();
            sums = (sums.0 + t * density, sums.1 + density);
        }
        assert!((share_before(hazard) - sums.0 / sums.1).abs() < 1e-8);
    }
}
