//! Papadakis: treatment means adjusted by how the neighbours did.

use serde::Serialize;

use crate::{Undefined, Weights};

/// One pass of the neighbour adjustment.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Papadakis {
    /// Slope β on the neighbours' mean residual.
    pub slope: f64,
    /// Its standard error.
    pub slope_standard_error: f64,
    /// Residual standard deviation.
    pub residual_standard_deviation: f64,
    /// Residual degrees of freedom: plots − treatments − 1.
    pub degrees_of_freedom: usize,
    /// Mean of the covariate over plots.
    pub mean_covariate: f64,
    /// Adjusted mean of each treatment, by treatment number.
    pub adjusted_means: Vec<f64>,
    /// The covariate of each plot, in the order of the plots.
    pub covariate: Vec<f64>,
}

/// Treatment means adjusted for the neighbours' residuals (Papadakis 1937; Bartlett 1978, *Journal
/// of the Royal Statistical Society* B 40:147), iterated `passes` times; one answer for each pass.
///
/// `treatment[i]` in 0..t is the treatment of plot i with yield `values[i]`. Pass 1 starts from
/// r = value − treatment mean; each plot's covariate is the mean of r over its neighbours (links
/// with a weight above 0; 0 where it has none); then least squares of value on treatment and
/// covariate. The adjusted mean is the treatment's effect plus β times the mean covariate. The next
/// pass takes r = value − treatment effect of the last fit, the covariate's part left in.
///
/// Caution: smoothing takes away what neighbours share; for disease the neighbours are the cause.
///
/// # Errors
/// [`Undefined`]: no more plots than treatments + 1, a treatment without plots or a value that is
/// not finite, or a covariate that does not vary within treatments.
///
/// # Panics
/// Where values, treatments and points are not equally many.
pub fn papadakis(
    weights: &Weights,
    values: &[f64],
    treatment: &[usize],
    passes: usize,
) -> Result<Vec<Papadakis>, Undefined> {
    assert_eq!(weights.len(), values.len(), "one value for each plot");
    assert_eq!(treatment.len(), values.len(), "one treatment for each plot");
    if let Some(index) = values.iter().position(|value| !value.is_finite()) {
        return Err(Undefined::NotFinite { index });
    }
    let groups = Groups::of(treatment)?;
    if values.len() < groups.size.len() + 2 {
        return Err(Undefined::TooFew { needed: groups.size.len() + 2, found: values.len() });
    }
    let means = groups.means(values);
    let mut effects = means.clone();
    let mut out = Vec::with_capacity(passes);
    for _ in 0..passes {
        let residual: Vec<f64> =
            values.iter().zip(treatment).map(|(value, &t)| value - effects[t]).collect();
        let covariate: Vec<f64> =
            (0..values.len()).map(|i| neighbour_mean(weights, i, &residual)).collect();
        let pass = groups.fit(values, &means, covariate)?;
        effects = pass
            .adjusted_means
            .iter()
            .map(|adjusted| adjusted - pass.slope * pass.mean_covariate)
            .collect();
        out.push(pass);
    }
    Ok(out)
}

fn neighbour_mean(weights: &Weights, i: usize, residual: &[f64]) -> f64 {
    let (mut sum, mut count) = (0.0, 0u32);
    for (j, weight) in weights.of(i) {
        if weight > 0.0 {
            sum += residual[j];
            count += 1;
        }
    }
    if count > 0 { sum / f64::from(count) } else { 0.0 }
}

/// Plots by treatment.
struct Groups<'a> {
    treatment: &'a [usize],
    size: Vec<f64>,
}

impl<'a> Groups<'a> {
    fn of(treatment: &'a [usize]) -> Result<Self, Undefined> {
        let mut size = vec![0.0; treatment.iter().max().map_or(0, |last| last + 1)];
        treatment.iter().for_each(|&t| size[t] += 1.0);
        if let Some(index) = size.iter().position(|&size| size < 1.0) {
            return Err(Undefined::EmptyGroup { index });
        }
        Ok(Self { treatment, size })
    }

