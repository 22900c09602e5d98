//! Random draws that are the same on every target.
//!
//! Written here and not taken from a library of distributions: those switch to the platform's
//! `ln` and `exp` as soon as any other crate asks for the standard library's mathematics.

use rand::{Rng, SeedableRng};
use rand_chacha::ChaCha8Rng;

/// What the numbers are for: each purpose has a stream of its own, so that a change of one leaves
/// the others as they were.
#[derive(Clone, Copy)]
pub(crate) enum For {
    Kind = 1,
    Planting = 2,
    Genes = 3,
    Weather = 4,
    Inoculum = 5,
    Infection = 6,
    Scoring = 7,
    Growth = 8,
}

/// A stream of random draws.
pub(crate) struct Draw(ChaCha8Rng);

impl Draw {
    /// The `nth` stream of a purpose.
    pub(crate) fn new(seed: u64, what_for: For, nth: u32) -> Self {
        let mut rng = ChaCha8Rng::seed_from_u64(seed);
        rng.set_stream((what_for as u64) << 32 | u64::from(nth));
        Self(rng)
    }

    /// Uniform in `[0, 1)`.
    pub(crate) fn unit(&mut self) -> f64 {
        self.0.random()
    }

    /// Uniform in `[low, high)`.
    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }

    /// Uniform on the logarithmic scale, `low` above 0.
    pub(crate) fn log_between(&mut self, low: f64, high: f64) -> f64 {
        libm::exp(self.between(libm::log(low), libm::log(high)))
    }

    /// One of `0 .. n`, `n` above 0.
    pub(crate) fn below(&mut self, n: usize) -> usize {
        self.0.random_range(0..n as u64) as usize
    }

    /// True with probability `p`.
    pub(crate) fn chance(&mut self, p: f64) -> bool {
        self.unit() < p
    }

    /// Standard normal (Box & Muller 1958).
    pub(crate) fn normal(&mut self) -> f64 {
        let radius = libm::sqrt(2.0 * self.exponential());
        radius * libm::cos(std::f64::consts::TAU * self.unit())
    }

    /// Exponential of mean 1.
    pub(crate) fn exponential(&mut self) -> f64 {
        -libm::log(1.0 - self.unit())
    }

    /// Gamma of mean 1 and variance 1/`shape` (Marsaglia & Tsang 2000).
    pub(crate) fn gamma(&mut self, shape: f64) -> f64 {
        if shape < 1.0 {
            // Gamma(a) = Gamma(a + 1) · U^(1/a)
            let lifted = self.gamma(shape + 1.0) * (shape + 1.0);
            return lifted * libm::pow(1.0 - self.unit(), 1.0 / shape) / shape;
        }
        let d = shape - 1.0 / 3.0;
        let c = 1.0 / libm::sqrt(9.0 * d);
        loop {
            let x = self.normal();
            let v = 1.0 + c * x;
            let v = v * v * v;
            if v > 0.0 && libm::log(1.0 - self.unit()) < 0.5 * x * x + d * (1.0 - v + libm::log(v))
            {
                return d * v / shape;
            }
        }
    }

    /// A random order (Fisher & Yates).
    pub(crate) fn shuffle<T>(&mut self, items: &mut [T]) {
        for last in (1..items.len()).rev() {
            items.swap(last, self.below(last + 1));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mean_and_variance(mut next: impl FnMut() -> f64) -> (f64, f64) {
        let draws: Vec<f64> = (0..40_000).map(|_| next()).collect();
        let mean = draws.iter().sum::<f64>() / draws.len() as f64;
        let squares = draws.iter().map(|x| (x - mean) * (x - mean)).sum::<f64>();
        (mean, squares / draws.len() as f64)
    }

    #[test]
    fn moments_are_those_of_the_distributions() {
        let mut draw = Draw::new(1, For::Genes, 0);
        let check = |(mean, variance): (f64, f64), of: (f64, f64)| {
            assert!((mean - of.0).abs() < 0.03 && (variance - of.1).abs() < 0.08 * of.1.max(1.0));
        };
        check(mean_and_variance(|| draw.normal()), (0.0, 1.0));
        check(mean_and_variance(|| draw.exponential()), (1.0, 1.0));
        for shape in [0.5, 1.0, 2.0, 7.5] {
            check(mean_and_variance(|| draw.gamma(shape)), (1.0, 1.0 / shape));
        }
    }

    #[test]
    fn streams_differ_and_repeat() {
        let first = |what_for, nth| Draw::new(9, what_for, nth).unit();
        assert_eq!(first(For::Genes, 0), first(For::Genes, 0));
        assert_ne!(first(For::Genes, 0), first(For::Genes, 1));
        assert_ne!(first(For::Genes, 0), first(For::Weather, 0));
    }
}
