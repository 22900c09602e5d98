//! Beta-binomial regression: counts that vary more between places than chance allows.

use nalgebra::{DMatrix, DVector, SymmetricEigen};
use serde::Serialize;

use crate::logistic::{design, log_choose};
use crate::{Undefined, logistic};

/// A fitted beta-binomial regression.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BetaBinomial {
    /// Coefficients of the mean share on the scale of log odds, in the order of the columns.
    pub coefficients: Vec<f64>,
    /// Their standard errors from the observed information; none where `theta` is 0.
    pub standard_errors: Option<Vec<f64>>,
    /// Aggregation θ = 1/(α + β): 0 is binomial (Hughes & Madden 1993).
    pub theta: f64,
    /// Correlation of two units of one place, ρ = θ/(1 + θ).
    pub rho: f64,
    /// Standard error of ln θ (which is logit ρ); none where `theta` is 0.
    pub log_theta_standard_error: Option<f64>,
    /// Log-likelihood, binomial coefficients included.
    pub log_likelihood: f64,
    /// Whether the steps came to stand still.
    pub converged: bool,
}

/// Observed over binomial variance of counts out of equally many: Fisher's index of dispersion,
/// `D = s² / (n p̄ (1 − p̄))` with s² (divisor N − 1) the variance of N counts out of n and p̄ the
/// mean share. Near 1 where disease falls at random; larger where it clumps.
///
/// # Errors
/// [`Undefined`]: fewer than 2 counts, or all of them 0 or n.
pub fn dispersion_index(counts: &[f64], out_of: f64) -> Result<f64, Undefined> {
    if counts.len() < 2 {
        return Err(Undefined::TooFew { needed: 2, found: counts.len() });
    }
    let n = counts.len() as f64;
    let mean = counts.iter().sum::<f64>() / n;
    let variance = counts.iter().map(|y| (y - mean) * (y - mean)).sum::<f64>() / (n - 1.0);
    let binomial = mean * (1.0 - mean / out_of);
    if binomial > 0.0 { Ok(variance / binomial) } else { Err(Undefined::Constant) }
}

/// Maximum likelihood of `yes[i]` out of `trials[i]` with mean share μ_i, logit μ_i linear in the
/// columns of `rows[i]`, and one θ for all (Hughes & Madden 1993, *Phytopathology* 83:759):
///
/// `P(y) = C(m, y) Π_{r<y} (μ + rθ) Π_{r<m−y} (1 − μ + rθ) / Π_{r<m} (1 + rθ)`.
///
/// Newton steps on the coefficients and ln θ with the observed information, halved until they
/// climb. Where counts vary no more than binomially the maximum is θ = 0: the answer is then the
/// logistic regression.
///
/// # Errors
/// As [`logistic`]; counts and trials are whole numbers.
///
/// # Panics
/// Where lines are not equally many or not equally wide.
pub fn beta_binomial(
    rows: &[Vec<f64>],
    yes: &[f64],
    trials: &[f64],
) -> Result<BetaBinomial, Undefined> {
    let design = design(rows, yes, trials)?;
    let whole = |x: f64| x.fract() == 0.0;
    if let Some(index) = (0..yes.len()).find(|&i| !whole(yes[i]) || !whole(trials[i])) {
        return Err(Undefined::NotAShare { index });
    }
    let binomial = logistic(rows, yes, trials)?;
    let width = binomial.coefficients.len();
    let data = Data { design, yes, trials };
    let start = |log_theta: f64| {
        DVector::from_iterator(width + 1, binomial.coefficients.iter().copied().chain([log_theta]))
    };
    // ln θ from −14 on: below that the likelihood cannot be told from the binomial one.
    let begin = (0..30)
        .map(|step| start(-14.0 + 0.5 * f64::from(step)))
        .max_by(|a, b| data.log_likelihood(a).total_cmp(&data.log_likelihood(b)))
        .unwrap_or_else(|| start(-14.0));
    let (found, converged) = data.climb(begin);
    let theta = libm::exp(found[width]);
    let best = data.log_likelihood(&found);
    if theta < 1e-6 || best <= binomial.log_likelihood {
        return Ok(BetaBinomial {
            coefficients: binomial.coefficients,
            standard_errors: None,
            theta: 0.0,
            rho: 0.0,
            log_theta_standard_error: None,
            log_likelihood: binomial.log_likelihood,
            converged: binomial.converged,
        });
    }
    let (_, information) = data.slope_and_information(&found);
    let covariance = information.try_inverse().ok_or(Undefined::Singular)?;
    let standard_error = |at: usize| covariance[(at, at)].max(0.0).sqrt();
    Ok(BetaBinomial {
        coefficients: found.iter().take(width).copied().collect(),
        standard_errors: Some((0..width).map(standard_error).collect()),
        theta,
        rho: theta / (1.0 + theta),
        log_theta_standard_error: Some(standard_error(width)),
        log_likelihood: best,
        converged,
    })
}

