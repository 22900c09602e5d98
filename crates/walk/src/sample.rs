//! A small invented plot for this crate's tests.

use plot::{
    CrossKey, GenotypeId, Head, Kind, Layout, Plot, Scale, ScoreDraft, ScoreId, Status, Step,
    Trait, TraitId, TreeDraft, TreeId, TreeIx, When,
};

/// Traits `scab` (0 to 2; 9 says not observed), `blight` of fire blight (0 and 1) and `trunk`.
pub(crate) fn head() -> Head {
    let step = |value: f64, label: &str, severity| Step { value, label: label.into(), severity };
    let scab = vec![
        step(0.0, "none seen", Some(0.0)),
        step(1.0, "a few", Some(0.01)),
        step(2.0, "many", Some(0.25)),
        step(9.0, "not observed", None),
    ];
    let blight = vec![step(0.0, "none", Some(0.0)), step(1.0, "strikes", Some(0.1))];
    let one = |id: &str, disease: Option<&str>, kind| Trait {
        id: TraitId::new(id),
        disease: disease.map(str::to_owned),
        label: id.to_owned(),
        kind,
        needs: None,
    };
    let scale = |steps| Kind::Ordinal(Scale::new(steps).expect("a scale"));
    Head {
        name: "Sample".into(),
        layout: Layout { row_spacing_m: 3.0, place_spacing_m: 1.0, first_row: 1, first_place: 1 },
        origin: None,
        season_starts_month: 1,
        traits: vec![
            one("scab", Some("scab"), scale(scab)),
            one("blight", Some("fire_blight"), scale(blight)),
            one("trunk", None, Kind::Number { unit: None, min: Some(0.0), max: None }),
        ],
        diseases: files::built_in_diseases(),
        crosses: Vec::new(),
    }
}

/// A tree of a row and place.
pub(crate) fn tree(id: &str, row: i32, place: i32) -> TreeDraft {
    let mut draft = TreeDraft::new(TreeId::new(id));
    (draft.location.row, draft.location.place) = (Some(row), Some(place));
    draft
}

/// A tree with a tag, parents and number.
pub(crate) fn seedling(at: (i32, i32), tag: &str, parents: (&str, &str), no: &str) -> TreeDraft {
    let mut draft = tree(&format!("t{:02}{:03}", at.0, at.1), at.0, at.1);
    draft.tag = Some(tag.into());
    draft.cross =
        CrossKey { seed_parent: Some(parents.0.into()), pollen_parent: Some(parents.1.into()) };
    (draft.cross_year, draft.seedling_no) = (Some(2029), Some(no.into()));
    draft
}

/// A graft on another tree.
pub(crate) fn graft(id: &str, on: &str, genotype: &str) -> TreeDraft {
    let mut draft = TreeDraft::new(TreeId::new(id));
    (draft.grafted_on, draft.genotype) = (Some(TreeId::new(on)), Some(GenotypeId::new(genotype)));
    draft
}

/// The same tree, no longer standing.
pub(crate) fn gone(mut draft: TreeDraft, status: Status) -> TreeDraft {
    draft.status = status;
    draft
}

/// A plot of these trees.
pub(crate) fn plot(trees: impl IntoIterator<Item = TreeDraft>) -> Plot {
    let mut plot = Plot::new(head()).expect("a head");
    for tree in trees {
        plot.add_tree(tree).expect("a tree");
    }
    plot
}

/// Two rows of the cross Marl Beauty × TR-9, one of TR-9 × Écarlate, with gaps and grafts:
///
/// ```text
/// row 1: Q-1 … Q-10
/// row 2: Q-11, Q-12 (two grafts), an empty place, Q-14 dead and Q-14b after it, no line, Q-16
/// row 3: E-01 … E-05 at places 4 to 8
/// ```
pub(crate) fn orchard() -> Plot {
    let marl = ("Marl Beauty", "TR-9");
    let mut trees: Vec<TreeDraft> =
        (1..=10).map(|no| seedling((1, no), &format!("Q-{no}"), marl, &no.to_string())).collect();
    let mut after = seedling((2, 4), "Q-14b", marl, "30");
    after.id = TreeId::new("t02004b");
    after.planted_on = When::parse_date("2032-03-01");
    trees.extend([
        seedling((2, 1), "Q-11", marl, "11"),
        seedling((2, 2), "Q-12", marl, "12"),
        graft("g1", "t02002", "Old Sixpence"),
        graft("g2", "t02002", "Pond Row"),
        gone(tree("e1", 2, 3), Status::Empty),
        gone(seedling((2, 4), "Q-14", marl, "14"), Status::Dead),
        after,
        seedling((2, 6), "Q-16", marl, "16"),
    ]);
    let scarlet = ("TR-9", "Écarlate");
    trees.extend(
        (1..=5).map(|no| seedling((3, no + 3), &format!("E-0{no}"), scarlet, &no.to_string())),
    );
    plot(trees)
}

/// The tree of an id.
pub(crate) fn ix(plot: &Plot, id: &str) -> TreeIx {
    plot.tree_ix(id).expect("a tree of the sample")
}

/// A score.
pub(crate) fn score(id: &str, tree: &str, what: &str, value: f64, day: &str) -> ScoreDraft {
    ScoreDraft {
        id: ScoreId::new(id),
        tree: TreeId::new(tree),
        trait_id: TraitId::new(what),
        value: Some(value),
        scored_on: When::parse(day).expect("a day"),
        round: None,
        scorer: None,
        note: None,
        replaces: None,
    }
}
