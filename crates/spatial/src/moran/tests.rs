//! Moran's I on the small examples whose values can be computed by hand, and its laws.

use proptest::prelude::*;

use super::*;
use crate::permute::Draw;
use crate::{Contiguity, lattice};

/// The grid of Cliff & Ord's join counts: rows of 1 (diseased) and 0.
fn grid(rows: &[&str]) -> (Weights, Vec<f64>) {
    let mut places = Vec::new();
    let mut values = Vec::new();
    for (row, text) in rows.iter().enumerate() {
        for (place, mark) in text.bytes().enumerate() {
            places.push((row as i64, place as i64));
            values.push(f64::from(mark - b'0'));
        }
    }
    (lattice(&places, Contiguity::Rook).expect("no shared place"), values)
}

#[test]
fn five_by_five() {
    // Computed by hand formula and confirmed by 200,000 permutations: I 0.33433, E −0.04167,
    // z 2.570 (normality), 2.521 (randomisation).
    let (weights, values) = grid(&["11000", "11100", "01000", "00001", "00000"]);
    let found = moran(&weights, &values).expect("defined");
    for (value, expected, digits) in [
        (found.value, 0.33433, 1e-5),
        (found.expected, -0.04167, 1e-5),
        (found.normality.expect("varies").z, 2.570, 5e-4),
        (found.randomisation.expect("varies").z, 2.521, 5e-4),
    ] {
        assert!((value - expected).abs() < digits, "{value} against {expected}");
    }
}

#[test]
fn permutations_find_the_exact_moments() {
    let (weights, values) = grid(&["11000", "11100", "01000", "00001", "00000"]);
    let exact = moran(&weights, &values).expect("defined");
    let test = moran_permutation(&weights, &values, 20_000, 5).expect("defined");
    let standard_error = exact.variance_randomisation.sqrt() / 20_000f64.sqrt();
    assert!((test.mean - exact.expected).abs() < 4.0 * standard_error);
    let spread = test.standard_deviation / exact.variance_randomisation.sqrt();
    assert!((spread - 1.0).abs() < 0.03, "{spread}");
    assert_eq!(test, moran_permutation(&weights, &values, 20_000, 5).expect("defined"));
}

#[test]
fn what_is_not_defined_says_so() {
    let line: Vec<_> = (0..5).map(|i| (f64::from(i), 0.0)).collect();
    let weights = Weights::band(&line, 1.0);
    let check = |weights: &Weights, values: &[f64], why: Undefined| {
        assert_eq!(moran(weights, values), Err(why));
    };
    check(&weights, &[1.0; 5], Undefined::Constant);
    check(&weights, &[1.0, 2.0, f64::NAN, 3.0, 4.0], Undefined::NotFinite { index: 2 });
    check(&weights, &[0.0, 1e-200, 0.0, 0.0, 0.0], Undefined::Range);
    check(&Weights::band(&line, 0.5), &[1.0, 2.0, 3.0, 4.0, 5.0], Undefined::NoLinks);
    check(
        &Weights::band(&line[..3], 1.0),
        &[1.0, 2.0, 3.0],
        Undefined::TooFew { needed: 4, found: 3 },
    );
    assert_eq!(
        moran_permutation(&weights, &[1.0, 2.0, 3.0, 4.0, 5.0], 0, 1),
        Err(Undefined::NoPermutations)
    );
}

proptest! {
    /// Neither the unit and zero of the values nor the names of the points matter.
    #[test]
    fn laws(values in prop::collection::vec(-50.0f64..50.0, 20), shift in -5.0f64..5.0,
            scale in 0.1f64..9.0, seed in 0u64..1000) {
        let points: Vec<_> = (0..20).map(|i| (f64::from(i % 5), f64::from(i / 5))).collect();
        let weights = Weights::nearest(&points, 3);
        let found = moran(&weights, &values).expect("defined");
        let scaled: Vec<_> = values.iter().map(|v| shift - scale * v).collect();
        let again = moran(&weights, &scaled).expect("defined");
        prop_assert!((found.value - again.value).abs() < 1e-9);
        prop_assert!((found.variance_randomisation - again.variance_randomisation).abs() < 1e-9);

        let mut order: Vec<usize> = (0..20).collect();
        Draw::seeded(seed).shuffle(&mut order);
        let mut place = [0; 20];
        order.iter().enumerate().for_each(|(new, &old)| place[old] = new);
        let pairs: Vec<_> = (0..20)
            .flat_map(|i| weights.of(i).map(move |(j, w)| (i, j, w)))
            .map(|(i, j, w)| (place[i], place[j], w))
            .collect();
        let renamed = Weights::from_pairs(20, &pairs).expect("good pairs");
        let moved: Vec<_> = order.iter().map(|&old| values[old]).collect();
        let again = moran(&renamed, &moved).expect("defined");
        prop_assert!((found.value - again.value).abs() < 1e-9);
        prop_assert!((found.variance_normality - again.variance_normality).abs() < 1e-9);
    }
}
