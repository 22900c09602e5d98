use super::*;
use crate::{Part, Undefined};

/// So many trees in rows of ten, each its own genotype; the number is made of row and place.
fn stands(count: usize, of: impl Fn(usize, usize) -> f64) -> Vec<Stand> {
    (0..count)
        .map(|nth| {
            let (row, place) = (nth / 10, nth % 10);
            Stand {
                number: of(row, place),
                x_m: place as f64,
                y_m: row as f64 * 3.0,
                cell: Some((row as i32, place as i32)),
                genotype: nth,
                cross: None,
            }
        })
        .collect()
}

/// Without pattern, from 0 to 1.
fn noise(row: usize, place: usize) -> f64 {
    ((row * 10 + place) as f64 * 0.618_034).fract()
}

#[test]
fn what_cannot_be_fitted_steps_back_and_says_why() {
    let check = |stands: &[Stand], wanted: Trend, taken: Option<Trend>, left: &[LeftOut]| {
        let found = adjust(stands, Some(wanted));
        let found_left: Vec<LeftOut> =
            found.tried.iter().filter_map(|tried| tried.outcome.err()).collect();
        assert_eq!((found.trend, &found_left[..]), (taken, left));
        assert_eq!(found.trees.len(), if taken.is_some() { stands.len() } else { 0 });
    };
    let few = |needed, found| LeftOut::FewTrees { needed, found };
    check(&stands(60, noise), Trend::Ar1, Some(Trend::Ar1), &[]);
    check(&stands(20, noise), Trend::Ar1, Some(Trend::Rows), &[few(30, 20), few(30, 20)]);
    check(&stands(9, noise), Trend::Surface, Some(Trend::None), &[few(30, 9), few(12, 9)]);
    check(&stands(5, noise), Trend::None, None, &[few(8, 5)]);
    check(&stands(5, noise), Trend::Papadakis, None, &[few(12, 5), few(8, 5)]);
    let alike = LeftOut::Undefined(Undefined::Constant);
    check(&stands(20, |_, _| 4.0), Trend::Rows, None, &[alike, alike]);
    let mut nowhere = stands(40, noise);
    nowhere[3].cell = None;
    check(&nowhere, Trend::Ar1, Some(Trend::Surface), &[LeftOut::NoPlace { trees: 1 }]);
    check(&nowhere, Trend::Rows, Some(Trend::None), &[LeftOut::NoPlace { trees: 1 }]);
    let mut together = stands(40, noise);
    together.iter_mut().for_each(|stand| (stand.x_m, stand.y_m) = (0.0, 0.0));
    check(&together, Trend::Surface, Some(Trend::Rows), &[LeftOut::OneSpot]);
    // A lattice as long as it is wide, with a tree in each line and each place.
    let mut wide = stands(100, noise);
    for (nth, stand) in wide.iter_mut().enumerate() {
        stand.cell = Some((nth as i32, nth as i32));
    }
    let large = LeftOut::LargeLattice { cells: 10_000, most: 8000 };
    check(&wide, Trend::Ar1, Some(Trend::Surface), &[large]);
}

/// Raw, trend and adjusted add up; a rise along the rows is taken out as one.
#[test]
fn a_slope_is_taken_out() {
    let rising = stands(200, |row, place| noise(row, place) + place as f64);
    for wanted in [Trend::Rows, Trend::Surface, Trend::Ar1] {
        let found = adjust(&rising, Some(wanted));
        let mean = found.trees.iter().map(|tree| tree.trend).sum::<f64>() / 200.0;
        assert!(mean.abs() < 1e-9, "a trend is against the average place");
        for (stand, tree) in rising.iter().zip(&found.trees) {
            assert!((tree.trend + tree.adjusted - stand.number).abs() < 1e-12);
            assert!((tree.trend - (stand.x_m - 4.5)).abs() < 0.6, "{wanted:?} {tree:?}");
            assert!(tree.standard_error > 0.0 && tree.standard_error < 0.5, "{wanted:?} {tree:?}");
        }
    }
}

