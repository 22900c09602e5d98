//! The shape of a global statistic: one number for all points, under two null hypotheses.

use serde::Serialize;

use crate::{Test, Weights};

/// A global statistic with its moments under normality and under randomisation.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Global {
    /// Number of points n; islands count.
    pub n: usize,
    /// How many of them have no neighbour.
    pub islands: usize,
    /// The statistic.
    pub value: f64,
    /// Its expectation, the same under both hypotheses.
    pub expected: f64,
    /// Variance if values were drawn from one normal distribution.
    pub variance_normality: f64,
    /// Variance over all permutations of the values.
    pub variance_randomisation: f64,
    /// The test with the first variance; none where that is 0.
    pub normality: Option<Test>,
    /// The test with the second variance; none where that is 0.
    pub randomisation: Option<Test>,
}

impl Global {
    pub(crate) fn new(
        weights: &Weights,
        value: f64,
        expected: f64,
        variance_normality: f64,
        variance_randomisation: f64,
    ) -> Self {
        Self {
            n: weights.len(),
            islands: weights.islands().len(),
            value,
            expected,
            variance_normality,
            variance_randomisation,
            normality: Test::new(value, expected, variance_normality),
            randomisation: Test::new(value, expected, variance_randomisation),
        }
    }
}
