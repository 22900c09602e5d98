use super::*;
use crate::testing::{field, score};

#[test]
fn ranks_share_ties() {
    assert_eq!(ranks(&[3.0, 1.0, 3.0, 2.0]), [3.5, 1.0, 3.5, 2.0]);
    assert_eq!(ranks(&[]), Vec::<f64>::new());
}

/// One group without ties: Spearman's 1 − 6 Σd²/(n(n² − 1)) = 1 − 6·8/(7·48) = 6/7.
#[test]
fn one_group_gives_spearmans_correlation() {
    let group: Vec<(f64, f64)> = [2.0, 1.0, 4.0, 3.0, 6.0, 5.0, 7.0]
        .iter()
        .zip(1..)
        .map(|(&x, y)| (x, f64::from(y)))
        .collect();
    let squares: f64 = group.iter().map(|(x, y)| (x - y).powi(2)).sum();
    let spearman = 1.0 - 6.0 * squares / (7.0 * 48.0);
    let found = within_groups(std::slice::from_ref(&group)).correlation.expect("defined");
    assert!((found.value - spearman).abs() < 1e-12);
    assert!(found.low < found.value && found.value < found.high);
    // z = r √(n − 1).
    let p = libm::erfc(spearman * 6f64.sqrt() / std::f64::consts::SQRT_2);
    assert!((found.p - p).abs() < 1e-12);
}

/// Two groups that differ in both, and are unrelated within: no association.
#[test]
fn differences_between_groups_do_not_count() {
    let weak = vec![(1.0, 0.0), (2.0, 0.1), (3.0, 0.1), (4.0, 0.0)];
    let strong: Vec<_> = weak.iter().map(|(x, y)| (x + 10.0, y + 0.5)).collect();
    let found = within_groups(&[weak, strong]).correlation.expect("defined");
    assert!(found.value.abs() < 1e-12 && (found.p - 1.0).abs() < 1e-12, "{found:?}");
}

/// One group differs in vigour alone, the other in disease alone: nothing can be compared.
#[test]
fn groups_that_differ_in_one_of_the_two_tell_nothing() {
    let clean: Vec<(f64, f64)> = (0..6).map(|x| (f64::from(x), 0.0)).collect();
    let even: Vec<(f64, f64)> = (0..6).map(|y| (5.0, f64::from(y) / 10.0)).collect();
    let found = within_groups(&[clean, even]);
    assert_eq!((found.trees, found.correlation), (12, None));
}

#[test]
fn strong_shoots_that_blight_more_are_told() {
    let mut plot = field(4, 12);
    for row in 1..=4 {
        for place in 1..=12 {
            let tree = format!("T{row}-{place}");
            let strong = (row * 7 + place * 5) % 12;
            let diameter = Some(20.0 + f64::from(strong));
            score(&mut plot, &tree, "trunk_diameter", diameter, "2030-10-01");
            let class = if strong > 8 { 3.0 } else { 1.0 + f64::from(strong % 2) };
            // A tree that was not observed is missing, not clean.
            let seen = if strong == 3 { 0.0 } else { class };
            score(&mut plot, &tree, "shoot_blight", Some(seen), "2031-06-20");
        }
    }
    let ix = plot.trait_ix("trunk_diameter").expect("a trait");
    let found = link(&plot, ix, "fire_blight");
    assert_eq!((found.trees, found.groups), (44, 1));
    let correlation = found.correlation.expect("defined");
    assert!(correlation.low > 0.2 && correlation.p < 0.001, "{found:?}");
    let [weak, _, strong] = found.thirds;
    assert!(strong.infected * weak.trees > weak.infected * strong.trees, "{found:?}");
    // A measurement after the last score tells nothing of it.
    let mut late = field(1, 3);
    for place in 1..=3 {
        let tree = format!("T1-{place}");
        score(&mut late, &tree, "shoot_blight", Some(2.0), "2031-06-20");
        score(&mut late, &tree, "trunk_diameter", Some(20.0), "2032-06-20");
    }
    assert_eq!(link(&late, ix, "fire_blight").trees, 0);
}
