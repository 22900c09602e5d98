//! `leeward near` on the demo plot.

use std::collections::BTreeMap;

use plot::Spot;

use crate::run::{demo_plot, leeward, table};

#[test]
fn neighbours_come_by_distance_with_their_worst_score() {
    let demo = demo_plot();
    let demo = demo.to_str().expect("UTF-8");
    let gave = leeward(["near", demo, "--tree", "T0200", "--disease", "scab", "--count", "30"]);
    assert_eq!(gave.code, Some(0), "{}", gave.said);
    let (header, rows) = table(&gave.out);
    assert_eq!(
        header.join(", "),
        "tree_id, distance_m, bearing_deg, tag, cross, trait, score, severity, scored_on, \
         could_have"
    );
    let files = ["plot.json", "trees.csv", "scores.csv"]
        .map(|name| (name.to_owned(), std::fs::read(demo_plot().join(name)).expect("a file")));
    let book = files::open(files.into()).0.expect("a book");
    let plot = book.plot();
    let here = plot.tree_ix("T0200").expect("the tree");
    // By hand: every planted tree but itself, by distance, ties by id.
    let spot = plot.tree(here).spot();
    let mut all: Vec<(f64, &str, Spot)> = plot
        .trees_ix()
        .filter(|&(ix, tree)| ix != here && tree.status() != plot::Status::Empty)
        .map(|(_, tree)| (tree.spot().distance_m(spot), tree.id().as_str(), tree.spot()))
        .collect();
    all.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(b.1)));
    let origin = plot.head().origin.expect("an origin");
    for (row, (distance_m, id, there)) in rows.iter().zip(&all) {
        assert_eq!(row["tree_id"], *id);
        assert_eq!(row["distance_m"].parse(), Ok(*distance_m));
        if distance_m > &0.0 {
            assert_eq!(row["bearing_deg"].parse(), Ok(origin.bearing_deg(spot, *there)));
        }
        let worst = worst_severity(plot, id);
        assert_eq!(row["severity"].parse().ok(), worst, "{row:?}");
        assert_eq!(row["scored_on"].is_empty(), worst.is_none());
    }
    assert_eq!(rows.len(), 30);
    assert!(gave.said.contains("scab"), "{}", gave.said);
}

fn worst_severity(plot: &plot::Plot, id: &str) -> Option<f64> {
    let tree = plot.tree_ix(id).expect("a tree");
    let readings = plot.scores_of(tree).filter_map(|(_, score)| {
        let one = plot.trait_of(score.trait_ix);
        (one.disease.as_deref() == Some("scab")).then(|| one.severity(score.value?)).flatten()
    });
    readings.reduce(f64::max)
}

#[test]
fn a_tag_in_place_of_an_id_is_answered_with_the_id() {
    let demo = demo_plot();
    let trees = std::fs::read_to_string(demo.join("trees.csv")).expect("trees");
    let (_, rows) = table(&trees);
    let mut ids: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
    for row in rows.iter().filter(|row| !row["tag"].is_empty()) {
        ids.entry(&row["tag"]).or_default().push(&row["tree_id"]);
    }
    let (tag, ids) = ids.iter().find(|(_, ids)| ids.len() == 1).expect("a tag of one tree");
    let demo = demo.to_str().expect("UTF-8");
    let gave = leeward(["near", demo, "--tree", tag, "--disease", "scab"]);
    assert_eq!(gave.code, Some(2));
    let expected = format!(
        "--tree: found \"{tag}\", which is the tag of {}, expected a tree_id of trees.csv\n",
        ids[0]
    );
    assert_eq!(gave.said, expected);
}
