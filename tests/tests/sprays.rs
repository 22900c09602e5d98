//! A sprayed tree's cleanliness proves nothing: made-up plots of which half of the rows were kept
//! clean by sprays.

use epidemic::{Kind, make};
use plot::{Event, Kind as TraitKind, Plot, Role, ScoreDraft, TreeIx};
use proof::{Options, Reason, Run, TreeReport};

/// The plot with every look at a tree of an even row clean, and a spray of these rows early in each
/// season, where `told`.
fn sprayed(plot: &Plot, told: bool) -> Plot {
    let mut sprayed = Plot::new(plot.head().clone()).expect("a head");
    for tree in plot.trees() {
        sprayed.add_tree(tree.draft().clone()).expect("a tree");
    }
    for score in plot.scores() {
        let clean = match &plot.trait_of(score.trait_ix).kind {
            TraitKind::Ordinal(scale) => scale.steps().iter().find(|it| it.severity == Some(0.0)),
            TraitKind::Number { .. } => None,
        };
        let value = match clean {
            Some(clean) if is_sprayed(plot, score.tree) => score.value.map(|_| clean.value),
            _ => score.value,
        };
        sprayed
            .add_score(ScoreDraft {
                id: score.id.clone(),
                tree: plot.tree(score.tree).id().clone(),
                trait_id: plot.trait_of(score.trait_ix).id.clone(),
                value,
                scored_on: score.scored_on,
                round: score.round.clone(),
                scorer: score.scorer.clone(),
                note: score.note.clone(),
                replaces: score.replaces.clone(),
            })
            .expect("a score");
    }
    let even: Vec<_> =
        plot.trees().iter().filter_map(plot::Tree::row).filter(|row| row % 2 == 0).collect();
    let years: std::collections::BTreeSet<i32> =
        plot.scores().iter().map(|score| score.scored_on.date().year()).collect();
    if told {
        sprayed.set_events(
            years
                .into_iter()
                .map(|year| {
                    let day = plot::When::parse_date(&format!("{year}-03-20")).expect("a day");
                    let rows = even.iter().map(|&row| row..=row).collect();
                    Event { from: day, to: day, kind: "spray".into(), rows, note: None }
                })
                .collect(),
        );
    }
    sprayed
}

fn is_sprayed(plot: &Plot, tree: TreeIx) -> bool {
    plot.tree(tree).row().is_some_and(|row| row % 2 == 0)
}

/// Luck of the clean seedlings of sprayed rows by themselves; copies are left out: another one may
/// have been tested elsewhere.
fn lucks(plot: &Plot, disease: &str, told: bool) -> Vec<f64> {
    let report = Run::to_the_end(plot, disease, &Options::default()).expect("a disease");
    let alone = |tree: TreeIx| {
        let tree = plot.tree(tree);
        tree.role() == Role::Seedling && tree.genotype().as_str() == tree.id().as_str()
    };
    let of_sprayed = report.trees.iter().filter(|it| is_sprayed(plot, it.tree) && alone(it.tree));
    let luck = |it: &TreeReport| {
        let judgement = &it.judgement;
        let says_so = judgement.reasons.iter().any(|it| matches!(it, Reason::Sprayed { .. }));
        assert_eq!(says_so, told, "{judgement:?}");
        assert_eq!(judgement.dose == Some(0.0), told, "{judgement:?}");
        assert_eq!(judgement.seasons_scored == 0, told, "{judgement:?}");
        judgement.luck.expect("a clean tree, and a fit").value
    };
    of_sprayed.map(luck).collect()
}

/// Nobody knows more of such a tree than of any other seedling of its cross.
#[test]
fn a_spray_is_not_taken_for_resistance() {
    let (mut silent, mut told) = (Vec::new(), Vec::new());
    for seed in 8_001..=8_008 {
        let made = make(&Kind::Blocks.recipe(seed), seed).expect("a plot");
        let disease = &made.truth[0].disease;
        silent.extend(lucks(&sprayed(&made.plot, false), disease, false));
        told.extend(lucks(&sprayed(&made.plot, true), disease, true));
    }
    let mean = |lucks: &[f64]| lucks.iter().sum::<f64>() / lucks.len() as f64;
    assert_eq!(silent.len(), told.len());
    assert!(told.len() > 1_500, "{} trees", told.len());
    let (silent, told) = (mean(&silent), mean(&told));
    assert!(told > silent + 0.02, "mean luck {told:.3} said, {silent:.3} unsaid");
}
