//! The surface against its formula said in the plainest way, against the report's own numbers,
//! and the laws it keeps.

use epidemic::{Kind, make};
use plot::Plot;
use spatial::{Ellipse, Kernel};

use super::*;
use crate::testing::{plot_of, score, tree};
use crate::{Options, Run};

/// A made-up plot of two seasons and its report.
fn judged() -> (Plot, Report) {
    let mut recipe = Kind::FourSeasons.recipe(5);
    (recipe.planting.rows, recipe.planting.places) = (8, 40);
    let made = make(&recipe, 5).expect("a plot");
    let report = Run::to_the_end(&made.plot, &made.truth[0].disease, &Options::default());
    (made.plot, report.expect("a report"))
}

/// The formulas of one season as the head of the module has them, tree by tree, with neighbours
/// sorted out of all trees. `but` leaves a tree out. Inoculum, witness share, trees told, witnesses.
fn plainly(
    plot: &Plot,
    report: &Report,
    (season, until): (Season, Option<Date>),
    at: Spot,
    but: Option<TreeIx>,
) -> [f64; 4] {
    let fit = report.fit.as_ref().expect("a fit");
    let traits = plot.traits_of_disease(&report.disease);
    let worst = |tree: TreeIx| {
        plot.scores_of(tree)
            .map(|(_, score)| score)
            .filter(|score| traits.contains(&score.trait_ix) && plot.season_of(score) == season)
            .filter(|score| until.is_none_or(|day| score.scored_on.date() <= day))
            .filter_map(|score| plot.shown_severity(score))
            .reduce(f64::max)
    };
    let mut near: Vec<(f64, &str, TreeIx)> = report
        .trees
        .iter()
        .map(|line| line.tree)
        .filter(|tree| Some(*tree) != but)
        .map(|tree| (plot.tree(tree).spot().distance_m(at), plot.tree(tree).id().as_str(), tree))
        .map(|(distance_m, id, tree)| ((distance_m * 1e7).round() / 1e7, id, tree))
        .collect();
    near.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(b.1)));
    near.truncate(MOST_NEIGHBOURS);
    let (mut plot_sick, mut plot_all) = (0.0, 0.0);
    for line in &report.trees {
        let could = line.could_have.expect("a fit");
        if let Some(worst) = worst(line.tree) {
            plot_all += could;
            plot_sick += if worst > 0.0 { could } else { 0.0 };
        }
    }
    let [mut tissue, mut sick, mut scored, mut witnesses] = [0.0; 4];
    for (_, _, tree) in near {
        let to = plot.tree(tree).spot();
        let weight = fit.spread.weight(to.x_m - at.x_m, to.y_m - at.y_m);
        let (Some(worst), true) = (worst(tree), weight >= NEGLIGIBLE) else { continue };
        let could = report.could_have(tree).expect("a fit");
        tissue += weight * (worst * 1000.0).ceil() / 1000.0;
        scored += weight;
        witnesses += weight * could;
        sick += if worst > 0.0 { weight * could } else { 0.0 };
    }
    let k = fit.prior_witnesses;
    let share = (sick + k * plot_sick / plot_all.max(1e-300)) / (witnesses + k);
    [tissue, share, scored, witnesses]
}

fn check_close(found: Option<f64>, expected: Option<f64>, what: &str) {
    match (found, expected) {
        (Some(found), Some(expected)) => {
            assert!((found - expected).abs() < 2e-4, "{what}: {found} {expected}");
        }
        (found, expected) => assert_eq!(found, expected, "{what}"),
    }
}

