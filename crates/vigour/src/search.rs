//! The lowest point of a smooth function of a few bounded numbers, by its slopes.

/// A value and its slope in each direction.
pub(crate) type Slopes = (f64, Vec<f64>);

/// Where the function is lowest and how low, as far as a descent from `start` finds; bounds are
/// kept, and the same start gives the same end. None where it has no value at the start.
///
/// Descent of Broyden, Fletcher, Goldfarb & Shanno (Nocedal & Wright 2006, *Numerical
/// Optimization*, ch. 6), with directions that lead out of the bounds left out.
pub(crate) fn lowest(
    start: &[f64],
    bounds: &[(f64, f64)],
    mut of: impl FnMut(&[f64]) -> Option<Slopes>,
) -> Option<(Vec<f64>, f64)> {
    let n = start.len();
    let mut at = start.to_vec();
    let (mut value, mut slope) = of(&at)?;
    let mut inverse = identity(n);
    let mut is_fresh = true;
    for _ in 0..200 {
        let free: Vec<bool> = (0..n)
            .map(|axis| {
                let (low, high) = bounds[axis];
                !(at[axis] <= low && slope[axis] >= 0.0 || at[axis] >= high && slope[axis] <= 0.0)
            })
            .collect();
        let steepest = (0..n).filter(|&axis| free[axis]).map(|axis| slope[axis].abs());
        if steepest.fold(0.0, f64::max) < FLAT {
            break;
        }
        let next = step(&at, &slope, &inverse, &free, bounds)
            .and_then(|direction| descend(&at, value, &slope, &direction, bounds, &mut of));
        let Some((to, lower, slopes)) = next else {
            if is_fresh {
                break;
            }
            (inverse, is_fresh) = (identity(n), true);
            continue;
        };
        update(&mut inverse, &at, &to, &slope, &slopes);
        let gain = value - lower;
        (at, value, slope, is_fresh) = (to, lower, slopes, false);
        if gain < 1e-12 * value.abs() {
            break;
        }
    }
    Some((at, value))
}

/// Slopes below which a place counts as level; a deviance is then within some 1e-10 of its lowest.
const FLAT: f64 = 1e-5;
/// The longest step along one axis.
const LONGEST: f64 = 2.0;

fn identity(n: usize) -> Vec<Vec<f64>> {
    (0..n).map(|i| (0..n).map(|j| f64::from(u8::from(i == j))).collect()).collect()
}

/// A direction that leads down; none where the matrix gives none.
fn step(
    at: &[f64],
    slope: &[f64],
    inverse: &[Vec<f64>],
    free: &[bool],
    bounds: &[(f64, f64)],
) -> Option<Vec<f64>> {
    let n = at.len();
    let mut direction: Vec<f64> = (0..n)
        .map(|i| {
            let sum = (0..n).filter(|&j| free[j]).map(|j| inverse[i][j] * slope[j]).sum::<f64>();
            if free[i] { -sum } else { 0.0 }
        })
        .collect();
    for axis in 0..n {
        // From a bound no way leads out.
        let out = at[axis] <= bounds[axis].0 && direction[axis] < 0.0
            || at[axis] >= bounds[axis].1 && direction[axis] > 0.0;
        if out {
            direction[axis] = 0.0;
        }
    }
    let longest = direction.iter().fold(0.0f64, |longest, one| longest.max(one.abs()));
    if longest > LONGEST {
        direction.iter_mut().for_each(|one| *one *= LONGEST / longest);
    }
    let down: f64 = direction.iter().zip(slope).map(|(d, s)| d * s).sum();
    (down < 0.0).then_some(direction)
}

/// The first place along a direction, from the full step on by halves, that lies lower by enough.
fn descend(
    at: &[f64],
    value: f64,
    slope: &[f64],
    direction: &[f64],
    bounds: &[(f64, f64)],
    of: &mut impl FnMut(&[f64]) -> Option<Slopes>,
) -> Option<(Vec<f64>, f64, Vec<f64>)> {
    let mut share = 1.0;
    for _ in 0..30 {
        let to: Vec<f64> = at
            .iter()
            .zip(direction)
            .zip(bounds)
            .map(|((at, along), (low, high))| (at + share * along).clamp(*low, *high))
            .collect();
        if let Some((lower, slopes)) = of(&to) {
            let hoped: f64 = to.iter().zip(at).zip(slope).map(|((to, at), s)| (to - at) * s).sum();
            if lower <= value + 1e-4 * hoped && hoped < 0.0 {
                return Some((to, lower, slopes));
            }
        }
        share *= 0.5;
    }
    None
}

/// Takes what a step told of the curvature into the inverse.
fn update(inverse: &mut [Vec<f64>], at: &[f64], to: &[f64], slope: &[f64], slopes: &[f64]) {
    let n = at.len();
    let moved: Vec<f64> = to.iter().zip(at).map(|(to, at)| to - at).collect();
    let turned: Vec<f64> = slopes.iter().zip(slope).map(|(to, at)| to - at).collect();
    let curve: f64 = moved.iter().zip(&turned).map(|(s, y)| s * y).sum();
    if curve <= 1e-14 {
        return;
    }
    let bent: Vec<f64> =
        inverse.iter().map(|row| row.iter().zip(&turned).map(|(h, y)| h * y).sum()).collect();
    let whole: f64 = bent.iter().zip(&turned).map(|(b, y)| b * y).sum();
    for i in 0..n {
        for j in 0..n {
            inverse[i][j] += (1.0 + whole / curve) * moved[i] * moved[j] / curve
                - (bent[i] * moved[j] + moved[i] * bent[j]) / curve;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn finds_the_bottom_of_a_bent_valley_and_keeps_to_bounds() {
        let valley = |x: &[f64]| {
            let off = x[1] - x[0] * x[0];
            let value = (1.0 - x[0]).powi(2) + 100.0 * off * off;
            Some((value, vec![-2.0 * (1.0 - x[0]) - 400.0 * x[0] * off, 200.0 * off]))
        };
        let check = |bounds: &[(f64, f64)], expect: [f64; 2]| {
            let (at, _) = lowest(&[-1.2, 1.0], bounds, valley).expect("a value");
            assert!((at[0] - expect[0]).abs() < 1e-4 && (at[1] - expect[1]).abs() < 1e-4, "{at:?}");
        };
        check(&[(-3.0, 3.0); 2], [1.0, 1.0]);
        check(&[(-3.0, 0.5), (-3.0, 3.0)], [0.5, 0.25]);
        check(&[(-3.0, 3.0), (-3.0, 0.49)], [0.7016, 0.49]);
        assert_eq!(lowest(&[0.0], &[(0.0, 1.0)], |_| None), None);
    }
}