/// One row alone, and trees that share a place (grafts of one tree), are described too.
#[test]
fn one_row_and_shared_places_have_a_trend() {
    let mut row = stands(80, noise);
    for (nth, stand) in row.iter_mut().enumerate() {
        let place = nth / 2;
        (stand.x_m, stand.y_m, stand.cell) = (place as f64, 0.0, Some((1, place as i32)));
        stand.number += (place as f64 / 6.0).sin() * 2.0;
    }
    for wanted in [Trend::Papadakis, Trend::Rows, Trend::Surface, Trend::Ar1] {
        let found = adjust(&row, Some(wanted));
        assert_eq!(found.trend, Some(wanted), "{:?}", found.tried);
        if let Some(variances) = found.variances {
            let names: Vec<Part> = variances.trend.iter().map(|one| one.0).collect();
            let expect: &[Part] = match wanted {
                Trend::Rows => &[Part::Places],
                Trend::Surface => &[Part::Along],
                _ => &[Part::Field, Part::RhoAlong],
            };
            assert_eq!(names, expect);
        }
    }
}

/// Row and place numbers may lie as far apart as numbers go.
#[test]
fn the_farthest_numbers_of_rows_and_places_are_gaps_like_others() {
    let mut far = stands(60, noise);
    for cell in far.iter_mut().filter_map(|stand| stand.cell.as_mut()) {
        cell.0 = [i32::MIN, 1, 2, 3, 4, i32::MAX][cell.0 as usize];
        cell.1 = [i32::MIN, 1, 2, 3, 4, 5, 6, 7, 8, i32::MAX][cell.1 as usize];
    }
    for wanted in [Trend::Papadakis, Trend::Rows, Trend::Ar1] {
        let found = adjust(&far, Some(wanted));
        assert_eq!(found.trend, Some(wanted), "{:?}", found.tried);
    }
}

/// By neighbours, copies of a genotype are not part of their cross, and one tree that is left of it
/// is no group.
#[test]
fn one_tree_alone_is_not_ranked() {
    let mut trees = stands(20, noise);
    for (nth, stand) in trees.iter_mut().enumerate() {
        stand.cross = Some(usize::from(nth > 10));
        stand.genotype = if nth < 10 { nth / 2 } else { nth };
    }
    let found = adjust(&trees, Some(Trend::Papadakis));
    let trees = |groups: &BTreeMap<usize, Ranked>| -> Vec<(usize, usize)> {
        groups.iter().map(|(&number, ranked)| (number, ranked.trees)).collect()
    };
    assert_eq!(trees(&found.crosses), [(1, 9)]);
    assert_eq!(trees(&found.genotypes), [(0, 2), (1, 2), (2, 2), (3, 2), (4, 2)]);
}

/// The order in which trees are named changes nothing but rounding.
#[test]
fn the_order_of_trees_does_not_matter() {
    let mut trees = stands(60, |row, place| noise(row, place) + (row as f64).sin());
    trees.iter_mut().enumerate().for_each(|(nth, stand)| stand.genotype = nth % 25);
    for wanted in [Trend::Papadakis, Trend::Rows, Trend::Surface, Trend::Ar1] {
        let there = adjust(&trees, Some(wanted));
        let turned: Vec<Stand> = trees.iter().rev().copied().collect();
        let back = adjust(&turned, Some(wanted));
        for (one, other) in there.trees.iter().zip(back.trees.iter().rev()) {
            assert!((one.adjusted - other.adjusted).abs() < 1e-4, "{wanted:?} {one:?} {other:?}");
        }
    }
}

/// Every trend that was tried has a word, and the best is told from the likelihoods themselves.
#[test]
fn the_choice_follows_the_criterion() {
    let rows = stands(200, |row, place| noise(row, place) + f64::from((row * 7 % 5) as u8));
    let found = adjust(&rows, None);
    let tried: Vec<Trend> = found.tried.iter().map(|tried| tried.trend).collect();
    assert_eq!(tried, [Trend::None, Trend::Rows, Trend::Surface, Trend::Ar1]);
    assert_eq!(found.trend, Some(Trend::Rows));
    let aic = |nth: usize| found.tried[nth].outcome.expect("fitted").aic().expect("a criterion");
    assert!(aic(1) < aic(0) - 100.0 && aic(1) < aic(2) && aic(1) < aic(3));
}
