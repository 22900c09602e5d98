use plot::{Decision, DecisionId, TreeDraft, When};

use super::*;
use crate::testing::{plot_of, score, tree};
use crate::{Options, Run};

/// Six rows of twelve; scab in rows 1 to 3, where each third tree is clean; row 6 stays clean far from
/// it. Three trees have no score, one of them dead.
fn stand() -> (Plot, Report) {
    stand_with(|_| {})
}

fn stand_with(change: impl Fn(&mut TreeDraft)) -> (Plot, Report) {
    stand_scored(change, &[])
}

/// Of the next season nothing is known but the trees that a day's walk found clean.
fn stand_scored(change: impl Fn(&mut TreeDraft), clean_in_2032: &[&str]) -> (Plot, Report) {
    let (mut trees, mut scores) = (Vec::new(), Vec::new());
    for row in 1..=6 {
        for place in 1..=12 {
            let id = format!("R{row}-{place:02}");
            let mut draft = tree(&id, row, place);
            if (row, place) == (2, 8) {
                draft.status = Status::Dead;
            }
            change(&mut draft);
            trees.push(draft);
            if [(2, 4), (2, 8), (6, 12)].contains(&(row, place)) {
                continue;
            }
            let value = if row <= 3 && place % 3 != 0 { 1.0 } else { 0.0 };
            scores.push(score(&id, "leaf", Some(0.0), "2031-06-01"));
            scores.push(score(&id, "leaf", Some(value), "2031-07-01"));
        }
    }
    scores.extend(clean_in_2032.iter().map(|id| score(id, "leaf", Some(0.0), "2032-06-01")));
    let plot = plot_of(&trees, &scores);
    let report = Run::to_the_end(&plot, "scab", &Options::default()).expect("a report");
    (plot, report)
}

fn plan(plot: &Plot, report: &Report) -> Plan {
    Plan::of(plot, report, MOST_PROMISING)
}

fn ids(plot: &Plot, trees: impl IntoIterator<Item = TreeIx>) -> Vec<&str> {
    trees.into_iter().map(|tree| plot.tree(tree).id().as_str()).collect()
}

#[test]
fn promising_are_clean_trees_that_a_season_would_tell_more_of() {
    let (plot, report) = stand();
    let plan = plan(&plot, &report);
    assert!(!plan.promising.is_empty());
    assert!(plan.promising.is_sorted_by(|a, b| a.luck <= b.luck));
    for one in &plan.promising {
        let judgement = &report.tree(one.tree).expect("judged").judgement;
        assert!(matches!(judgement.verdict, Verdict::Leaning | Verdict::Untested));
        let settle = judgement.settle.as_ref().expect("not settled");
        match one.way {
            Way::Stay(seasons) => {
                assert_eq!(settle.seasons_needed, Some(seasons));
                assert!(settle.seasons_at_busiest.is_none_or(|there| seasons <= there + 1));
            }
            Way::Graft(seasons) => {
                assert_eq!(settle.seasons_at_busiest, Some(seasons));
                assert!(settle.seasons_needed.is_none_or(|here| here > seasons + 1));
            }
            Way::Elsewhere => {
                assert_eq!((settle.seasons_needed, settle.seasons_at_busiest), (None, None));
            }
        }
    }
    let few = Plan::of(&plot, &report, 3);
    assert_eq!(few.promising, plan.promising[..3]);
}

/// Of two seasons the quieter is expected: a tree or two must not make one of their own.
#[test]
fn a_season_just_begun_is_not_what_is_expected_of_the_next() {
    let expected = |clean_in_2032: &[&str]| -> Vec<f64> {
        let (_, report) = stand_scored(|_| {}, clean_in_2032);
        let settles = report.trees.iter().filter_map(|line| line.judgement.settle.as_ref());
        settles.map(|settle| settle.season_dose).collect()
    };
    let before = expected(&[]);
    let begun = expected(&["R6-01", "R6-02"]);
    assert_eq!(before.len(), begun.len());
    let is_near = |(a, b): (&f64, &f64)| (a / b).ln().abs() < 0.1;
    assert!(before.iter().zip(&begun).all(is_near), "{before:?} {begun:?}");
    let row: Vec<String> = (1..=11).map(|place| format!("R6-{place:02}")).collect();
    let walked = expected(&row.iter().map(String::as_str).collect::<Vec<_>>());
    assert!(before.iter().zip(&walked).all(|(a, b)| b < a), "{before:?} {walked:?}");
}

