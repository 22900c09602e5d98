//! Where a plan lies on the globe: a plane of the plot fitted to positions of a receiver, so that a
//! few bad ones do not move it.
//!
//! A similarity (Helmert) transformation `E = e + a·x − b·y`, `N = n + b·x + a·y` takes the plot's
//! plane to a local east-north plane. It is linear in its four parameters, which are estimated by
//! Huber's M-estimator (Huber 1964, Ann. Math. Statist. 35:73–101) with tuning constant 1.345,
//! iteratively reweighted least squares from a least-squares start (Holland & Welsch 1977, Commun.
//! Statist. A 6:813–827), and as scale the median absolute residual over 0.6745, taken anew in each
//! step. East and north residuals are weighted each by itself. These are the choices of
//! `statsmodels.RLM`, which the tests take numbers from.

use std::fmt;

use language::say;

use super::{Globe, Origin};
use crate::Spot;

/// Huber's tuning constant: 95 % efficiency for normal errors.
const TUNING: f64 = 1.345;
/// The 75 % quantile of the normal distribution.
const MEDIAN_OF_NORMAL: f64 = 0.674_489_750_196_081_7;
const MOST_STEPS: usize = 500;
/// A step smaller than this, in metres over the whole plan, is none.
const STILL_M: f64 = 1e-10;
/// Residuals beyond so many standard deviations are suspicious: the bound of Iglewicz & Hoaglin
/// (1993, How to Detect and Handle Outliers, ASQC) for scores by the median absolute
/// deviation over 0.6745.
const SUSPICIOUS: f64 = 3.5;
/// Residuals below this never are: no receiver tells a centimetre.
const BELIEVED_M: f64 = 0.02;

/// A plane fitted to positions.
#[derive(Clone, Debug, PartialEq)]
pub struct OriginFit {
    /// Where the plot's (0, 0) lies, and which way its rows run.
    pub origin: Origin,
    /// How far things are on the ground over how far they are in the plan; 1 where the spacings
    /// are right. The origin does not use it.
    pub stretch: f64,
    /// Standard deviation of a residual, east or north, metres: of what is not suspicious.
    pub sigma_m: f64,
    /// By point: how far it was measured from where the plan has it, along the row and across.
    pub residuals: Vec<Spot>,
    /// By point: whether it lies farther off than 3.5 standard deviations in one direction.
    pub suspicious: Vec<bool>,
    /// Whether the steps came to a stand.
    pub converged: bool,
}

/// Why nothing can be fitted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoFit {
    /// Fewer than three points.
    TooFew,
    /// All points stand in one spot of the plan, or were measured in one.
    OneSpot,
}

impl std::error::Error for NoFit {}

impl fmt::Display for NoFit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::TooFew => say!("fewer than three points"),
            Self::OneSpot => say!("all points in one spot"),
        })
    }
}

/// Fits where the plot's plane lies to points of it and where these were measured, whose order does
/// not matter.
///
/// # Errors
/// Fewer than three points; all in one spot.
pub fn fit_origin(points: &[(Spot, Globe)]) -> Result<OriginFit, NoFit> {
    let (_, first) = points.first().filter(|_| points.len() >= 3).ok_or(NoFit::TooFew)?;
    let plan: Vec<Spot> = points.iter().map(|(spot, _)| *spot).collect();
    // North is another way at another point: the plane is laid once more at the origin found.
    let near = placed(&plan, points, *first)?.origin;
    let Placed { origin, fit, residuals, converged } =
        placed(&plan, points, Globe { lon: near.lon, lat: near.lat })?;
    let sigma_m = scale(&residuals);
    let stretch = fit.stretch();
    // What is off along the row and across: the residual turned into the plot's plane.
    let turned = |off: Spot| Spot {
        x_m: (fit.a * off.x_m + fit.b * off.y_m) / stretch,
        y_m: (fit.a * off.y_m - fit.b * off.x_m) / stretch,
    };
    let residuals: Vec<Spot> = residuals.into_iter().map(turned).collect();
    let limit = (SUSPICIOUS * sigma_m).max(BELIEVED_M);
    let suspicious =
        residuals.iter().map(|off| off.x_m.abs() > limit || off.y_m.abs() > limit).collect();
    Ok(OriginFit { origin, stretch, sigma_m, residuals, suspicious, converged })
}

/// A fit in the plane that touches the globe at one point.
struct Placed {
    origin: Origin,
    fit: Similarity,
    /// East and north.
    residuals: Vec<Spot>,
    converged: bool,
}

fn placed(plan: &[Spot], points: &[(Spot, Globe)], at: Globe) -> Result<Placed, NoFit> {
    // Rows that run east have x east and y north.
    let plane = Origin { lon: at.lon, lat: at.lat, row_bearing_deg: 90.0 };
    let seen: Vec<Spot> = points.iter().map(|(_, globe)| plane.plot_from_globe(*globe)).collect();
    let (fit, converged) = huber(plan, &seen)?;
    if fit.stretch() <= 0.0 || fit.stretch().is_nan() {
        return Err(NoFit::OneSpot);
    }
    let residuals = plan.iter().zip(&seen).map(|(plan, seen)| fit.residual(*plan, *seen)).collect();
    let Globe { lon, lat } = plane.globe_from_plot(Spot { x_m: fit.e, y_m: fit.n });
    let row_bearing_deg = (90.0 - libm::atan2(fit.b, fit.a).to_degrees()).rem_euclid(360.0);
    Ok(Placed { origin: Origin { lon, lat, row_bearing_deg }, fit, residuals, converged })
}

