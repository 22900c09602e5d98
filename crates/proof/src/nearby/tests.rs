//! Who counts how much, and what was known when.

use plot::{ScoreDraft, Season, TreeDraft};
use spatial::{Ellipse, Kernel};

use super::*;
use crate::testing::{plot_of, score, tree};
use crate::{Fit, Options, ReachPart, Run, Spread};

/// Half at 1 m along the row, at ½ m across it.
fn reach() -> Reach {
    Reach::of([ReachPart {
        share: 1.0,
        kernel: Kernel::Exponential { half_distance_m: 1.0 },
        ellipse: Ellipse::new(1.0, 0.5),
    }])
}

/// Places 1 m and rows 3 m apart. `A` stands in the middle; `E` is 2 m along, `N` 3 m across, `W`
/// 1 m along the other way.
fn trees() -> Vec<TreeDraft> {
    vec![tree("A", 2, 3), tree("E", 2, 5), tree("N", 3, 3), tree("W", 2, 2)]
}

fn scores() -> Vec<ScoreDraft> {
    vec![
        score("A", "leaf", Some(0.0), "2031-06-01"),
        score("E", "leaf", Some(0.0), "2031-06-01"),
        score("E", "leaf", Some(2.0), "2031-07-01"),
        score("E", "leaf", Some(1.0), "2031-08-01"),
        score("W", "leaf", Some(0.0), "2031-07-01"),
        score("N", "fruit", Some(2.0), "2030-07-01"),
    ]
}

/// The report of the scores, with a fit and with `could_have` of each scored tree.
fn report(plot: &Plot, could_have: impl Fn(&str) -> f64) -> Report {
    let mut report = Run::to_the_end(plot, "scab", &Options::default()).expect("a report");
    for line in &mut report.trees {
        line.could_have = Some(could_have(plot.tree(line.tree).id().as_str()));
    }
    report.fit = Some(Fit {
        half_distance_m: 1.0,
        kernels: Vec::new(),
        spread: Spread { kernel: reach().parts()[0].kernel, ellipse: reach().parts()[0].ellipse },
        prior_witnesses: 1.0,
        reach: reach(),
        evenness: 1.0,
        frailty_sd: 0.7,
        leak: 0.02,
        vigour_effect: 0.0,
        tissue_power: 0.0,
        passes: 1,
        log_likelihood: 0.0,
    });
    report
}

fn around(span: Span, k: usize) -> (Plot, Nearby) {
    let plot = plot_of(&trees(), &scores());
    let report = report(&plot, |id| if id == "E" { 0.5 } else { 1.0 });
    let tree = plot.tree_ix("A").expect("a tree");
    let asked = Asked { plot: &plot, report: Some(&report), disease: "scab", span };
    let around = Surroundings::of(&plot).nearby(asked, tree, k);
    (plot, around)
}

fn by_id<'a>(plot: &Plot, around: &'a Nearby, id: &str) -> &'a Neighbour {
    let is = |one: &&Neighbour| plot.tree(one.tree).id().as_str() == id;
    around.nearest.iter().find(is).expect("a neighbour")
}

fn until(season: i32, day: Option<&str>) -> Span {
    match day {
        Some(day) => Span::Until(Season(season), plot::When::parse_date(day).expect("a day")),
        None => Span::Season(Season(season)),
    }
}

#[test]
fn weights_follow_the_kernel_and_who_could_have_been_infected_and_add_up_to_one() {
    let (plot, around) = around(Span::All, 8);
    // W: 2^-1 · 1; E: 2^-2 · 0.5; N: 6 half-distances across, 2^-6 = 0.0156.
    let raw = [("W", 0.5), ("E", 0.125), ("N", 0.015_625)];
    let sum: f64 = raw.iter().map(|(_, raw)| raw).sum();
    for (id, raw) in raw {
        let weight = by_id(&plot, &around, id).weight.expect("a weight");
        assert!((weight - raw / sum).abs() < 1e-12, "{id} {weight}");
    }
    let infected = around.infected_weight.expect("a weight");
    assert!((infected - (0.125 + 0.015_625) / sum).abs() < 1e-12);
    assert_eq!((around.farther, around.farther_weight), (0, Some(0.0)));
}

#[test]
fn those_farther_away_are_told_together() {
    let (plot, all) = around(Span::All, 8);
    let (_, around) = around(Span::All, 1);
    assert_eq!(around.nearest.len(), 1);
    assert_eq!(around.nearest[0].weight, by_id(&plot, &all, "W").weight);
    assert_eq!(around.farther, 2);
    let beyond = 1.0 - around.nearest[0].weight.expect("a weight");
    assert!((around.farther_weight.expect("a weight") - beyond).abs() < 1e-12);
    assert_eq!(around.infected_weight, all.infected_weight);
}