#[test]
fn agrees_with_the_plain_formula_at_any_spot_and_moment() {
    let (plot, report) = judged();
    let surface = PressureSurface::of(&plot, &report).expect("a surface");
    let spots: Vec<Spot> = (0..60)
        .map(|nth| Spot { x_m: f64::from(nth * 37 % 61) * 0.61 - 3.0, y_m: f64::from(nth) * 0.49 })
        .collect();
    let around = surface.around(&spots);
    let season = report.seasons[1].season;
    let rounds = plot.rounds(|score| plot.season_of(score) == season);
    let day = rounds[0].last_day;
    let mut told = 0;
    for (span, until) in [(Span::Season(season), None), (Span::Until(season, day), Some(day))] {
        for (nth, (found, at)) in surface.pressures(&around, span).iter().zip(&spots).enumerate() {
            let [tissue, share, scored, witnesses] =
                plainly(&plot, &report, (season, until), *at, None);
            let gated = |told: f64, value: f64| (told >= LEAST_TOLD).then_some(value);
            check_close(found.inoculum, gated(scored, tissue), &format!("tissue at {nth}"));
            check_close(found.witness_share, gated(witnesses, share), &format!("share at {nth}"));
            told += usize::from(found.witness_share.is_some());
        }
    }
    assert!((60..120).contains(&told), "some spots tell and some do not: {told}");
}

#[test]
fn leaving_the_tree_out_it_is_what_the_report_says_of_it() {
    let (plot, report) = judged();
    for line in report.trees.iter().step_by(7) {
        let at = plot.tree(line.tree).spot();
        let seasons = report
            .seasons
            .iter()
            .map(|season| plainly(&plot, &report, (season.season, None), at, Some(line.tree)));
        let most = |nth: usize| seasons.clone().map(|one| one[nth]).fold(0.0, f64::max);
        let around = &line.judgement.neighbours;
        check_close(Some(most(0)), Some(around.inoculum), "inoculum");
        check_close(Some(most(1)), Some(around.witness_share), "witness share");
        check_close(Some(most(3)), Some(around.witnesses), "witnesses");
    }
}

#[test]
fn all_rounds_are_the_worst_season_and_a_season_only_grows() {
    let (plot, report) = judged();
    let surface = PressureSurface::of(&plot, &report).expect("a surface");
    let spots: Vec<Spot> =
        (0..40).map(|nth| Spot { x_m: f64::from(nth), y_m: f64::from(nth % 7) * 3.1 }).collect();
    let around = surface.around(&spots);
    let all = surface.pressures(&around, Span::All);
    let by_season: Vec<Vec<Pressure>> = report
        .seasons
        .iter()
        .map(|season| surface.pressures(&around, Span::Season(season.season)))
        .collect();
    for (nth, all) in all.iter().enumerate() {
        let worst = |of: fn(&Pressure) -> Option<f64>| {
            by_season.iter().filter_map(|season| of(&season[nth])).reduce(f64::max)
        };
        assert_eq!(all.inoculum, worst(|one| one.inoculum));
        assert_eq!(all.witness_share, worst(|one| one.witness_share));
    }
    let season = report.seasons[0].season;
    let mut before = vec![0.0; spots.len()];
    for round in plot.rounds(|score| plot.season_of(score) == season) {
        let now = surface.pressures(&around, Span::Until(season, round.last_day));
        for (before, now) in before.iter_mut().zip(now) {
            let now = now.inoculum.unwrap_or(0.0);
            assert!(now >= *before, "tissue once seen stays to the season's end");
            *before = now;
        }
    }
}

/// Nine trees in a square of three by three, the middle one diseased, under a stated kernel.
fn square(spread: Spread, turn: impl Fn(i32, i32) -> (i32, i32)) -> (Plot, Report) {
    let (mut trees, mut scores) = (Vec::new(), Vec::new());
    for row in -1..=1 {
        for place in -1..=1 {
            let id = format!("{row} {place}");
            let (x, y) = turn(place, row);
            let mut one = tree(&id, 1, 1);
            one.location.spot = Some(Spot { x_m: f64::from(x) * 2.0, y_m: f64::from(y) * 2.0 });
            trees.push(one);
            let value = if (row, place) == (0, 0) { 2.0 } else { 0.0 };
            scores.push(score(&id, "leaf", Some(value), "2031-06-01"));
        }
    }
    let plot = plot_of(&trees, &scores);
    let (_, mut report) = judged();
    let mut fit = report.fit.take().expect("a fit");
    (fit.spread, fit.prior_witnesses) = (spread, 1.0);
    let mut own = Run::to_the_end(&plot, "scab", &Options::default()).expect("a report");
    own.trees.iter_mut().for_each(|line| line.could_have = Some(1.0));
    own.fit = Some(fit);
    (plot, own)
}