/// More is expected of a busier place.
#[test]
fn a_busy_place_settles_no_later_than_a_quiet_one() {
    let (_, report) = stand();
    let settles = report.trees.iter().filter_map(|line| line.judgement.settle.as_ref());
    let mut falls = 0;
    for settle in settles {
        let there = settle.luck_after_busiest.expect("there is a busiest place");
        assert!(there <= settle.luck_after_season);
        falls += usize::from(there < settle.luck_after_season);
        if let Some(here) = settle.seasons_needed {
            assert!(settle.seasons_at_busiest.is_some_and(|there| there <= here));
        }
    }
    assert!(falls > 0);
}

#[test]
fn a_missing_score_tells_by_how_much_and_which_way() {
    let (plot, report) = stand();
    let unscored = plot.tree_ix("R2-04").expect("a tree");
    let mut seen = 0;
    for line in &report.trees {
        let Some(settle) = &line.judgement.settle else { continue };
        assert!(settle.missing.is_sorted_by(|a, b| a.tells() >= b.tells()));
        for missing in &settle.missing {
            // Where a neighbour takes the disease, one that stays clean has come through more.
            assert!(missing.if_infected < missing.if_clean, "{missing:?}");
            seen += usize::from(missing.tree == unscored);
        }
    }
    assert!(seen > 0);
    let plan = plan(&plot, &report);
    let wanted = plan.scores.iter().find(|one| one.tree == unscored).expect("wanted");
    let of_it: Vec<f64> = plan
        .promising
        .iter()
        .filter_map(|one| report.tree(one.tree)?.judgement.settle.as_ref())
        .flat_map(|settle| settle.missing.iter().filter(|missing| missing.tree == unscored))
        .map(crate::MissingScore::tells)
        .collect();
    assert_eq!(wanted.near, of_it.len());
    assert!((wanted.tells - of_it.iter().sum::<f64>()).abs() < 1e-12);
    assert!(plan.route.contains(&unscored));
}

#[test]
fn a_check_goes_where_nothing_stands_and_promising_trees_are_near() {
    let (plot, report) = stand();
    let plan = plan(&plot, &report);
    assert_eq!(ids(&plot, plan.checks.iter().map(|check| check.place)), ["R2-08"]);
    assert!(plan.checks[0].near > 0 && plan.checks[0].gain >= LEAST_GAIN);
    // With a tree that stands there again there is no free place.
    let (plot, report) = stand_with(|draft| draft.status = Status::Alive);
    assert_eq!(super::Plan::of(&plot, &report, MOST_PROMISING).checks, []);
}

#[test]
fn a_tree_to_be_culled_frees_its_place_and_is_no_more_in_the_plan() {
    let (mut plot, report) = stand();
    let culled = plan(&plot, &report).promising[0].tree;
    let id = plot.tree(culled).id().clone();
    plot.decide(Decision {
        id: DecisionId::new("d"),
        tree: id,
        fate: Some(Fate::Cull),
        decided_on: When::parse("2031-10-01").expect("a date"),
        reason: None,
    })
    .expect("decided");
    let plan = plan(&plot, &report);
    assert!(plan.promising.iter().all(|one| one.tree != culled));
    assert!(!plan.route.contains(&culled));
    assert!(free_places(&plot).contains(&culled));
}

#[test]
fn the_walk_goes_to_promising_trees_and_their_witnesses() {
    let (plot, report) = stand();
    let plan = plan(&plot, &report);
    for one in &plan.promising {
        assert!(plan.route.contains(&one.tree));
    }
    for &tree in &plan.route {
        assert_eq!(plot.tree(tree).status(), Status::Alive);
        let is_promising = plan.promising.iter().any(|one| one.tree == tree);
        let is_unscored = plan.scores.iter().any(|one| one.tree == tree);
        let could_have = report.tree(tree).and_then(|line| line.could_have);
        assert!(is_promising || is_unscored || could_have.is_some_and(|could| could > 0.5));
    }
    assert!(plan.route.len() > plan.promising.len());
    assert!(Plan::of(&plot, &report, 0).route.is_empty());
}

#[test]
fn without_a_fit_there_is_no_plan() {
    let trees = [tree("A", 1, 1), tree("B", 1, 2)];
    let plot = plot_of(&trees, &[score("A", "leaf", Some(0.0), "2031-06-01")]);
    let report = Run::to_the_end(&plot, "scab", &Options::default()).expect("a report");
    assert_eq!(plan(&plot, &report), Plan::default());
}