#[test]
fn a_moment_knows_its_season_up_to_its_day() {
    let known = |season, day: Option<&str>, id: &str| {
        let (plot, around) = around(until(season, day), 8);
        let one = by_id(&plot, &around, id);
        (one.known.severity, one.known.infected.clone().map(|look| look.on.to_string()))
    };
    assert_eq!(known(2031, Some("2031-06-01"), "E"), (Some(0.0), None));
    assert_eq!(known(2031, Some("2031-06-01"), "W"), (None, None));
    let seen = Some("2031-07-01".to_owned());
    assert_eq!(known(2031, Some("2031-07-01"), "E"), (Some(0.5), seen.clone()));
    // At its worst in July, though less was seen in August.
    assert_eq!(known(2031, None, "E"), (Some(0.5), seen));
    // Another season's scores say nothing of this one.
    assert_eq!(known(2031, None, "N"), (None, None));
    assert_eq!(known(2030, None, "N").0, Some(0.2));
    assert_eq!(known(2030, None, "E").0, None);
}

#[test]
fn at_a_moment_only_those_looked_at_by_then_weigh() {
    let (plot, around) = around(until(2031, Some("2031-06-01")), 8);
    assert_eq!(by_id(&plot, &around, "E").weight, Some(1.0));
    assert_eq!(by_id(&plot, &around, "W").weight, None);
    assert_eq!(around.infected_weight, Some(0.0));
    assert_eq!(around.own.severity, Some(0.0));
}

#[test]
fn without_a_fit_nobody_weighs_and_distance_is_told() {
    let plot = plot_of(&trees(), &scores());
    let tree = plot.tree_ix("A").expect("a tree");
    let asked = Asked { plot: &plot, report: None, disease: "scab", span: Span::All };
    let around = Surroundings::of(&plot).nearby(asked, tree, 8);
    assert!(around.nearest.iter().all(|one| one.weight.is_none()));
    assert_eq!((around.farther, around.farther_weight, around.infected_weight), (0, None, None));
    let distances: Vec<f64> = around.nearest.iter().map(|one| one.distance_m).collect();
    assert_eq!(distances, [1.0, 2.0, 3.0]);
}

#[test]
fn who_was_not_planted_yet_or_gone_before_is_no_neighbour() {
    let mut old = tree("old", 2, 4);
    old.removed_on = plot::When::parse_date("2030-11-20");
    let mut new = tree("new", 2, 4);
    new.planted_on = plot::When::parse_date("2031-06-15");
    let plot = plot_of(&[tree("A", 2, 3), old, new], &[]);
    let tree = plot.tree_ix("A").expect("a tree");
    let surroundings = Surroundings::of(&plot);
    let who = |span| -> Vec<String> {
        let asked = Asked { plot: &plot, report: None, disease: "scab", span };
        let around = surroundings.nearby(asked, tree, 8);
        around.nearest.iter().map(|one| plot.tree(one.tree).id().to_string()).collect()
    };
    assert_eq!(who(Span::All), ["new", "old"]);
    assert_eq!(who(until(2030, None)), ["old"]);
    assert_eq!(who(until(2031, Some("2031-06-14"))), [""; 0]);
    assert_eq!(who(until(2031, Some("2031-06-15"))), ["new"]);
}

#[test]
fn weights_are_those_of_the_fit() {
    // A stand whose disease comes from one corner, judged for real.
    let (mut trees, mut scores) = (Vec::new(), Vec::new());
    for row in 1..=6 {
        for place in 1..=12 {
            let id = format!("R{row:02}-{place:02}");
            trees.push(tree(&id, row, place));
            let value = if row * 2 + place < 12 { 2.0 } else { 0.0 };
            scores.push(score(&id, "leaf", Some(value), "2031-07-01"));
        }
    }
    let plot = plot_of(&trees, &scores);
    let report = Run::to_the_end(&plot, "scab", &Options::default()).expect("a report");
    let reach = report.fit.as_ref().expect("a fit").reach.clone();
    let tree = plot.tree_ix("R03-06").expect("a tree");
    let asked = Asked { plot: &plot, report: Some(&report), disease: "scab", span: Span::All };
    let around = Surroundings::of(&plot).nearby(asked, tree, 4);
    let here = plot.tree(tree).spot();
    let raw = |one: &Neighbour| {
        let there = plot.tree(one.tree).spot();
        kernel(&reach, here, there) * one.could_have.expect("a probability")
    };
    let [first, last] = [&around.nearest[0], &around.nearest[3]];
    let ratio = first.weight.expect("a weight") / last.weight.expect("a weight");
    assert!((ratio / (raw(first) / raw(last)) - 1.0).abs() < 1e-9);
    let nearest: f64 = around.nearest.iter().filter_map(|one| one.weight).sum();
    let beyond = around.farther_weight.expect("a weight");
    assert!(beyond > 0.0 && (nearest + beyond - 1.0).abs() < 1e-9);
}