fn one_at(plot: &Plot, report: &Report, x_m: f64, y_m: f64) -> Pressure {
    let surface = PressureSurface::of(plot, report).expect("a surface");
    surface.pressures(&surface.around(&[Spot { x_m, y_m }]), Span::All)[0]
}

const ROUND: Spread =
    Spread { kernel: Kernel::Exponential { half_distance_m: 2.0 }, ellipse: Ellipse::CIRCLE };

#[test]
fn by_hand_at_a_diseased_tree_and_one_half_distance_off() {
    let (plot, report) = square(ROUND, |x, y| (x, y));
    // The diseased tree itself: severity 0.5 at weight 1; half of it one half-distance away.
    let close = |found: Option<f64>, expected: f64| {
        assert!((found.expect("told") - expected).abs() < 1e-6, "{found:?} {expected}");
    };
    close(one_at(&plot, &report, 0.0, 0.0).inoculum, 0.5);
    close(one_at(&plot, &report, 2.0, 0.0).inoculum, 0.25);
    // Witnesses 1 + 4·2^−1 + 4·2^−√2, of these infected 1; the plot's share is 1/9 and k is 1.
    let witnesses = 1.0 + 4.0 * 0.5 + 4.0 * libm::exp2(-libm::sqrt(2.0));
    let share = (1.0 + 1.0 / 9.0) / (witnesses + 1.0);
    close(one_at(&plot, &report, 0.0, 0.0).witness_share, share);
    assert_eq!(one_at(&plot, &report, 30.0, 0.0), Pressure::default(), "far from any tree");
}

#[test]
fn turning_or_mirroring_the_plot_turns_the_surface() {
    let long = Spread { ellipse: Ellipse::turned(2.0, 0.5, 0.0), ..ROUND };
    let upright = Spread { ellipse: Ellipse::turned(2.0, 0.5, 90.0), ..ROUND };
    let (plot, report) = square(long, |x, y| (x, y));
    let (turned, its_report) = square(upright, |x, y| (-y, x));
    let (mirrored, mirror_report) = square(long, |x, y| (-x, y));
    for (x, y) in [(0.3, 0.1), (2.7, -1.2), (-1.0, 2.9), (3.5, 0.0)] {
        let here = one_at(&plot, &report, x, y);
        for there in [
            one_at(&turned, &its_report, -y, x),
            one_at(&mirrored, &mirror_report, -x, y),
            one_at(&plot, &report, -x, -y),
        ] {
            check_close(here.inoculum, there.inoculum, "tissue");
            check_close(here.witness_share, there.witness_share, "share");
        }
    }
    let along = one_at(&plot, &report, 3.0, 0.0).inoculum;
    let across = one_at(&plot, &report, 0.0, 3.0).inoculum;
    assert!(along > across, "farther along the axis: {along:?} {across:?}");
}

#[test]
fn resistant_neighbours_are_no_witnesses() {
    let (plot, mut report) = square(ROUND, |x, y| (x, y));
    report.trees.iter_mut().for_each(|line| line.could_have = Some(0.0));
    let here = one_at(&plot, &report, 0.0, 0.0);
    assert_eq!(here.witness_share, None);
    assert!(here.inoculum.is_some(), "their tissue still stands there");
}

#[test]
fn without_a_fit_there_is_no_surface() {
    let plot = plot_of(&[tree("A", 1, 1)], &[score("A", "leaf", Some(0.0), "2031-06-01")]);
    let report = Run::to_the_end(&plot, "scab", &Options::default()).expect("a report");
    assert!(PressureSurface::of(&plot, &report).is_none());
}
