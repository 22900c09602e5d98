//! Values as deviations from their mean, checked once for every statistic.

use crate::Undefined;

/// Deviations from the mean.
pub(crate) struct Deviations {
    /// Value less mean.
    pub(crate) z: Vec<f64>,
    /// Σ z², above 0 and finite.
    pub(crate) square_sum: f64,
}

impl Deviations {
    /// # Errors
    /// [`Undefined`]: fewer than `needed` values (at least 1), one that is not finite, all equal, or
    /// a spread that cannot be squared in floating point.
    pub(crate) fn of(values: &[f64], needed: usize) -> Result<Self, Undefined> {
        if values.len() < needed {
            return Err(Undefined::TooFew { needed, found: values.len() });
        }
        if let Some(index) = values.iter().position(|value| !value.is_finite()) {
            return Err(Undefined::NotFinite { index });
        }
        if values.iter().all(|value| value == &values[0]) {
            return Err(Undefined::Constant);
        }
        let mean = values.iter().sum::<f64>() / values.len() as f64;
        let z: Vec<f64> = values.iter().map(|value| value - mean).collect();
        let square_sum: f64 = z.iter().map(|z| z * z).sum();
        // Fourth powers are taken of these too.
        if !(1e-120..1e120).contains(&square_sum) {
            return Err(Undefined::Range);
        }
        Ok(Self { z, square_sum })
    }

    /// n Σz⁴ / (Σz²)².
    pub(crate) fn kurtosis(&self) -> f64 {
        let fourth: f64 = self.z.iter().map(|z| (z * z) * (z * z)).sum();
        self.z.len() as f64 * fourth / (self.square_sum * self.square_sum)
    }
}
