//! What tests of this crate share: plots of a few trees, dense algebra by plain elimination.

use plot::{
    Head, Kind, Layout, Plot, Scale, ScoreDraft, ScoreId, Step, Trait, TraitId, TreeDraft, TreeId,
    When,
};

/// Logarithm of the determinant of a positive definite matrix.
pub(crate) fn log_determinant(mut full: Vec<Vec<f64>>) -> f64 {
    let mut log = 0.0;
    for k in 0..full.len() {
        let pivot = full[k].clone();
        log += pivot[k].ln();
        for row in full.iter_mut().skip(k + 1) {
            let share = row[k] / pivot[k];
            row.iter_mut().zip(&pivot).for_each(|(entry, above)| *entry -= share * above);
        }
    }
    log
}

/// A plot of so many rows and places, all trees of cross A × B: T1-1, T1-2 …; with a trunk
/// diameter in mm, a visual score and shoot blight.
pub(crate) fn field(rows: i32, places: i32) -> Plot {
    let plain = |id: &str, kind| Trait {
        id: TraitId::new(id),
        disease: None,
        label: id.to_owned(),
        kind,
        needs: None,
    };
    let scale = |steps: &[(f64, Option<f64>)]| {
        let step = |&(value, severity): &(f64, Option<f64>)| Step {
            value,
            label: value.to_string(),
            severity,
        };
        Kind::Ordinal(Scale::new(steps.iter().map(step).collect()).expect("a scale"))
    };
    let number = |unit: &str| Kind::Number { unit: Some(unit.to_owned()), min: None, max: None };
    let blight = scale(&[(0.0, None), (1.0, Some(0.0)), (2.0, Some(0.1)), (3.0, Some(0.5))]);
    let mut plot = Plot::new(Head {
        name: "Test bank".into(),
        layout: Layout { row_spacing_m: 3.0, place_spacing_m: 1.0, first_row: 1, first_place: 1 },
        origin: None,
        season_starts_month: 1,
        traits: vec![
            plain("trunk_diameter", number("mm")),
            plain("vigour", scale(&[(3.0, None), (5.0, None), (7.0, None)])),
            Trait { disease: Some("fire_blight".into()), ..plain("shoot_blight", blight) },
        ],
        diseases: Default::default(),
        crosses: Vec::new(),
    })
    .expect("a plot");
    for row in 1..=rows {
        for place in 1..=places {
            let mut draft = TreeDraft::new(TreeId::new(format!("T{row}-{place}")));
            draft.location.row = Some(row);
            draft.location.place = Some(place);
            draft.cross.seed_parent = Some("A".into());
            draft.cross.pollen_parent = Some("B".into());
            plot.add_tree(draft).expect("a tree");
        }
    }
    plot
}

/// Takes a score.
pub(crate) fn score(plot: &mut Plot, tree: &str, of: &str, value: Option<f64>, on: &str) {
    let id = format!("s{}", plot.scores().len());
    plot.add_score(ScoreDraft {
        id: ScoreId::new(id),
        tree: TreeId::new(tree),
        trait_id: TraitId::new(of),
        value,
        scored_on: When::parse(on).expect("a day"),
        round: None,
        scorer: None,
        note: None,
        replaces: None,
    })
    .expect("a score");
}
