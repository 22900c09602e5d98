//! Logistic regression of yes-or-no values or of counts of yes, also on the neighbours' values.

use nalgebra::{Cholesky, DMatrix, DVector, Dyn};
use serde::Serialize;

use crate::{Test, Undefined, Weights};

/// A fitted logistic regression.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Logistic {
    /// Coefficients on the scale of log odds, in the order of the columns.
    pub coefficients: Vec<f64>,
    /// Their standard errors from the expected information.
    pub standard_errors: Vec<f64>,
    /// Their standard errors from the sandwich `A⁻¹ (Σ s s') A⁻¹` of the scores s: they do not rest
    /// on the variance that the model claims (HC0; White 1980).
    pub robust_standard_errors: Vec<f64>,
    /// Tests of the coefficients against 0, with the first standard errors.
    pub tests: Vec<Test>,
    /// Deviance of the fit.
    pub deviance: f64,
    /// Deviance of a single common share.
    pub null_deviance: f64,
    /// Log-likelihood, binomial coefficients included.
    pub log_likelihood: f64,
    /// Fitted share of yes for each line.
    pub fitted: Vec<f64>,
    /// Whether the steps came to stand still. Where some columns separate yes from no, they never
    /// do: coefficients run away and mean nothing.
    pub converged: bool,
}

/// How neighbours' values enter an autologistic regression.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Neighbouring {
    /// Σ_j w_ij y_j: neighbours that do not exist count 0.
    Sum,
    /// The same divided by Σ_j w_ij; 0 for an island.
    Mean,
    /// Σ_j w_ij (y_j − μ_j), μ from the regression without neighbours: one step of centring (not
    /// the joint fit of Caragea & Kaiser 2009).
    Centred,
}

/// Logistic regression: `yes[i]` of `trials[i]` on the columns of `rows[i]` (write the constant
/// column yourself), by iteratively reweighted least squares (McCullagh & Nelder 1989, section
/// 4.4) until the deviance changes by less than 1 part in 10¹².
///
/// # Errors
/// [`Undefined`]: no line, a number that is not finite (index of the line), more yes than trials
/// or no trial, or columns that depend on one another.
///
/// # Panics
/// Where lines are not equally many or not equally wide.
pub fn logistic(rows: &[Vec<f64>], yes: &[f64], trials: &[f64]) -> Result<Logistic, Undefined> {
    let design = design(rows, yes, trials)?;
    let (n, width) = design.shape();
    let mut beta = DVector::zeros(width);
    let mut fitted: Vec<f64> =
        yes.iter().zip(trials).map(|(yes, trials)| (yes + 0.5) / (trials + 1.0)).collect();
    let mut eta: Vec<f64> = fitted.iter().map(|&share| logit(share)).collect();
    let mut deviance = f64::INFINITY;
    let mut converged = false;
    for _ in 0..100 {
        let weights: Vec<f64> =
            fitted.iter().zip(trials).map(|(share, m)| m * share * (1.0 - share)).collect();
        let information = weighted(&design, &weights)?;
        let right = DVector::from_fn(width, |column, _| {
            (0..n)
                .map(|i| {
                    let score = yes[i] - trials[i] * fitted[i];
                    design[(i, column)] * (weights[i] * eta[i] + score)
                })
                .sum()
        });
        beta = information.solve(&right);
        let predicted = &design * &beta;
        eta = predicted.iter().map(|eta| eta.clamp(-35.0, 35.0)).collect();
        fitted = eta.iter().map(|&eta| 1.0 / (1.0 + libm::exp(-eta))).collect();
        let before = deviance;
        deviance = binomial_deviance(yes, trials, &fitted);
        let runaway = predicted.iter().any(|eta| eta.abs() > 30.0);
        if (before - deviance).abs() <= 1e-12 * (deviance.abs() + 0.1) {
            converged = !runaway;
            break;
        }
    }
    finish(&design, yes, trials, beta, fitted, deviance, converged)
}

