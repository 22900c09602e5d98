//! Disease progress: the area under its curve, and under its stairs.

/// An area that its readings do not define. Nothing is ever answered with NaN instead.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Undefined {
    /// Fewer readings than an area needs.
    #[error("needs at least 2 readings; there are {found}")]
    TooFew {
        /// How many there are.
        found: usize,
    },
    /// A time or severity is infinite or not a number.
    #[error("reading {index} is not a finite number")]
    NotFinite {
        /// Index of the reading.
        index: usize,
    },
    /// Two readings in a row are not one after the other.
    #[error("the times do not rise from reading to reading")]
    TimeDoesNotRise,
}

/// Area under the disease progress curve: `Σ ½ (y_i + y_{i+1}) (t_{i+1} − t_i)` (Shaner & Finney
/// 1977, *Phytopathology* 67:1051), in units of `severity` × units of `time`.
///
/// # Errors
/// [`Undefined`]: fewer than 2 readings, one that is not finite (index of the reading), or times
/// that do not rise.
///
/// # Panics
/// Where there are not as many severities as times.
pub fn audpc(time: &[f64], severity: &[f64]) -> Result<f64, Undefined> {
    checked(time, severity)?;
    Ok(time
        .windows(2)
        .zip(severity.windows(2))
        .map(|(t, y)| 0.5 * (y[0] + y[1]) * (t[1] - t[0]))
        .sum())
}

/// Area under the disease progress stairs: `AUDPC + ½ (y_1 + y_n) D/(n − 1)`, D the time from first
/// to last of n readings (Simko & Piepho 2012, *Phytopathology* 102:381). First and last reading
/// count as much as the others.
///
/// # Errors
/// As [`audpc`].
///
/// # Panics
/// Where there are not as many severities as times.
pub fn audps(time: &[f64], severity: &[f64]) -> Result<f64, Undefined> {
    let area = audpc(time, severity)?;
    let last = time.len() - 1;
    let step = (time[last] - time[0]) / last as f64;
    Ok(area + 0.5 * (severity[0] + severity[last]) * step)
}

fn checked(time: &[f64], severity: &[f64]) -> Result<(), Undefined> {
    assert_eq!(time.len(), severity.len(), "one severity for each time");
    if time.len() < 2 {
        return Err(Undefined::TooFew { found: time.len() });
    }
    let finite = |at: &usize| !(time[*at].is_finite() && severity[*at].is_finite());
    if let Some(index) = (0..time.len()).find(finite) {
        return Err(Undefined::NotFinite { index });
    }
    if time.windows(2).any(|pair| pair[1] <= pair[0]) {
        return Err(Undefined::TimeDoesNotRise);
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn worked_examples() {
        // Data of the American Phytopathological Society's teaching page on AUDPC.
        assert_eq!(audpc(&[0.0, 2.0, 5.0, 6.0], &[1.0, 2.0, 7.0, 7.5]), Ok(23.75));
        // Computed by hand; AUDPS after Simko & Piepho 2012 (Phytopathology 102:381–389).
        let (time, severity) = ([0.0, 14.0, 28.0, 42.0], [2.0, 10.0, 30.0, 50.0]);
        assert_eq!(audpc(&time, &severity), Ok(924.0));
        assert_eq!(audps(&time, &severity), Ok(1288.0));
    }

    #[test]
    fn what_is_not_defined_says_so() {
        assert_eq!(audpc(&[1.0], &[1.0]), Err(Undefined::TooFew { found: 1 }));
        assert_eq!(audps(&[1.0, 1.0], &[1.0, 2.0]), Err(Undefined::TimeDoesNotRise));
        let unknown = audpc(&[1.0, 2.0], &[1.0, f64::NAN]);
        assert_eq!(unknown, Err(Undefined::NotFinite { index: 1 }));
    }
    /// Times that rise, and a severity for each.
    fn curve() -> impl Strategy<Value = (Vec<f64>, Vec<f64>)> {
        proptest::collection::vec((0.5..30.0_f64, 0.0..1.0_f64), 2..12).prop_map(|steps| {
            let mut time = 0.0;
            steps
                .into_iter()
                .map(|(step, severity)| {
                    time += step;
                    (time, severity)
                })
                .unzip()
        })
    }

    fn near(found: f64, expected: f64) -> bool {
        (found - expected).abs() <= 1e-9 * expected.abs().max(1.0)
    }

    proptest! {
        #[test]
        fn the_area_of_a_constant_is_constant_times_days((time, _) in curve(), level in 0.0..1.0_f64) {
            let severity = vec![level; time.len()];
            let (last, days) = (time.len() - 1, time[time.len() - 1] - time[0]);
            let area = audpc(&time, &severity).expect("defined");
            prop_assert!(near(area, level * days));
            // Stairs add half a step at either end.
            let stairs = audps(&time, &severity).expect("defined");
            prop_assert!(near(stairs, level * days * (1.0 + 1.0 / last as f64)));
        }

        #[test]
        fn a_reading_on_the_curve_changes_nothing((mut time, mut severity) in curve()) {
            let area = audpc(&time, &severity).expect("defined");
            time.insert(1, (time[0] + time[1]) / 2.0);
            severity.insert(1, (severity[0] + severity[1]) / 2.0);
            prop_assert!(near(audpc(&time, &severity).expect("defined"), area));
        }
    }
}
