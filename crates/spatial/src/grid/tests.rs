//! The grid against the index, which brute force has checked.

use proptest::prelude::*;

use super::*;
use crate::index::tests::plots;

fn check(points: &[(f64, f64)], k: usize, radius_m: f64) {
    let index = PointIndex::new(points);
    let nearest = nearest_all(points, k);
    let within = within_all(points, radius_m);
    assert_eq!((nearest.len(), within.len()), (points.len(), points.len()));
    assert_eq!(count_within(points, radius_m, usize::MAX), within.links());
    for i in 0..points.len() {
        assert_eq!(nearest.of(i).collect::<Vec<_>>(), index.nearest(i, k), "nearest of {i}");
        assert_eq!(within.of(i).collect::<Vec<_>>(), index.within(i, radius_m), "around {i}");
    }
}

/// Spots on points, between them and far away.
fn check_spots(points: &[(f64, f64)], k: usize, radius_m: f64) {
    let index = PointIndex::new(points);
    let spots: Vec<(f64, f64)> =
        points.iter().copied().chain([(3.3, 4.4), (-40.0, 900.0), (0.1, 0.0)]).collect();
    let mut seen = 0;
    nearest_of_spots(points, &spots, k, radius_m, |nth, near| {
        let mut near = near.to_vec();
        near.sort_by_key(|near| (Rank::of(near.distance_m * near.distance_m), near.index));
        let mut expected = index.nearest_to(spots[nth].0, spots[nth].1, k);
        let within = index.within_of(spots[nth].0, spots[nth].1, radius_m);
        expected.truncate(within.len());
        assert_eq!(near, expected, "spot {nth}");
        seen += 1;
    });
    assert_eq!(seen, spots.len());
}

proptest! {
    #[test]
    fn spots_agree_with_the_index(points in plots(), k in 0usize..14, radius_m in 0.0f64..12.0) {
        check_spots(&points, k, radius_m);
    }

    #[test]
    fn agrees_with_the_index(points in plots(), k in 0usize..14, radius_m in 0.0f64..12.0) {
        check(&points, k, radius_m);
    }
}

#[test]
fn odd_shapes() {
    check(&[], 3, 1.0);
    check(&[(4.0, 4.0)], 3, 1.0);
    // One row, one column, all on one spot.
    check(&(0..50).map(|i| (f64::from(i) * 0.35, 0.0)).collect::<Vec<_>>(), 4, 0.7);
    check(&(0..50).map(|i| (0.0, f64::from(i) * 1e6)).collect::<Vec<_>>(), 4, 2e6);
    check(&[(2.0, 2.0); 40], 4, 0.0);
    check(&[(2.0, 2.0), (3.0, 2.0), (9.0, 9.0)], usize::MAX, f64::INFINITY);
    // Two tight clumps far apart, where cells of equal size do not help.
    let clumps: Vec<_> = (0..400)
        .map(|i| (f64::from(i % 2) * 1e5 + f64::from(i % 19) * 0.01, f64::from(i / 20) * 0.01))
        .collect();
    check(&clumps, 5, 0.02);
    check_spots(&clumps, 5, 0.02);
    check_spots(&[(2.0, 2.0); 40], 4, 1.0);
    check_spots(&[(2.0, 2.0), (3.0, 2.0), (9.0, 9.0)], 2, f64::INFINITY);
}