/// Autologistic regression by pseudo-likelihood (Besag 1972, 1974, *Journal of the Royal
/// Statistical Society* B 36:192): logistic regression of `yes` on the columns of `rows` (constant
/// column included) and, for each of `around`, on the neighbours' values under those weights, such
/// as one along the row and one across. Only the lines in `used` enter the fit, while neighbours
/// come from all, so that a border can be left out. Coefficients: first those of `rows`, then one
/// for each of `around`.
///
/// The estimates are consistent; the plain standard errors are too small, because a neighbour is
/// counted as if it had been fixed beforehand.
///
/// # Errors
/// As [`logistic`], indices counting within `used`.
///
/// # Panics
/// Where lines, weights and values are not equally many, or `used` names a line that is not there.
pub fn autologistic(
    rows: &[Vec<f64>],
    yes: &[bool],
    around: &[&Weights],
    neighbouring: Neighbouring,
    used: &[usize],
) -> Result<Logistic, Undefined> {
    assert_eq!(rows.len(), yes.len(), "one line for each point");
    let mark: Vec<f64> = yes.iter().map(|&yes| f64::from(u8::from(yes))).collect();
    let picked_yes: Vec<f64> = used.iter().map(|&i| mark[i]).collect();
    let trials = vec![1.0; used.len()];
    let mut values = mark;
    if neighbouring == Neighbouring::Centred {
        let alone = logistic(rows, &values, &vec![1.0; rows.len()])?;
        values.iter_mut().zip(&alone.fitted).for_each(|(value, share)| *value -= share);
    }
    let lines: Vec<Vec<f64>> = used
        .iter()
        .map(|&i| {
            let mut line = rows[i].clone();
            line.extend(around.iter().map(|weights| {
                assert_eq!(weights.len(), yes.len(), "weights of all points");
                let total: f64 = weights.of(i).map(|(_, weight)| weight).sum();
                match neighbouring {
                    Neighbouring::Mean if total > 0.0 => weights.lag(i, &values) / total,
                    Neighbouring::Mean => 0.0,
                    _ => weights.lag(i, &values),
                }
            }));
            line
        })
        .collect();
    logistic(&lines, &picked_yes, &trials)
}

fn finish(
    design: &DMatrix<f64>,
    yes: &[f64],
    trials: &[f64],
    beta: DVector<f64>,
    fitted: Vec<f64>,
    deviance: f64,
    converged: bool,
) -> Result<Logistic, Undefined> {
    let (n, width) = design.shape();
    let weights: Vec<f64> =
        fitted.iter().zip(trials).map(|(share, m)| m * share * (1.0 - share)).collect();
    let bread = weighted(design, &weights)?.inverse();
    let squares: Vec<f64> = (0..n)
        .map(|i| (yes[i] - trials[i] * fitted[i]) * (yes[i] - trials[i] * fitted[i]))
        .collect();
    let sandwich = &bread * cross(design, &squares) * &bread;
    let standard_errors: Vec<f64> = (0..width).map(|at| bread[(at, at)].sqrt()).collect();
    let share = yes.iter().sum::<f64>() / trials.iter().sum::<f64>();
    Ok(Logistic {
        tests: beta.iter().zip(&standard_errors).map(|(b, se)| Test { z: b / se }).collect(),
        coefficients: beta.iter().copied().collect(),
        robust_standard_errors: (0..width).map(|at| sandwich[(at, at)].sqrt()).collect(),
        standard_errors,
        deviance,
        null_deviance: binomial_deviance(yes, trials, &vec![share; n]),
        log_likelihood: (0..n).map(|i| log_binomial(yes[i], trials[i], fitted[i])).sum(),
        fitted,
        converged,
    })
}

/// The design matrix, everything checked.
pub(crate) fn design(
    rows: &[Vec<f64>],
    yes: &[f64],
    trials: &[f64],
) -> Result<DMatrix<f64>, Undefined> {
    assert!(rows.len() == yes.len() && yes.len() == trials.len(), "equally many lines");
    let width = rows.first().ok_or(Undefined::TooFew { needed: 1, found: 0 })?.len();
    for (index, ((row, &yes), &trials)) in rows.iter().zip(yes).zip(trials).enumerate() {
        assert_eq!(row.len(), width, "equally wide lines");
        if !(row.iter().all(|x| x.is_finite()) && yes.is_finite() && trials.is_finite()) {
            return Err(Undefined::NotFinite { index });
        }
        if trials <= 0.0 || yes < 0.0 || yes > trials {
            return Err(Undefined::NotAShare { index });
        }
    }
    Ok(DMatrix::from_fn(rows.len(), width, |row, column| rows[row][column]))
}

/// X' diag(w) X.
fn cross(design: &DMatrix<f64>, weights: &[f64]) -> DMatrix<f64> {
    let mut scaled = design.clone();
    for (mut row, weight) in scaled.row_iter_mut().zip(weights) {
        row *= *weight;
    }
    design.transpose() * scaled
}

/// X' diag(w) X, decomposed; refused where a column is all but a sum of others.
fn weighted(design: &DMatrix<f64>, weights: &[f64]) -> Result<Cholesky<f64, Dyn>, Undefined> {
    let matrix = cross(design, weights);
    let diagonal: Vec<f64> = matrix.diagonal().iter().copied().collect();
    let decomposed = Cholesky::new(matrix).ok_or(Undefined::Singular)?;
    let dependent = diagonal.iter().enumerate().any(|(at, &whole)| {
        let left = decomposed.l_dirty()[(at, at)];
        left * left <= 1e-12 * whole
    });
    if dependent { Err(Undefined::Singular) } else { Ok(decomposed) }
}