struct Data<'a> {
    design: DMatrix<f64>,
    yes: &'a [f64],
    trials: &'a [f64],
}

impl Data<'_> {
    fn mean(&self, i: usize, parameters: &DVector<f64>) -> f64 {
        let width = parameters.len() - 1;
        let eta: f64 = (0..width).map(|at| self.design[(i, at)] * parameters[at]).sum();
        1.0 / (1.0 + libm::exp(-eta))
    }

    fn log_likelihood(&self, parameters: &DVector<f64>) -> f64 {
        let theta = libm::exp(parameters[parameters.len() - 1]);
        let product = |count: f64, base: f64| {
            (0..count as u32).map(|r| libm::log(base + f64::from(r) * theta)).sum::<f64>()
        };
        (0..self.yes.len())
            .map(|i| {
                let (y, m, share) = (self.yes[i], self.trials[i], self.mean(i, parameters));
                log_choose(m, y) + product(y, share) + product(m - y, 1.0 - share) - product(m, 1.0)
            })
            .sum()
    }

    /// First derivatives, and minus the second ones, by coefficients and ln θ.
    fn slope_and_information(&self, parameters: &DVector<f64>) -> (DVector<f64>, DMatrix<f64>) {
        let width = parameters.len() - 1;
        let theta = libm::exp(parameters[width]);
        let mut slope = DVector::zeros(width + 1);
        let mut information = DMatrix::zeros(width + 1, width + 1);
        for i in 0..self.yes.len() {
            let (y, m, share) = (self.yes[i], self.trials[i], self.mean(i, parameters));
            let (won, lost, all) = (
                Part::of(y, share, theta),
                Part::of(m - y, 1.0 - share, theta),
                Part::of(m, 1.0, theta),
            );
            // By μ and θ.
            let by_share = won.base - lost.base;
            let by_theta = won.theta + lost.theta - all.theta;
            let share_share = won.base_base + lost.base_base;
            let share_theta = won.base_theta - lost.base_theta;
            let theta_theta = won.theta_theta + lost.theta_theta - all.theta_theta;
            // By η = logit μ and τ = ln θ.
            let bend = share * (1.0 - share);
            let eta_eta = share_share * bend * bend + by_share * bend * (1.0 - 2.0 * share);
            let eta_tau = share_theta * bend * theta;
            let tau_tau = theta_theta * theta * theta + by_theta * theta;
            slope[width] += by_theta * theta;
            information[(width, width)] -= tau_tau;
            for a in 0..width {
                let x = self.design[(i, a)];
                slope[a] += by_share * bend * x;
                information[(a, width)] -= eta_tau * x;
                information[(width, a)] -= eta_tau * x;
                for b in 0..width {
                    information[(a, b)] -= eta_eta * x * self.design[(i, b)];
                }
            }
        }
        (slope, information)
    }

    /// Newton's way to the top.
    fn climb(&self, mut at: DVector<f64>) -> (DVector<f64>, bool) {
        let mut height = self.log_likelihood(&at);
        for _ in 0..200 {
            let (slope, information) = self.slope_and_information(&at);
            let mut step = uphill(&slope, &information);
            let mut moved = false;
            for _ in 0..40 {
                let next = &at + &step;
                let reached = self.log_likelihood(&next);
                if reached.is_finite() && reached >= height {
                    moved = reached > height;
                    (at, height) = (next, reached);
                    break;
                }
                step *= 0.5;
            }
            if at[at.len() - 1] < -20.0 {
                return (at, true);
            }
            if !moved || step.amax() < 1e-11 {
                return (at, slope.amax() < 1e-5 * (1.0 + height.abs()));
            }
        }
        (at, false)
    }
}

/// The Newton step, with directions of wrong curvature turned round.
fn uphill(slope: &DVector<f64>, information: &DMatrix<f64>) -> DVector<f64> {
    let eigen = SymmetricEigen::new(information.clone());
    let mut turned = eigen.eigenvectors.transpose() * slope;
    for (part, value) in turned.iter_mut().zip(&eigen.eigenvalues) {
        *part /= value.abs().max(1e-8);
    }
    let mut step = &eigen.eigenvectors * turned;
    let longest = step.amax();
    if longest > 2.0 {
        step *= 2.0 / longest;
    }
    step
}

