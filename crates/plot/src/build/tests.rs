//! What a plot refuses, and what it makes of corrections, grafts and rounds.

use super::*;
use crate::TreeId;
use crate::{Kind, Needs, Scale, Step, TreeCell, When};

fn trait_with_scale(id: &str, disease: &str, severities: &[Option<f64>]) -> Trait {
    let steps = severities
        .iter()
        .enumerate()
        .map(|(value, &severity)| Step { value: value as f64, label: String::new(), severity })
        .collect();
    Trait {
        id: TraitId::new(id),
        disease: Some(disease.to_owned()),
        label: id.to_owned(),
        kind: Kind::Ordinal(Scale::new(steps).expect("a scale")),
        needs: None,
    }
}

fn head() -> Head {
    Head {
        name: "Test plot".to_owned(),
        layout: Layout { row_spacing_m: 3.0, place_spacing_m: 0.75, first_row: 1, first_place: 1 },
        origin: None,
        season_starts_month: 1,
        traits: vec![
            trait_with_scale("scab_leaf", "scab", &[Some(0.0), Some(0.005), Some(0.3)]),
            // 0 is *not observed* here, as in the scale of Lateur & Populer 1994.
            trait_with_scale("scab_fruit", "scab", &[None, Some(0.0), Some(0.2)]),
        ],
        diseases: Default::default(),
        crosses: vec![],
    }
}

fn plot() -> Plot {
    Plot::new(head()).expect("a plot")
}

fn tree_at(id: &str, row: i32, place: i32) -> TreeDraft {
    let location = WhereGiven { row: Some(row), place: Some(place), ..WhereGiven::default() };
    TreeDraft { location, ..TreeDraft::new(TreeId::new(id)) }
}

fn score(id: &str, tree: &str, value: Option<f64>, day: &str) -> ScoreDraft {
    ScoreDraft {
        id: ScoreId::new(id),
        tree: TreeId::new(tree),
        trait_id: TraitId::new("scab_leaf"),
        value,
        scored_on: When::parse(day).expect("a date"),
        round: None,
        scorer: None,
        note: None,
        replaces: None,
    }
}

#[test]
fn refuses_trees_that_would_make_it_untrue() {
    let check = |draft: TreeDraft, column: &str| {
        let mut plot = plot();
        plot.add_tree(tree_at("A", 1, 1)).expect("the first tree");
        assert_eq!(plot.add_tree(draft).expect_err(column).column, column);
        assert_eq!(plot.trees().len(), 1);
    };
    check(tree_at("A", 1, 1), "tree_id");
    check(tree_at("", 1, 2), "tree_id");
    check(TreeDraft::new(TreeId::new("B")), "row");
    let graft = |row| TreeDraft { grafted_on: Some(TreeId::new("A")), ..tree_at("B", row, 1) };
    check(graft(2), "row");
    check(TreeDraft { grafted_on: Some(TreeId::new("Z")), ..tree_at("B", 1, 1) }, "grafted_on");
    let far = Spot { x_m: f64::NAN, y_m: 0.0 };
    let location = WhereGiven { spot: Some(far), ..WhereGiven::default() };
    check(TreeDraft { location, ..TreeDraft::new(TreeId::new("B")) }, "x_m");
    let location =
        WhereGiven { globe: Some(crate::Globe { lon: 1.0, lat: 2.0 }), ..WhereGiven::default() };
    check(TreeDraft { location, ..TreeDraft::new(TreeId::new("B")) }, "lon");
    let day = |text| When::parse_date(text);
    check(
        TreeDraft {
            planted_on: day("2031-03-01"),
            removed_on: day("2030-03-01"),
            ..tree_at("B", 1, 2)
        },
        "removed_on",
    );
}

