//! Weights against their dense definition.

use proptest::prelude::*;

use super::*;

#[test]
fn sums_of_a_dense_matrix() {
    // w: 0→1 2, 1→0 1, 0→2 4, one way only.
    let weights =
        Weights::from_pairs(4, &[(1, 0, 1.0), (0, 2, 4.0), (0, 1, 2.0)]).expect("good pairs");
    // S0 = 7; S1 = ½ (2·(2+1)² + 2·4²) = 25; S2 = (6+1)² + (1+2)² + (0+4)² + 0 = 74 (by hand).
    assert_eq!(weights.sums(), Sums { s0: 7.0, s1: 25.0, s2: 74.0 });
    assert_eq!((weights.len(), weights.is_empty(), weights.links()), (4, false, 3));
    assert!(Weights::from_pairs(0, &[]).expect("no pairs").is_empty());
    assert_eq!(weights.islands(), [2, 3]);
    assert_eq!(weights.lag(0, &[9.0, 10.0, 100.0, 9.0]), 420.0);
    let standard = weights.row_standardised();
    assert_eq!(standard.of(0).collect::<Vec<_>>(), [(1, 2.0 / 6.0), (2, 4.0 / 6.0)]);
    assert_eq!(standard.of(3).len(), 0);
}

#[test]
fn faulty_pairs_are_named() {
    let check = |pairs: &[(usize, usize, f64)], at: usize, fault: PairFault| {
        assert_eq!(Weights::from_pairs(3, pairs), Err((at, fault)));
    };
    check(&[(0, 1, 1.0), (0, 3, 1.0)], 1, PairFault::NoSuchPoint { index: 3 });
    check(&[(2, 2, 1.0)], 0, PairFault::Itself { index: 2 });
    check(&[(0, 1, -1.0)], 0, PairFault::Weight { weight: -1.0 });
    check(&[(0, 1, 1.0), (1, 0, 1.0), (0, 1, 2.0)], 2, PairFault::Twice { from: 0, to: 1 });
}

fn pairs() -> impl Strategy<Value = Vec<(usize, usize, f64)>> {
    prop::collection::btree_map((0usize..9, 0usize..9), 0.0f64..5.0, 0..40).prop_map(|map| {
        map.into_iter().filter(|((i, j), _)| i != j).map(|((i, j), w)| (i, j, w)).collect()
    })
}

proptest! {
    #[test]
    fn sums_agree_with_the_definition(pairs in pairs()) {
        let weights = Weights::from_pairs(9, &pairs).expect("good pairs");
        let mut dense = [[0.0; 9]; 9];
        for &(i, j, w) in &pairs {
            dense[i][j] = w;
        }
        let (mut s0, mut s1, mut s2) = (0.0, 0.0, 0.0);
        for (i, row) in dense.iter().enumerate() {
            let mut both_ways = 0.0;
            for (&weight, column) in row.iter().zip(&dense) {
                s0 += weight;
                s1 += 0.5 * (weight + column[i]).powi(2);
                both_ways += weight + column[i];
            }
            s2 += both_ways * both_ways;
        }
        let sums = weights.sums();
        for (found, expected) in [(sums.s0, s0), (sums.s1, s1), (sums.s2, s2)] {
            prop_assert!((found - expected).abs() <= 1e-9 * expected.max(1.0));
        }
        prop_assert_eq!(weights.transposed().transposed(), weights);
    }
}