    fn means(&self, values: &[f64]) -> Vec<f64> {
        let mut sum = vec![0.0; self.size.len()];
        values.iter().zip(self.treatment).for_each(|(value, &t)| sum[t] += value);
        sum.iter().zip(&self.size).map(|(sum, size)| sum / size).collect()
    }

    /// Least squares of values on treatment and one covariate: within treatments it is a plain
    /// regression through the origin of the centred values.
    fn fit(
        &self,
        values: &[f64],
        means: &[f64],
        covariate: Vec<f64>,
    ) -> Result<Papadakis, Undefined> {
        let centres = self.means(&covariate);
        let (mut xx, mut xy, mut yy) = (0.0, 0.0, 0.0);
        for ((value, x), &t) in values.iter().zip(&covariate).zip(self.treatment) {
            let (x, y) = (x - centres[t], value - means[t]);
            xx += x * x;
            xy += x * y;
            yy += y * y;
        }
        if xx <= 1e-20 * yy {
            return Err(Undefined::Constant);
        }
        let slope = xy / xx;
        let degrees_of_freedom = values.len() - self.size.len() - 1;
        let variance = (yy - slope * xy).max(0.0) / degrees_of_freedom as f64;
        let mean_covariate = covariate.iter().sum::<f64>() / covariate.len() as f64;
        let adjusted_means = means
            .iter()
            .zip(&centres)
            .map(|(mean, centre)| mean - slope * (centre - mean_covariate))
            .collect();
        Ok(Papadakis {
            slope,
            slope_standard_error: (variance / xx).sqrt(),
            residual_standard_deviation: variance.sqrt(),
            degrees_of_freedom,
            mean_covariate,
            adjusted_means,
            covariate,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn row(n: usize) -> Weights {
        let line: Vec<_> = (0..n).map(|i| (i as f64, 0.0)).collect();
        Weights::band(&line, 1.0)
    }

    /// A field that rises along the row, treatments in turn: the adjustment finds that they are
    /// alike, where raw means follow the field.
    #[test]
    fn takes_out_a_smooth_field() {
        let values: Vec<f64> = (0..40).map(|i| f64::from(i) * 0.5).collect();
        let treatment: Vec<usize> = (0..40).map(|i| i / 10).collect();
        let pass = &papadakis(&row(40), &values, &treatment, 3).expect("defined")[2];
        let spread = |means: &[f64]| {
            means.iter().copied().fold(f64::NEG_INFINITY, f64::max)
                - means.iter().copied().fold(f64::INFINITY, f64::min)
        };
        let raw: Vec<f64> =
            (0..4).map(|t| (0..10).map(|i| values[10 * t + i]).sum::<f64>() / 10.0).collect();
        assert!(spread(&raw) > 14.0);
        assert!(pass.slope > 0.5, "neighbours tell: {}", pass.slope);
    }

    #[test]
    fn what_is_not_defined_says_so() {
        let check = |values: &[f64], treatment: &[usize], why: Undefined| {
            assert_eq!(papadakis(&row(values.len()), values, treatment, 1), Err(why));
        };
        check(&[1.0, 2.0, 3.0], &[0, 0, 1], Undefined::TooFew { needed: 4, found: 3 });
        check(&[1.0, 2.0, 3.0, 4.0], &[0, 0, 2, 2], Undefined::EmptyGroup { index: 1 });
        check(&[1.0; 4], &[0, 0, 1, 1], Undefined::Constant);
        check(&[1.0, f64::NAN, 1.0, 1.0], &[0, 0, 1, 1], Undefined::NotFinite { index: 1 });
        assert!(
            papadakis(&row(4), &[1.0, 2.0, 3.0, 5.0], &[0, 0, 1, 1], 0).expect("none").is_empty()
        );
    }
}