#[test]
fn a_tree_in_two_places_is_named_with_both() {
    let mut plot = plot();
    plot.add_tree(tree_at("A", 1, 1)).expect("the first tree");
    let refusal = plot.add_tree(tree_at("A", 4, 2)).expect_err("two places");
    assert_eq!(refusal.found, "\"A\" in two places: row 1 place 1, and here row 4 place 2");
}

#[test]
fn a_graft_stands_where_its_carrier_stands() {
    let mut plot = plot();
    let carrier = plot.add_tree(tree_at("A", 2, 3)).expect("the carrier");
    let graft =
        TreeDraft { grafted_on: Some(TreeId::new("A")), ..TreeDraft::new(TreeId::new("B")) };
    let graft = plot.add_tree(graft).expect("the graft");
    assert_eq!(plot.tree(graft).spot(), plot.tree(carrier).spot());
    assert_eq!(plot.tree(graft).row(), Some(2));
    assert_eq!(plot.tree(graft).carrier(), Some(carrier));
}

#[test]
fn refuses_scores_off_the_scale_or_of_nothing() {
    let check = |draft: ScoreDraft, column: &str| {
        let mut plot = plot();
        plot.add_tree(tree_at("A", 1, 1)).expect("a tree");
        plot.add_score(score("s1", "A", Some(0.0), "2031-06-01")).expect("the first score");
        assert_eq!(plot.add_score(draft).expect_err(column).column, column);
        assert_eq!(plot.scores().len(), 1);
    };
    check(score("s2", "A", Some(3.0), "2031-06-02"), "value");
    check(score("s2", "A", Some(f64::NAN), "2031-06-02"), "value");
    check(score("s2", "Z", Some(1.0), "2031-06-02"), "tree_id");
    check(score("s1", "A", Some(1.0), "2031-06-02"), "score_id");
    check(
        ScoreDraft { trait_id: TraitId::new("none"), ..score("s2", "A", Some(1.0), "2031-06-02") },
        "trait",
    );
}

#[test]
fn a_correction_stands_and_a_withdrawal_leaves_nothing() {
    let mut plot = plot();
    let tree = plot.add_tree(tree_at("A", 1, 1)).expect("a tree");
    plot.add_score(score("s1", "A", Some(2.0), "2031-06-01")).expect("a score");
    let replaces = |id: &str| Some(ScoreId::new(id));
    let second =
        ScoreDraft { replaces: replaces("s1"), ..score("s2", "A", Some(1.0), "2031-06-01") };
    plot.add_score(second).expect("a correction");
    let standing = |plot: &Plot| -> Vec<String> {
        plot.scores_of(tree).map(|(_, score)| score.id.to_string()).collect()
    };
    assert_eq!(standing(&plot), ["s2"]);
    let third = ScoreDraft { replaces: replaces("s2"), ..score("s3", "A", None, "2031-06-01") };
    plot.add_score(third).expect("a withdrawal");
    assert_eq!(standing(&plot), Vec::<String>::new());
    assert_eq!(plot.scores().len(), 3, "nothing is ever taken away");
}

#[test]
fn clean_infected_and_unseen_belong_to_the_scale() {
    let mut plot = plot();
    plot.add_tree(tree_at("A", 1, 1)).expect("a tree");
    let mut reading = |id: &str, trait_id: &str, value| {
        let draft =
            ScoreDraft { trait_id: TraitId::new(trait_id), ..score(id, "A", value, "2031-06-01") };
        let ix = plot.add_score(draft).expect("a score");
        plot.reading(plot.score(ix))
    };
    assert_eq!(reading("s1", "scab_leaf", Some(0.0)), Some(Reading::Clean));
    assert_eq!(reading("s2", "scab_leaf", Some(2.0)), Some(Reading::Infected(0.3)));
    assert_eq!(reading("s3", "scab_leaf", None), Some(Reading::Unseen));
    assert_eq!(reading("s4", "scab_fruit", Some(0.0)), Some(Reading::Unseen));
    assert_eq!(reading("s5", "scab_fruit", Some(1.0)), Some(Reading::Clean));
}

