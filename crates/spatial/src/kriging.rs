//! Ordinary kriging: the best linear guess of a value from those around it.

use nalgebra::{DMatrix, DVector, Dyn, LU};
use serde::Serialize;

use crate::{PointIndex, Undefined, VariogramModel};

/// A guess at a spot.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Kriged {
    /// The guessed value.
    pub value: f64,
    /// Its variance under the model, nugget included; 0 at a point.
    pub variance: f64,
}

/// How well a model guesses each point from the others.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CrossValidation {
    /// The guess at each point without it, in the order of the points.
    pub guesses: Vec<Kriged>,
    /// Mean of observed less guessed.
    pub mean_error: f64,
    /// Root of the mean squared error.
    pub root_mean_square_error: f64,
    /// Mean of squared error over variance: about 1 where the model states its errors truly.
    pub mean_square_ratio: f64,
}

/// Ordinary kriging of one set of values under one model.
///
/// Solves `C λ + μ 1 = c, Σ λ = 1` with covariances of the model; value `Σ λ_i z_i`, variance
/// `C(0) − Σ λ_i c_i − μ` (Cressie 1993, *Statistics for Spatial Data*, section 3.2). The nugget is
/// part of the value that is guessed (not filtered as error of measurement), so the guess at a
/// point is its value exactly.
pub struct Kriging<'a> {
    points: &'a [(f64, f64)],
    values: &'a [f64],
    model: VariogramModel,
    index: PointIndex,
}

impl<'a> Kriging<'a> {
    /// # Errors
    /// [`Undefined`]: fewer than 2 points, or a value that is not finite.
    ///
    /// # Panics
    /// Where there are not as many values as points.
    pub fn new(
        points: &'a [(f64, f64)],
        values: &'a [f64],
        model: VariogramModel,
    ) -> Result<Self, Undefined> {
        assert_eq!(points.len(), values.len(), "one value for each point");
        if points.len() < 2 {
            return Err(Undefined::TooFew { needed: 2, found: points.len() });
        }
        if let Some(index) = values.iter().position(|value| !value.is_finite()) {
            return Err(Undefined::NotFinite { index });
        }
        Ok(Self { points, values, model, index: PointIndex::new(points) })
    }

    /// Guesses at spots, from all points. Costs n³ once and n² for each spot.
    ///
    /// # Errors
    /// [`Undefined::Singular`] where two points stand on one spot.
    pub fn at(&self, spots: &[(f64, f64)]) -> Result<Vec<Kriged>, Undefined> {
        let system = System::new(self, (0..self.points.len()).collect())?;
        spots.iter().map(|&spot| system.guess(spot)).collect()
    }

    /// Guesses at spots, each from its `nearest` nearest points (ties by index).
    ///
    /// # Errors
    /// [`Undefined::Singular`] where two of them stand on one spot; [`Undefined::TooFew`] for
    /// fewer than 2 nearest points.
    pub fn at_from_nearest(
        &self,
        spots: &[(f64, f64)],
        nearest: usize,
    ) -> Result<Vec<Kriged>, Undefined> {
        if nearest < 2 {
            return Err(Undefined::TooFew { needed: 2, found: nearest });
        }
        spots
            .iter()
            .map(|&(x_m, y_m)| {
                let near = self.index.nearest_to(x_m, y_m, nearest);
                System::new(self, near.iter().map(|near| near.index).collect())?.guess((x_m, y_m))
            })
            .collect()
    }

    /// Each point guessed from all the others, with one inversion (Dubrule 1983, *Mathematical
    /// Geology* 15:687): with B the inverse of the bordered matrix, the error at point i is
    /// `Σ_j B_ij z_j / B_ii` and its variance `1 / B_ii`.
    ///
    /// # Errors
    /// [`Undefined::Singular`] where two points stand on one spot; [`Undefined::TooFew`] with
    /// fewer than 3 points.
    pub fn leave_one_out(&self) -> Result<CrossValidation, Undefined> {
        let n = self.points.len();
        if n < 3 {
            return Err(Undefined::TooFew { needed: 3, found: n });
        }
        let system = System::new(self, (0..n).collect())?;
        let inverse = system.lu.try_inverse().ok_or(Undefined::Singular)?;
        let (mut errors, mut squares, mut ratios) = (0.0, 0.0, 0.0);
        let guesses = (0..n)
            .map(|i| {
                let own = inverse[(i, i)];
                let error = (0..n).map(|j| inverse[(i, j)] * self.values[j]).sum::<f64>() / own;
                errors += error;
                squares += error * error;
                ratios += error * error * own;
                Kriged { value: self.values[i] - error, variance: 1.0 / own }
            })
            .collect();
        let n = n as f64;
        Ok(CrossValidation {
            guesses,
            mean_error: errors / n,
            root_mean_square_error: (squares / n).sqrt(),
            mean_square_ratio: ratios / n,
        })
    }
}

