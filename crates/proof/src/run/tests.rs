//! What a judgement does at the edges of what data can carry, and the laws it keeps.

use plot::{Role, ScoreDraft, TreeDraft};

use super::*;
use crate::testing::{copy_of, cross, plot_of, score, tree, with_role};
use crate::{Reason, Verdict};

fn report(trees: &[TreeDraft], scores: &[ScoreDraft]) -> Report {
    Run::to_the_end(&plot_of(trees, scores), "scab", &Options::default()).expect("a report")
}

/// Every number of a report is a number, every probability one.
fn check_sound(report: &Report) {
    let text = serde_json::to_string(report).expect("text");
    assert!(!text.contains("null,\"low\"") && !text.contains("NaN"), "{text}");
    for judgement in report
        .trees
        .iter()
        .map(|line| &line.judgement)
        .chain(report.genotypes.iter().map(|line| &line.judgement))
    {
        if let Some(luck) = judgement.luck {
            assert!(0.0 <= luck.low && luck.low <= luck.value, "{luck:?}");
            assert!(luck.value <= luck.high && luck.high <= 1.0, "{luck:?}");
            assert_ne!(judgement.verdict, Verdict::Infected);
        } else {
            assert_eq!(judgement.verdict, Verdict::Infected);
        }
        assert!(judgement.dose.is_none_or(|dose| dose.is_finite() && dose >= 0.0));
        assert!((0.0..=1.0).contains(&judgement.neighbours.witness_share));
    }
}

/// `rows` of twelve trees; `infected` says which of them show scab in round two.
fn stand(rows: i32, infected: impl Fn(i32, i32) -> bool) -> (Vec<TreeDraft>, Vec<ScoreDraft>) {
    let (mut trees, mut scores) = (Vec::new(), Vec::new());
    for row in 1..=rows {
        for place in 1..=12 {
            let id = format!("R{row:02}-{place:02}");
            trees.push(tree(&id, row, place));
            scores.push(score(&id, "leaf", Some(0.0), "2031-06-01"));
            let value = if infected(row, place) { 1.0 } else { 0.0 };
            scores.push(score(&id, "leaf", Some(value), "2031-07-01"));
        }
    }
    (trees, scores)
}

#[test]
fn asks_for_a_disease_that_a_trait_has() {
    let plot = plot_of(&[tree("A", 1, 1)], &[]);
    let refused = Run::new(&plot, "rust", &Options::default()).expect_err("no such disease");
    assert_eq!(
        refused.to_string(),
        "no trait of this plot counts for the disease \"rust\"; it has scab, blight"
    );
}

#[test]
fn nobody_infected_leaves_everyone_untested() {
    let (trees, scores) = stand(6, |_, _| false);
    let report = report(&trees, &scores);
    check_sound(&report);
    assert_eq!(report.limits, [Limit::NobodyInfected]);
    assert!(report.trees.iter().all(|line| line.judgement.verdict == Verdict::Untested));
    assert_eq!(report.fit, None);
}

#[test]
fn too_few_infected_leave_everyone_else_untested() {
    let (trees, scores) = stand(6, |row, place| row == 1 && place <= 2);
    let report = report(&trees, &scores);
    check_sound(&report);
    assert_eq!(report.limits, [Limit::TooFewInfected { infected: 2, needed: 3 }]);
    let untested =
        report.trees.iter().filter(|line| line.judgement.verdict == Verdict::Untested).count();
    assert_eq!(untested, 70);
}

#[test]
fn few_infected_fix_the_kernel_and_say_so() {
    let (trees, scores) = stand(6, |row, place| row <= 2 && place <= 6);
    let report = report(&trees, &scores);
    check_sound(&report);
    assert_eq!(report.limits[0], Limit::KernelFixed { infected: 12, needed: 20 });
    assert!(report.fit.is_some());
}

#[test]
fn all_infected_leave_nothing_to_judge() {
    let (trees, scores) = stand(4, |_, _| true);
    let report = report(&trees, &scores);
    check_sound(&report);
    assert!(report.limits.contains(&Limit::NobodyClean));
    assert!(report.trees.iter().all(|line| line.judgement.luck.is_none()));
}

#[test]
fn odd_plots_give_sound_numbers() {
    let lone = report(&[tree("A", 1, 1)], &[score("A", "leaf", Some(0.0), "2031-06-01")]);
    check_sound(&lone);
    assert_eq!(lone.trees[0].judgement.verdict, Verdict::Untested);

    // All at one spot: no distance, no neighbour further than any other.
    let (trees, scores) = stand(4, |_, place| place % 2 == 0);
    let heap: Vec<TreeDraft> = trees
        .into_iter()
        .map(|one| TreeDraft { location: tree("X", 1, 1).location, ..one })
        .collect();
    check_sound(&report(&heap, &scores));

    // Far wider than any kernel, a cross of one seedling, and no score at all.
    let (trees, scores) = stand(4, |_, place| place % 2 == 0);
    let wide: Vec<TreeDraft> = trees
        .into_iter()
        .enumerate()
        .map(|(nth, mut one)| {
            one.location.place = one.location.place.map(|place| place * 500);
            if nth == 0 {
                one.cross = cross("lone", "one");
            }
            one
        })
        .collect();
    check_sound(&report(&wide, &scores));
    let nothing = report(&[tree("A", 1, 1)], &[]);
    assert!(nothing.trees.is_empty());
}