#[test]
fn rounds_are_named_or_dated_and_never_cross_a_season() {
    let mut plot = plot();
    plot.add_tree(tree_at("A", 1, 1)).expect("a tree");
    let named = |id: &str, day: &str| ScoreDraft {
        round: Some("first".into()),
        ..score(id, "A", Some(0.0), day)
    };
    for draft in [
        named("s1", "2031-06-01"),
        named("s2", "2031-06-03"),
        named("s3", "2032-06-01"),
        score("s4", "A", Some(0.0), "2031-05-01"),
    ] {
        plot.add_score(draft).expect("a score");
    }
    let names: Vec<(i32, String)> =
        plot.rounds(|_| true).iter().map(|round| (round.season.0, round.name())).collect();
    let expected = [(2031, "2031-05-01"), (2031, "first"), (2032, "first")];
    assert_eq!(names, expected.map(|(season, name)| (season, name.to_owned())));
}

#[test]
fn refuses_heads_that_would_make_it_untrue() {
    let check = |change: fn(&mut Head), column: &str| {
        let mut head = head();
        change(&mut head);
        assert_eq!(Plot::new(head).expect_err(column).column, column);
    };
    check(|head| head.name = " ".to_owned(), "name");
    check(|head| head.layout.row_spacing_m = 0.0, "layout.row_spacing_m");
    check(|head| head.layout.place_spacing_m = f64::NAN, "layout.place_spacing_m");
    check(|head| head.season_starts_month = 13, "season_starts_month");
    check(|head| head.traits[1].id = TraitId::new("scab_leaf"), "traits.id");
    check(
        |head| {
            head.traits[0].needs = Some(Needs { trait_id: TraitId::new("bloom"), at_least: 1.0 });
        },
        "traits.needs",
    );
    check(
        |head| head.origin = Some(Origin { lon: 5.0, lat: 95.0, row_bearing_deg: 0.0 }),
        "origin.lat",
    );
}

fn change(cell: TreeCell, from: &str, to: &str) -> TreeChange {
    TreeChange {
        tree: TreeId::new("A"),
        cell,
        from: from.into(),
        to: to.into(),
        changed_on: When::parse("2031-06-14T09:31:05+02:00").expect("a moment"),
        round: Some("2".into()),
        scorer: None,
        after: None,
    }
}

#[test]
fn a_change_is_kept_and_one_of_another_state_is_refused() {
    let mut plot = plot();
    let ix = plot.add_tree(tree_at("A", 1, 1)).expect("a tree");
    plot.change_tree(change(TreeCell::Status, "", "dead")).expect("a change");
    plot.change_tree(change(TreeCell::Note, "", "no tag")).expect("a change");
    assert_eq!(
        (plot.tree(ix).status(), plot.cell_of(ix, TreeCell::Note)),
        (Status::Dead, "no tag")
    );
    // Taken twice, it changes nothing; from another state it is refused.
    plot.change_tree(change(TreeCell::Status, "alive", "dead")).expect("the same again");
    let refused =
        plot.change_tree(change(TreeCell::Status, "removed", "empty")).expect_err("other");
    assert_eq!((refused.column, refused.found.as_str()), ("status", "\"dead\""));
    let refused =
        plot.change_tree(change(TreeCell::Status, "dead", "felled")).expect_err("no word");
    assert_eq!(refused.expected, "one of alive, dead, removed, empty");
    plot.change_tree(change(TreeCell::Status, "dead", "alive")).expect("it stands after all");
    assert_eq!((plot.tree(ix).status(), plot.cell_of(ix, TreeCell::Status)), (Status::Alive, ""));
    assert_eq!(plot.changes().len(), 4, "each change that was taken is kept");
    let elsewhere = TreeChange { tree: TreeId::new("Q"), ..change(TreeCell::Note, "", "x") };
    assert_eq!(plot.change_tree(elsewhere).expect_err("no such tree").column, "tree_id");
}
