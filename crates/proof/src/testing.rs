//! Small plots for the tests of this crate, written as a few lines of text.

use std::collections::BTreeMap;

use plot::{
    Cross, CrossKey, GenotypeId, Head, Kind, Layout, Needs, Plot, Role, Scale, ScoreDraft, ScoreId,
    Step, Trait, TraitId, TreeDraft, TreeId, When, WhereGiven,
};

/// A plot with the traits `leaf` (scab: 0 clean, 1 severity 0.1, 2 severity 0.5), `fruit` (scab,
/// 0 not observed, 1 clean, 2 severity 0.2), `blossom` (blight, needs bloom of at least 1; 0
/// clean, 1 severity 0.3) and `bloom` (0 to 9).
pub(crate) fn plot_of(trees: &[TreeDraft], scores: &[ScoreDraft]) -> Plot {
    let mut plot = Plot::new(head(BTreeMap::new())).expect("a head");
    for tree in trees {
        plot.add_tree(tree.clone()).expect("a tree");
    }
    for score in scores {
        plot.add_score(score.clone()).expect("a score");
    }
    plot
}

fn head(expected_resistant: BTreeMap<String, f64>) -> Head {
    Head {
        name: "Made for a test".to_owned(),
        layout: Layout { row_spacing_m: 3.0, place_spacing_m: 1.0, first_row: 1, first_place: 1 },
        origin: None,
        season_starts_month: 1,
        traits: vec![
            graded("leaf", Some("scab"), &[Some(0.0), Some(0.1), Some(0.5)], None),
            graded("fruit", Some("scab"), &[None, Some(0.0), Some(0.2)], None),
            graded("blossom", Some("blight"), &[Some(0.0), Some(0.3)], Some("bloom")),
            Trait {
                id: TraitId::new("bloom"),
                disease: None,
                label: "Bloom".to_owned(),
                kind: Kind::Number { unit: None, min: Some(0.0), max: Some(9.0) },
                needs: None,
            },
        ],
        diseases: Default::default(),
        crosses: vec![Cross { key: cross("S", "P"), expected_resistant }],
    }
}

fn graded(
    id: &str,
    disease: Option<&str>,
    severities: &[Option<f64>],
    needs: Option<&str>,
) -> Trait {
    let steps = severities
        .iter()
        .enumerate()
        .map(|(value, &severity)| Step { value: value as f64, label: String::new(), severity })
        .collect();
    Trait {
        id: TraitId::new(id),
        disease: disease.map(str::to_owned),
        label: id.to_owned(),
        kind: Kind::Ordinal(Scale::new(steps).expect("a scale")),
        needs: needs.map(|id| Needs { trait_id: TraitId::new(id), at_least: 1.0 }),
    }
}

pub(crate) fn cross(seed_parent: &str, pollen_parent: &str) -> CrossKey {
    CrossKey { seed_parent: Some(seed_parent.into()), pollen_parent: Some(pollen_parent.into()) }
}

pub(crate) fn tree(id: &str, row: i32, place: i32) -> TreeDraft {
    TreeDraft {
        location: WhereGiven { row: Some(row), place: Some(place), ..WhereGiven::default() },
        cross: cross("S", "P"),
        ..TreeDraft::new(TreeId::new(id))
    }
}

pub(crate) fn with_role(role: Role, tree: TreeDraft) -> TreeDraft {
    TreeDraft { role, ..tree }
}

pub(crate) fn copy_of(genotype: &str, tree: TreeDraft) -> TreeDraft {
    TreeDraft { genotype: Some(GenotypeId::new(genotype)), ..tree }
}

/// A score with an id of its own, made from what it says.
pub(crate) fn score(tree: &str, trait_id: &str, value: Option<f64>, day: &str) -> ScoreDraft {
    ScoreDraft {
        id: ScoreId::new(format!("{tree} {trait_id} {day}")),
        tree: TreeId::new(tree),
        trait_id: TraitId::new(trait_id),
        value,
        scored_on: When::parse(day).expect("a date"),
        round: None,
        scorer: None,
        note: None,
        replaces: None,
    }
}
