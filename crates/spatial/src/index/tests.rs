//! The index against brute force, on plots with ties and coincident points.

use proptest::prelude::*;

use super::*;

/// What the crate promises, said in the plainest way.
pub(crate) fn brute(
    points: &[(f64, f64)],
    spot: (f64, f64),
    but: Option<usize>,
    keep: impl Fn(f64) -> bool,
    k: usize,
) -> Vec<Near> {
    let mut all: Vec<(Rank, usize, f64)> = points
        .iter()
        .enumerate()
        .filter(|&(i, _)| Some(i) != but)
        .map(|(i, &point)| (Rank::of(distance_2(spot, point)), i, distance_2(spot, point).sqrt()))
        .filter(|&(_, _, distance_m)| keep(distance_m))
        .collect();
    all.sort_by_key(|&(rank, i, _)| (rank, i));
    all.truncate(k);
    all.into_iter().map(|(_, index, distance_m)| Near { index, distance_m }).collect()
}

/// Points on a planted grid, some missing, some doubled, some anywhere.
pub(crate) fn plots() -> impl Strategy<Value = Vec<(f64, f64)>> {
    let planted = (0u32..12, 0u32..9, 0usize..3).prop_map(|(place, row, spacing)| {
        let along = [0.35, 0.75, 0.1][spacing];
        (f64::from(place) * along, f64::from(row) * 3.0)
    });
    let anywhere = (-5.0..20.0, -5.0..30.0);
    prop::collection::vec(prop_oneof![3 => planted, 1 => anywhere], 0..120)
}

proptest! {
    #[test]
    fn agrees_with_brute_force(points in plots(), k in 0usize..14, radius_m in 0.0f64..12.0) {
        let index = PointIndex::new(&points);
        for i in 0..points.len() {
            prop_assert_eq!(
                index.nearest(i, k),
                brute(&points, points[i], Some(i), |_| true, k)
            );
            prop_assert_eq!(
                index.within(i, radius_m),
                brute(&points, points[i], Some(i), |d| d <= radius_m * (1.0 + 1e-9), usize::MAX)
            );
        }
        let spot = (3.3, 4.4);
        prop_assert_eq!(
            index.nearest_to(spot.0, spot.1, k),
            brute(&points, spot, None, |_| true, k)
        );
        prop_assert_eq!(
            index.within_of(spot.0, spot.1, radius_m),
            brute(&points, spot, None, |d| d <= radius_m * (1.0 + 1e-9), usize::MAX)
        );
    }
}

#[test]
fn never_itself_and_ties_by_index() {
    // A cross around point 2: four neighbours tie, a twin stands on the same spot.
    let points = [(1.0, 0.0), (0.0, 1.0), (1.0, 1.0), (2.0, 1.0), (1.0, 2.0), (1.0, 1.0)];
    let index = PointIndex::new(&points);
    let indices = |found: Vec<Near>| found.iter().map(|near| near.index).collect::<Vec<_>>();
    assert_eq!(indices(index.nearest(2, 3)), [5, 0, 1]);
    assert_eq!(indices(index.nearest(2, usize::MAX)), [5, 0, 1, 3, 4]);
    assert_eq!(indices(index.within(2, 0.0)), [5]);
    assert_eq!(indices(index.within(2, 1.0)), [5, 0, 1, 3, 4]);
    assert_eq!(indices(index.nearest_to(1.0, 1.0, 2)), [2, 5]);
}

#[test]
fn the_limit_is_included_whatever_rounding_does() {
    // 3 × 0.35 − 2 × 0.35 is a little more than 0.35 in floating point.
    let points: Vec<_> = (0..5).map(|place| (f64::from(place) * 0.35, 0.0)).collect();
    let index = PointIndex::new(&points);
    for i in 1..4 {
        assert_eq!(index.within(i, 0.35).len(), 2, "point {i}");
    }
}

#[test]
fn nothing_in_nothing_out() {
    let index = PointIndex::new(&[]);
    assert!(index.is_empty());
    assert!(index.nearest_to(0.0, 0.0, 3).is_empty());
    let one = PointIndex::new(&[(1.0, 1.0)]);
    assert!(one.nearest(0, 3).is_empty());
    assert!(one.within(0, f64::NAN).is_empty());
    assert!(one.within(0, -1.0).is_empty());
}
