use proptest::prelude::*;

use super::*;
use crate::testing::log_determinant;

/// A random sparse matrix, made positive definite by a heavy diagonal.
fn made(n: usize, links: &[(usize, usize, f64)]) -> Vec<Vec<f64>> {
    let mut full = vec![vec![0.0f64; n]; n];
    for &(i, j, value) in links.iter().filter(|(i, j, _)| i % n != j % n) {
        (full[i % n][j % n], full[j % n][i % n]) = (value, value);
    }
    for (at, row) in full.iter_mut().enumerate() {
        row[at] = 0.3 + row.iter().map(|value| value.abs()).sum::<f64>();
    }
    full
}

/// The entries of one triangle that are not 0, and their values.
fn listed(full: &[Vec<f64>]) -> (Vec<(u32, u32)>, Vec<f64>) {
    let entries = full.iter().enumerate().flat_map(|(i, row)| {
        row[..=i].iter().enumerate().map(move |(j, &value)| ((i as u32, j as u32), value))
    });
    entries.filter(|(_, value)| *value != 0.0).unzip()
}

proptest! {
    /// matrix · solution = right side; matrix · inverse = 1; the determinant is the product of
    /// Gaussian pivots.
    #[test]
    fn factor_solves_and_inverts(
        n in 1usize..14,
        links in prop::collection::vec((0usize..14, 0usize..14, -1.0f64..1.0), 0..40),
    ) {
        let full = made(n, &links);
        let (listed, values) = listed(&full);
        let pattern = Pattern::new(n, &listed, 1e9).expect("small");
        let factor = pattern.factor(&values).expect("positive definite");
        let inverse = factor.inverse();
        for column in 0..n {
            let mut right = vec![0.0; n];
            right[column] = 1.0;
            let x = factor.solve(&right);
            for (row, line) in full.iter().enumerate() {
                let product: f64 = line.iter().zip(&x).map(|(a, b)| a * b).sum();
                prop_assert!((product - right[row]).abs() < 1e-9);
                if row == column || full[row][column] != 0.0 {
                    prop_assert!((inverse.at(row, column) - x[row]).abs() < 1e-9);
                }
            }
        }
        prop_assert!((factor.log_determinant() - log_determinant(full)).abs() < 1e-9);
    }
}

#[test]
fn what_is_not_positive_definite_has_no_factor() {
    let pattern = Pattern::new(2, &[(0, 0), (1, 0), (1, 1)], 1e9).expect("small");
    assert!(pattern.factor(&[1.0, 2.0, 1.0]).is_none());
    assert!(pattern.factor(&[1.0, f64::NAN, 1.0]).is_none());
    assert!(pattern.factor(&[1.0, 0.5, 1.0]).is_some());
}
