//! Made-up fields whose truth is known: the trend is found where there is one and left alone where
//! there is none, and errors are as large as they are said to be.

mod made;

use made::{Field, Made};
use vigour::{LeftOut, Part, Trend, Undefined, adjust};

/// Sum of squared differences over n.
fn error(a: impl Iterator<Item = f64>, b: &[f64]) -> f64 {
    a.zip(b).map(|(a, b)| (a - b) * (a - b)).sum::<f64>() / b.len() as f64
}

/// The trend taken in so many of ten fields.
fn chosen(field: &Field, trends: &[Trend]) -> usize {
    (1..=10)
        .filter(|&seed| {
            let made = Made::new(field, seed);
            let found = adjust(&made.stands, None);
            trends.contains(&found.trend.expect("a trend"))
        })
        .count()
}

const PLAIN: Field = Field { rows: 6, places: 40, ..Field::EMPTY };

#[test]
fn a_field_without_a_trend_is_left_alone() {
    let alone = chosen(&PLAIN, &[Trend::None]);
    assert!(alone >= 8, "{alone} of 10");
}

#[test]
fn rows_that_differ_are_found() {
    let rows = chosen(&Field { row_sd: 1.5, ..PLAIN }, &[Trend::Rows]);
    assert!(rows >= 8, "{rows} of 10");
}

#[test]
fn a_patchy_field_is_found() {
    let field = Field { patch_sd: 2.0, rho_along: 0.9, rho_across: 0.6, ..PLAIN };
    let found = chosen(&field, &[Trend::Surface, Trend::Ar1]);
    assert!(found >= 9, "{found} of 10");
}

/// The adjusted number is nearer to what a tree is without its place, the more so by the right
/// model; and the error of the adjustment is as large as told.
#[test]
fn adjusting_brings_trees_nearer_to_what_they_are() {
    let field = Field { patch_sd: 2.0, rho_along: 0.9, rho_across: 0.6, ..PLAIN };
    let (mut squared, mut trees) = (0.0, 0.0);
    for seed in 1..=6 {
        let made = Made::new(&field, seed);
        let raw = error(made.stands.iter().map(|stand| stand.number), &made.own);
        let by = |trend| {
            let found = adjust(&made.stands, Some(trend));
            assert_eq!(found.trend, Some(trend), "{:?}", found.tried);
            found
        };
        let left = |trend| error(by(trend).trees.iter().map(|tree| tree.adjusted), &made.own);
        let ar1 = by(Trend::Ar1);
        let best = error(ar1.trees.iter().map(|tree| tree.adjusted), &made.own);
        assert!(best < 0.4 * raw, "seed {seed}: {best} of {raw}");
        assert!(left(Trend::Surface) < 0.7 * raw, "seed {seed}");
        assert!(left(Trend::Papadakis) < 0.8 * raw, "seed {seed}");
        for (tree, truth) in ar1.trees.iter().zip(&made.trend) {
            let z = (tree.trend - truth) / tree.standard_error;
            (squared, trees) = (squared + z * z, trees + 1.0);
        }
    }
    let ratio = squared / trees;
    assert!((0.75..1.35).contains(&ratio), "squared errors are {ratio} of those told");
}

/// Thousands of repeated genotypes all over a field tie each place to every other: an autoregression
/// would take minutes, and gives way.
#[test]
fn what_would_take_minutes_is_left_out() {
    let field = Field { rows: 60, places: 60, genotypes: 1200, genotype_sd: 1.0, ..Field::EMPTY };
    let found = adjust(&Made::new(&field, 1).stands, Some(Trend::Ar1));
    assert_eq!(found.trend, Some(Trend::Surface));
    let why = found.tried[0].outcome.expect_err("left out");
    assert!(matches!(why, LeftOut::Undefined(Undefined::TooLarge { .. })), "{why:?}");
}

/// Correlations, variances and crosses of a larger field, averaged over seeds.
#[test]
fn parameters_are_recovered() {
    let field = Field {
        rows: 10,
        places: 60,
        patch_sd: 2.0,
        rho_along: 0.9,
        rho_across: 0.6,
        crosses: 12,
        cross_sd: 1.0,
        genotypes: 100,
        genotype_sd: 1.2,
        missing: 0.1,
        ..Field::EMPTY
    };
    let mut sums = [0.0; 6];
    let (mut squared, mut groups) = (0.0, 0.0);
    let seeds = 8;
    for seed in 1..=seeds {
        let made = Made::new(&field, seed);
        let found = adjust(&made.stands, Some(Trend::Ar1));
        let variances = found.variances.expect("a model");
        let of = |part: Part| {
            variances.trend.iter().find(|(own, _)| *own == part).map_or(f64::NAN, |one| one.1)
        };
        let own = [
            of(Part::Field),
            of(Part::RhoAcross),
            of(Part::RhoAlong),
            variances.cross.expect("crosses"),
            variances.genotype.expect("genotypes"),
            variances.rest,
        ];
        sums.iter_mut().zip(own).for_each(|(sum, one)| *sum += one / f64::from(seeds as u8));
        for (number, ranked) in &found.genotypes {
            let predicted = ranked.predicted.expect("predicted");
            let z = (predicted.value - made.genotypes[*number]) / predicted.standard_error;
            (squared, groups) = (squared + z * z, groups + 1.0);
        }
    }
    let truth = [4.0, 0.6, 0.9, 1.0, 1.44, 1.0];
    for ((found, truth), allowed) in sums.iter().zip(truth).zip([1.2, 0.08, 0.05, 0.6, 0.25, 0.15])
    {
        assert!((found - truth).abs() < allowed, "{found} for {truth}: {sums:?}");
    }
    let ratio = squared / groups;
    assert!((0.75..1.35).contains(&ratio), "squared errors are {ratio} of those told");
}
