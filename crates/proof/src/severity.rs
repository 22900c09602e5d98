//! How much disease a typical susceptible tree shows at a given dose: a rising step function
//! fitted to the plot.
//!
//! Weighted isotonic regression by pooling adjacent violators (Barlow, Bartholomew, Bremner &
//! Brunk 1972, *Statistical inference under order restrictions*; reference from memory): of all
//! functions that never fall with dose, the one nearest in weighted squares. It assumes nothing
//! else of the shape.

/// A severity that never falls with dose.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct SeverityByDose {
    /// Highest dose of each step, rising.
    doses: Vec<f64>,
    /// Severity of each step, 0 to 1, rising.
    severities: Vec<f64>,
}

impl SeverityByDose {
    /// From `(dose, severity, weight)` of each tree; none without any weight.
    pub(crate) fn fit(mut points: Vec<(f64, f64, f64)>) -> Option<Self> {
        points.retain(|(_, _, weight)| *weight > 0.0);
        points.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
        // Steps as (highest dose, weighted sum of severities, weight).
        let mut steps: Vec<(f64, f64, f64)> = Vec::new();
        for (dose, severity, weight) in points {
            let mut step = (dose, severity * weight, weight);
            while let Some(&(dose_before, sum, weight)) = steps.last() {
                let falls = sum / weight >= step.1 / step.2;
                if !falls && dose_before < dose {
                    break;
                }
                step = (dose, step.1 + sum, step.2 + weight);
                steps.pop();
            }
            steps.push(step);
        }
        let curve = Self {
            doses: steps.iter().map(|step| step.0).collect(),
            severities: steps.iter().map(|step| step.1 / step.2).collect(),
        };
        (!curve.doses.is_empty()).then_some(curve)
    }

    /// The severity expected at a dose; beyond the doses seen, that of the nearest.
    pub(crate) fn at(&self, dose: f64) -> f64 {
        let step = self.doses.partition_point(|highest| *highest < dose);
        self.severities[step.min(self.severities.len() - 1)]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pools_what_falls() {
        // By hand: 0.4 and 0.2 pool to 0.3; 0.3, 0.3 and the tie at dose 3 stay in order.
        let points = vec![(1.0, 0.1, 1.0), (2.0, 0.4, 1.0), (3.0, 0.2, 1.0), (4.0, 0.8, 2.0)];
        let curve = SeverityByDose::fit(points).expect("a curve");
        assert_eq!(curve.doses, [1.0, 3.0, 4.0]);
        for (at, expected) in [(0.5, 0.1), (1.0, 0.1), (1.5, 0.3), (3.0, 0.3), (9.0, 0.8)] {
            assert!((curve.at(at) - expected).abs() < 1e-12, "{at}");
        }
    }

    #[test]
    fn weighs_trees_at_the_same_dose_together() {
        let curve = SeverityByDose::fit(vec![(1.0, 0.0, 3.0), (1.0, 0.4, 1.0)]).expect("a curve");
        assert!((curve.at(1.0) - 0.1).abs() < 1e-12);
        assert_eq!(SeverityByDose::fit(vec![(1.0, 0.5, 0.0)]), None);
    }
}
