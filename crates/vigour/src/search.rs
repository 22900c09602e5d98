//! The lowest point of a function of a few bounded numbers, by a simplex that starts again from the
//! best until that no longer helps.

/// Where the function is lowest, and how low. Bounds are kept; the same start gives the same end.
///
/// Nelder & Mead 1965, *The Computer Journal* 7:308.
pub(crate) fn lowest(
    start: &[f64],
    bounds: &[(f64, f64)],
    mut of: impl FnMut(&[f64]) -> f64,
) -> (Vec<f64>, f64) {
    let mut best = (start.to_vec(), of(start));
    if start.is_empty() {
        return best;
    }
    for (nth, edge) in [1.5, 0.4, 0.1, 0.1, 0.1].into_iter().enumerate() {
        let before = best.1;
        best = descend(best, edge, bounds, &mut of);
        if nth >= 2 && before - best.1 < 1e-8 {
            break;
        }
    }
    best
}

fn descend(
    best: (Vec<f64>, f64),
    edge: f64,
    bounds: &[(f64, f64)],
    of: &mut impl FnMut(&[f64]) -> f64,
) -> (Vec<f64>, f64) {
    let n = bounds.len();
    let mut look = |mut at: Vec<f64>| {
        at.iter_mut().zip(bounds).for_each(|(one, (low, high))| *one = one.clamp(*low, *high));
        let value = of(&at);
        (at, if value.is_nan() { f64::INFINITY } else { value })
    };
    let mut corners = vec![best.clone()];
    for axis in 0..n {
        let mut at = best.0.clone();
        at[axis] += if at[axis] + edge <= bounds[axis].1 { edge } else { -edge };
        corners.push(look(at));
    }
    for _ in 0..200 * n {
        corners.sort_by(|a, b| a.1.total_cmp(&b.1));
        let wide = (0..n).any(|axis| {
            let along = corners.iter().map(|corner| corner.0[axis]);
            along.clone().fold(f64::MIN, f64::max) - along.fold(f64::MAX, f64::min) > 1e-6
        });
        if !wide || corners[n].1 - corners[0].1 < 1e-11 {
            break;
        }
        let middle: Vec<f64> = (0..n)
            .map(|axis| corners[..n].iter().map(|corner| corner.0[axis]).sum::<f64>() / n as f64)
            .collect();
        let worst = corners[n].clone();
        let mut along = |share: f64| {
            look(middle.iter().zip(&worst.0).map(|(m, w)| m + share * (m - w)).collect())
        };
        let reflected = along(1.0);
        if reflected.1 < corners[0].1 {
            let farther = along(2.0);
            corners[n] = if farther.1 < reflected.1 { farther } else { reflected };
        } else if reflected.1 < corners[n - 1].1 {
            corners[n] = reflected;
        } else {
            let nearer = along(if reflected.1 < worst.1 { 0.5 } else { -0.5 });
            if nearer.1 < worst.1.min(reflected.1) {
                corners[n] = nearer;
            } else {
                let first = corners[0].0.clone();
                for corner in &mut corners[1..] {
                    let half = corner.0.iter().zip(&first).map(|(c, f)| (c + f) / 2.0);
                    *corner = look(half.collect());
                }
            }
        }
    }
    corners.into_iter().min_by(|a, b| a.1.total_cmp(&b.1)).unwrap_or(best)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn finds_the_bottom_of_a_bent_valley_and_keeps_to_bounds() {
        let valley = |x: &[f64]| (1.0 - x[0]).powi(2) + 100.0 * (x[1] - x[0] * x[0]).powi(2);
        let (at, value) = lowest(&[-1.2, 1.0], &[(-3.0, 3.0); 2], valley);
        assert!(value < 1e-8 && (at[0] - 1.0).abs() < 1e-3, "{at:?}");
        let (at, _) = lowest(&[-1.2, 1.0], &[(-3.0, 0.5), (-3.0, 3.0)], valley);
        assert!((at[0] - 0.5).abs() < 1e-6 && (at[1] - 0.25).abs() < 1e-4, "{at:?}");
    }
}