fn logit(share: f64) -> f64 {
    libm::log(share / (1.0 - share))
}

/// 2 Σ (log-likelihood of the observed share − that of the fitted one).
fn binomial_deviance(yes: &[f64], trials: &[f64], fitted: &[f64]) -> f64 {
    let part = |count: f64, expected: f64| {
        if count > 0.0 { count * libm::log(count / expected) } else { 0.0 }
    };
    (0..yes.len())
        .map(|i| {
            let (y, m, share) = (yes[i], trials[i], fitted[i]);
            2.0 * (part(y, m * share) + part(m - y, m * (1.0 - share)))
        })
        .sum()
}

fn log_binomial(y: f64, m: f64, share: f64) -> f64 {
    let part = |count: f64, p: f64| if count > 0.0 { count * libm::log(p) } else { 0.0 };
    log_choose(m, y) + part(y, share) + part(m - y, 1.0 - share)
}

/// ln C(m, y).
pub(crate) fn log_choose(m: f64, y: f64) -> f64 {
    libm::lgamma(m + 1.0) - libm::lgamma(y + 1.0) - libm::lgamma(m - y + 1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ways_to_choose_are_counted() {
        for (m, y, ways) in [(5.0, 2.0, 10.0_f64), (5.0, 0.0, 1.0), (9.0, 6.0, 84.0)] {
            assert!((log_choose(m, y) - ways.ln()).abs() < 1e-12, "{y} of {m}");
        }
    }

    /// A single yes-or-no column: coefficients are log odds and their difference (by hand).
    #[test]
    fn two_groups() {
        let rows = vec![vec![1.0, 0.0], vec![1.0, 1.0]];
        let found = logistic(&rows, &[3.0, 8.0], &[12.0, 10.0]).expect("fitted");
        assert!(found.converged);
        assert!((found.coefficients[0] - (3.0f64 / 9.0).ln()).abs() < 1e-12);
        assert!((found.coefficients[1] - (4.0f64.ln() - (1.0f64 / 3.0).ln())).abs() < 1e-12);
        let variance: f64 = 1.0 / 3.0 + 1.0 / 9.0 + 1.0 / 8.0 + 1.0 / 2.0;
        assert!((found.standard_errors[1] - variance.sqrt()).abs() < 1e-12);
        assert!(found.deviance.abs() < 1e-12, "saturated");
    }

    #[test]
    fn separation_does_not_converge() {
        let rows: Vec<_> = (0..10).map(|i| vec![1.0, f64::from(i)]).collect();
        let yes: Vec<_> = (0..10).map(|i| f64::from(u8::from(i > 4))).collect();
        match logistic(&rows, &yes, &[1.0; 10]) {
            Ok(found) => assert!(!found.converged, "{found:?}"),
            Err(why) => assert_eq!(why, Undefined::Singular),
        }
    }

    #[test]
    fn what_is_not_defined_says_so() {
        let check = |rows: &[Vec<f64>], yes: &[f64], trials: &[f64], why: Undefined| {
            assert_eq!(logistic(rows, yes, trials), Err(why));
        };
        check(&[], &[], &[], Undefined::TooFew { needed: 1, found: 0 });
        let line = || vec![1.0];
        check(&[line()], &[2.0], &[1.0], Undefined::NotAShare { index: 0 });
        check(&[line(), line()], &[0.0, 0.0], &[1.0, 0.0], Undefined::NotAShare { index: 1 });
        check(&[vec![f64::NAN]], &[0.0], &[1.0], Undefined::NotFinite { index: 0 });
        let twin = || vec![1.0, 1.0];
        check(&[twin(), twin(), twin()], &[0.0, 1.0, 1.0], &[1.0; 3], Undefined::Singular);
    }

    /// The mean over no neighbour is 0, not a division by 0.
    #[test]
    fn an_island_has_no_neighbours() {
        let weights = Weights::from_pairs(6, &[(0, 1, 1.0), (1, 0, 1.0), (2, 3, 1.0), (3, 4, 1.0)])
            .expect("good pairs");
        let yes = [true, false, true, false, true, false];
        let rows = vec![vec![1.0]; 6];
        for neighbouring in [Neighbouring::Sum, Neighbouring::Mean, Neighbouring::Centred] {
            let found = autologistic(&rows, &yes, &[&weights], neighbouring, &[0, 1, 2, 3, 4, 5])
                .expect("fitted");
            assert!(found.coefficients.iter().all(|b| b.is_finite()));
        }
    }
}