/// The bordered covariance matrix of some of the points, decomposed.
struct System<'a> {
    kriging: &'a Kriging<'a>,
    used: Vec<usize>,
    lu: LU<f64, Dyn, Dyn>,
}

impl<'a> System<'a> {
    fn new(kriging: &'a Kriging<'a>, used: Vec<usize>) -> Result<Self, Undefined> {
        let n = used.len();
        let matrix =
            DMatrix::from_fn(n + 1, n + 1, |row, column| match (used.get(row), used.get(column)) {
                (Some(&i), Some(&j)) => {
                    kriging.model.covariance(distance_m(kriging.points[i], kriging.points[j]))
                }
                (None, None) => 0.0,
                _ => 1.0,
            });
        let lu = LU::new(matrix);
        // Twins give two equal rows: a pivot that is nothing but rounding.
        let sill = kriging.model.nugget + kriging.model.partial_sill;
        let smallest = (0..=n).map(|at| lu.u()[(at, at)].abs()).fold(f64::INFINITY, f64::min);
        if sill <= 0.0 || smallest <= 1e-13 * sill.min(1.0) {
            return Err(Undefined::Singular);
        }
        Ok(Self { kriging, used, lu })
    }

    fn guess(&self, spot: (f64, f64)) -> Result<Kriged, Undefined> {
        let n = self.used.len();
        let Kriging { points, values, model, .. } = self.kriging;
        let right = DVector::from_fn(n + 1, |at, _| {
            self.used.get(at).map_or(1.0, |&i| model.covariance(distance_m(points[i], spot)))
        });
        let solved = self.lu.solve(&right).ok_or(Undefined::Singular)?;
        let value = (0..n).map(|at| solved[at] * values[self.used[at]]).sum();
        let explained: f64 = (0..=n).map(|at| solved[at] * right[at]).sum();
        Ok(Kriged { value, variance: (model.covariance(0.0) - explained).max(0.0) })
    }
}

fn distance_m(a: (f64, f64), b: (f64, f64)) -> f64 {
    crate::tie::distance_2(a, b).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Shape;

    const MODEL: VariogramModel =
        VariogramModel { shape: Shape::Exponential, nugget: 0.2, partial_sill: 1.0, range_m: 3.0 };

    fn setting() -> (Vec<(f64, f64)>, Vec<f64>) {
        let points: Vec<_> = (0..25).map(|i| (f64::from(i % 5), f64::from(i / 5))).collect();
        let values = (0..25).map(|i| f64::from(i * i % 13)).collect();
        (points, values)
    }

    /// One inversion gives what leaving out and kriging again gives.
    #[test]
    fn leaving_out_is_leaving_out() {
        let (points, values) = setting();
        let all = Kriging::new(&points, &values, MODEL).expect("points").leave_one_out();
        let all = all.expect("defined");
        for i in [0, 7, 12, 24] {
            let without = |list: &[(f64, f64)]| {
                let mut list = list.to_vec();
                list.remove(i);
                list
            };
            let mut fewer = values.clone();
            fewer.remove(i);
            let rest = without(&points);
            let kriging = Kriging::new(&rest, &fewer, MODEL).expect("points");
            let guess = kriging.at(&[points[i]]).expect("defined")[0];
            assert!((guess.value - all.guesses[i].value).abs() < 1e-9);
            assert!((guess.variance - all.guesses[i].variance).abs() < 1e-9);
        }
    }

    #[test]
    fn exact_at_a_point_and_flat_under_pure_nugget() {
        let (points, values) = setting();
        let kriging = Kriging::new(&points, &values, MODEL).expect("points");
        let at = kriging.at(&points[3..4]).expect("defined")[0];
        assert!((at.value - values[3]).abs() < 1e-9 && at.variance < 1e-9);
        let nugget = VariogramModel { partial_sill: 0.0, ..MODEL };
        let flat = Kriging::new(&points, &values, nugget).expect("points");
        let away = flat.at(&[(9.0, 9.0)]).expect("defined")[0];
        let mean = values.iter().sum::<f64>() / 25.0;
        // Variance of a mean of n and of the new value: s² (1 + 1/n).
        assert!((away.value - mean).abs() < 1e-9);
        assert!((away.variance - 0.2 * (1.0 + 1.0 / 25.0)).abs() < 1e-9);
    }

    #[test]
    fn twins_are_refused() {
        let (mut points, values) = setting();
        points[4] = points[3];
        let kriging = Kriging::new(&points, &values, MODEL).expect("points");
        assert_eq!(kriging.at(&[(0.5, 0.5)]), Err(Undefined::Singular));
        assert_eq!(kriging.leave_one_out().map(|_| ()), Err(Undefined::Singular));
        let few = kriging.at_from_nearest(&[(0.5, 0.5)], 1);
        assert_eq!(few, Err(Undefined::TooFew { needed: 2, found: 1 }));
    }
}