/// Derivatives of `Σ_{r < count} ln(base + rθ)`.
#[derive(Default)]
struct Part {
    base: f64,
    theta: f64,
    base_base: f64,
    base_theta: f64,
    theta_theta: f64,
}

impl Part {
    fn of(count: f64, base: f64, theta: f64) -> Self {
        let mut part = Self::default();
        for r in 0..count as u32 {
            let r = f64::from(r);
            let inverse = 1.0 / (base + r * theta);
            part.base += inverse;
            part.theta += r * inverse;
            part.base_base -= inverse * inverse;
            part.base_theta -= r * inverse * inverse;
            part.theta_theta -= r * r * inverse * inverse;
        }
        part
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Counts more even than chance: the likelihood is highest at θ = 0.
    #[test]
    fn even_counts_are_binomial() {
        let rows = vec![vec![1.0]; 8];
        let yes = [2.0, 2.0, 2.0, 3.0, 2.0, 2.0, 3.0, 2.0];
        let found = beta_binomial(&rows, &yes, &[5.0; 8]).expect("fitted");
        assert_eq!((found.theta, found.rho, found.standard_errors), (0.0, 0.0, None));
        assert!(found.converged);
        assert!(dispersion_index(&yes, 5.0).expect("defined") < 1.0);
    }

    /// No other θ near by gives a higher likelihood, and the slope vanishes by difference too.
    #[test]
    fn stands_on_the_top() {
        let rows: Vec<_> = (0..12).map(|i| vec![1.0, f64::from(i % 3)]).collect();
        let yes = [0.0, 4.0, 1.0, 5.0, 0.0, 5.0, 2.0, 0.0, 5.0, 1.0, 4.0, 5.0];
        let trials = [5.0; 12];
        let found = beta_binomial(&rows, &yes, &trials).expect("fitted");
        assert!(found.converged && found.theta > 0.1, "{found:?}");
        let data = Data {
            design: design(&rows, &yes, &trials).expect("good"),
            yes: &yes,
            trials: &trials,
        };
        let top =
            DVector::from_iterator(3, found.coefficients.iter().copied().chain([found.theta.ln()]));
        let height = data.log_likelihood(&top);
        assert!((height - found.log_likelihood).abs() < 1e-10);
        for at in 0..3 {
            for step in [1e-3, -1e-3] {
                let mut beside = top.clone();
                beside[at] += step;
                assert!(data.log_likelihood(&beside) < height);
            }
        }
    }

    /// Slope and information are the differences of the likelihood, also off the top.
    #[test]
    fn the_information_is_the_bend_of_the_likelihood() {
        let rows: Vec<_> = (0..6).map(|i| vec![1.0, f64::from(i) - 2.0]).collect();
        let (yes, trials) = ([0.0, 4.0, 1.0, 5.0, 2.0, 6.0], [5.0, 4.0, 3.0, 5.0, 7.0, 6.0]);
        let data = Data {
            design: design(&rows, &yes, &trials).expect("good"),
            yes: &yes,
            trials: &trials,
        };
        let at = DVector::from_vec(vec![0.3, 0.2, -0.7]);
        let (slope, information) = data.slope_and_information(&at);
        let height = |moves: &[(usize, f64)]| {
            let mut there = at.clone();
            moves.iter().for_each(|&(nth, by)| there[nth] += by);
            data.log_likelihood(&there)
        };
        let h = 1e-4;
        for a in 0..3 {
            let rise = (height(&[(a, h)]) - height(&[(a, -h)])) / (2.0 * h);
            assert!((slope[a] - rise).abs() < 1e-5, "{a}: {} and {rise}", slope[a]);
            for b in 0..3 {
                let bend = height(&[(a, h), (b, h)]) + height(&[(a, -h), (b, -h)])
                    - height(&[(a, h), (b, -h)])
                    - height(&[(a, -h), (b, h)]);
                let bend = -bend / (4.0 * h * h);
                let said = information[(a, b)];
                assert!((said - bend).abs() < 1e-4, "{a} {b}: {said} and {bend}");
            }
        }
    }

    #[test]
    fn what_is_not_defined_says_so() {
        // 0, 2 and 4 of 4: variance 4, binomial variance 2 (1 − 2/4) = 1 (by hand).
        assert_eq!(dispersion_index(&[0.0, 2.0, 4.0], 4.0), Ok(4.0));
        let half = beta_binomial(&[vec![1.0]], &[0.5], &[2.0]);
        assert_eq!(half, Err(Undefined::NotAShare { index: 0 }));
        assert_eq!(dispersion_index(&[0.0, 0.0], 4.0), Err(Undefined::Constant));
        assert_eq!(dispersion_index(&[1.0], 4.0), Err(Undefined::TooFew { needed: 2, found: 1 }));
    }
}