#[test]
fn a_quiet_corner_is_not_resistance() {
    // In two seasons scab takes all of rows 1 to 6 but every sixth tree, and none of rows 9 to 12.
    let sick = |row: i32, place: i32| row <= 6 && (row * 12 + place) % 6 != 0;
    let (trees, mut scores) = stand(12, sick);
    scores.extend(stand(12, sick).1.into_iter().map(|one| {
        let day = one.scored_on.to_string().replace("2031", "2032");
        score(one.tree.as_str(), "leaf", one.value, &day)
    }));
    let report = report(&trees, &scores);
    check_sound(&report);
    let luck = |row: i32, place: i32| {
        let id = format!("R{row:02}-{place:02}");
        let at = trees.iter().position(|tree| tree.id.as_str() == id).expect("a tree");
        report.trees[at].judgement.luck.expect("a clean tree").value
    };
    assert!(luck(3, 6) < 0.5 * luck(12, 6), "{} {}", luck(3, 6), luck(12, 6));
    assert!(report.trees.iter().all(|line| line.judgement.luck.is_none_or(|luck| {
        luck.value > Verdict::PROVEN_AT_MOST || trees[line.tree.get()].location.row <= Some(7)
    })));
}

#[test]
fn copies_prove_more_than_one_tree_and_a_sick_copy_speaks_for_all() {
    let (mut trees, scores) = stand(8, |row, place| (row * 5 + place * 7) % 3 != 0);
    let clean_at = |row: i32, place: i32| (row * 5 + place * 7) % 3 == 0;
    let mut clean: Vec<usize> = Vec::new();
    for (nth, tree) in trees.iter().enumerate() {
        let at = tree.location.row.zip(tree.location.place).expect("a place");
        if clean_at(at.0, at.1) && (3..=6).contains(&at.0) {
            clean.push(nth);
        }
    }
    let alone = report(&trees, &scores);
    for &nth in &clean[..3] {
        trees[nth] = copy_of("G", trees[nth].clone());
    }
    let together = report(&trees, &scores);
    let luck =
        |report: &Report, nth: usize| report.trees[nth].judgement.luck.expect("a clean tree").value;
    assert!(luck(&together, clean[0]) < luck(&alone, clean[0]));
    let sick = trees.iter().position(|tree| {
        tree.location.row.zip(tree.location.place).is_some_and(|at| !clean_at(at.0, at.1))
    });
    let sick = sick.expect("a sick tree");
    trees[sick] = copy_of("G", trees[sick].clone());
    let spoilt = report(&trees, &scores);
    assert!(luck(&spoilt, clean[0]) > 0.8, "{}", luck(&spoilt, clean[0]));
    assert!(
        spoilt.trees[clean[0]]
            .judgement
            .reasons
            .contains(&Reason::CopyInfected { tree: plot::TreeIx::new(sick) })
    );
    let pooled = spoilt.genotypes.iter().find(|line| line.genotype.as_str() == "G");
    assert_eq!(pooled.expect("the genotype").judgement.verdict, Verdict::Infected);
}

#[test]
fn known_checks_are_never_proven_by_their_name() {
    let (mut trees, scores) = stand(8, |row, place| (row + place) % 2 == 0);
    let clean = trees.iter().position(|tree| tree.id.as_str() == "R04-05").expect("a tree");
    trees[clean] = with_role(Role::SusceptibleCheck, trees[clean].clone());
    let judged = report(&trees, &scores);
    let judgement = &judged.trees[clean].judgement;
    assert_eq!(judgement.verdict, Verdict::Untested);
    assert_eq!(judgement.luck.expect("clean").value, 1.0);
    assert!(judgement.reasons.contains(&Reason::KnownSusceptible));
}

#[test]
fn the_order_of_lines_and_a_shift_of_the_plot_change_nothing() {
    let (trees, scores) = stand(6, |row, place| (row * 7 + place * 3) % 4 == 0);
    let straight = report(&trees, &scores);
    let turned_round: (Vec<_>, Vec<_>) =
        (trees.iter().rev().cloned().collect(), scores.iter().rev().cloned().collect());
    let backwards = report(&turned_round.0, &turned_round.1);
    let shifted: Vec<TreeDraft> = trees
        .iter()
        .cloned()
        .map(|mut one| {
            one.location.row = one.location.row.map(|row| row + 100);
            one
        })
        .collect();
    let shifted = report(&shifted, &scores);
    for nth in 0..trees.len() {
        let one = &straight.trees[nth].judgement;
        let other = &backwards.trees[trees.len() - 1 - nth].judgement;
        assert_eq!((one.luck, one.dose), (other.luck, other.dose), "tree {nth}");
        let moved = &shifted.trees[nth].judgement;
        let far = |a: Option<f64>, b: Option<f64>| (a.unwrap_or(0.0) - b.unwrap_or(0.0)).abs();
        assert!(far(one.dose, moved.dose) < 1e-9, "tree {nth}");
    }
}