/// The four parameters.
#[derive(Clone, Copy, Debug)]
struct Similarity {
    e: f64,
    n: f64,
    a: f64,
    b: f64,
}

impl Similarity {
    fn stretch(self) -> f64 {
        (self.a * self.a + self.b * self.b).sqrt()
    }

    /// East and north of what was seen, less those of the plan.
    fn residual(self, plan: Spot, seen: Spot) -> Spot {
        Spot {
            x_m: seen.x_m - (self.e + self.a * plan.x_m - self.b * plan.y_m),
            y_m: seen.y_m - (self.n + self.b * plan.x_m + self.a * plan.y_m),
        }
    }
}

fn huber(plan: &[Spot], seen: &[Spot]) -> Result<(Similarity, bool), NoFit> {
    let reach = plan.iter().map(|spot| spot.x_m.abs() + spot.y_m.abs()).fold(1.0, f64::max);
    let mut weights = vec![(1.0, 1.0); plan.len()];
    let mut fit = least_squares(plan, seen, &weights)?;
    for _ in 0..MOST_STEPS {
        let residuals: Vec<Spot> =
            plan.iter().zip(seen).map(|(plan, seen)| fit.residual(*plan, *seen)).collect();
        let limit_m = TUNING * scale(&residuals);
        if limit_m <= f64::EPSILON * reach {
            // More than half of the points fit to the last digit.
            return Ok((fit, true));
        }
        let weight = |off: f64| if off.abs() <= limit_m { 1.0 } else { limit_m / off.abs() };
        weights = residuals.iter().map(|off| (weight(off.x_m), weight(off.y_m))).collect();
        let next = least_squares(plan, seen, &weights)?;
        let moved = (next.e - fit.e).abs()
            + (next.n - fit.n).abs()
            + reach * ((next.a - fit.a).abs() + (next.b - fit.b).abs());
        fit = next;
        if moved < STILL_M {
            return Ok((fit, true));
        }
    }
    Ok((fit, false))
}

/// The median absolute residual as a standard deviation of normal errors.
fn scale(residuals: &[Spot]) -> f64 {
    let mut sizes: Vec<f64> =
        residuals.iter().flat_map(|off| [off.x_m.abs(), off.y_m.abs()]).collect();
    sizes.sort_unstable_by(f64::total_cmp);
    let middle = sizes.len() / 2;
    (sizes[middle - 1] + sizes[middle]) / 2.0 / MEDIAN_OF_NORMAL
}

/// Weighted least squares: the normal equations of the four parameters, around the means of the plan.
fn least_squares(
    plan: &[Spot],
    seen: &[Spot],
    weights: &[(f64, f64)],
) -> Result<Similarity, NoFit> {
    let count = plan.len() as f64;
    let mean = |of: fn(&Spot) -> f64| plan.iter().map(of).sum::<f64>() / count;
    let (x_mean, y_mean) = (mean(|spot| spot.x_m), mean(|spot| spot.y_m));
    let mut normal = [[0.0; 5]; 4];
    for ((plan, seen), &(east, north)) in plan.iter().zip(seen).zip(weights) {
        let (x, y) = (plan.x_m - x_mean, plan.y_m - y_mean);
        for (weight, row, value) in
            [(east, [1.0, 0.0, x, -y], seen.x_m), (north, [0.0, 1.0, y, x], seen.y_m)]
        {
            for i in 0..4 {
                for j in 0..4 {
                    normal[i][j] += weight * row[i] * row[j];
                }
                normal[i][4] += weight * row[i] * value;
            }
        }
    }
    let [e, n, a, b] = solved(normal).ok_or(NoFit::OneSpot)?;
    Ok(Similarity { e: e - a * x_mean + b * y_mean, n: n - b * x_mean - a * y_mean, a, b })
}

/// Gaussian elimination with the largest pivot; none of a singular system.
fn solved(mut rows: [[f64; 5]; 4]) -> Option<[f64; 4]> {
    let largest = rows.iter().flatten().fold(0.0_f64, |most, it| most.max(it.abs()));
    for at in 0..4 {
        let pivot = (at..4).max_by(|&i, &j| rows[i][at].abs().total_cmp(&rows[j][at].abs()))?;
        rows.swap(at, pivot);
        if rows[at][at].abs() <= largest * 1e-14 || rows[at][at].is_nan() {
            return None;
        }
        let pivot = rows[at];
        for below in rows.iter_mut().skip(at + 1) {
            let factor = below[at] / pivot[at];
            below.iter_mut().zip(pivot).for_each(|(cell, of)| *cell -= factor * of);
        }
    }
    let mut found = [0.0; 4];
    for at in (0..4).rev() {
        let known: f64 = (at + 1..4).map(|next| rows[at][next] * found[next]).sum();
        found[at] = (rows[at][4] - known) / rows[at][at];
    }
    Some(found)
}

#[cfg(test)]
mod tests;
