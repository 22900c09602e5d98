//! The lines of the table in the order of each column.

mod sample;

use plot::Plot;
use scene::{Column, Ground, Layer, Moment, Record, Sheet, Sorting, Sources, lines};

fn sheet(plot: &Plot) -> Sheet {
    let ground = Ground::of(plot);
    let layer = Layer::from_key(plot, "trait/scab_leaf").expect("a layer");
    let record = Record::of(plot, layer.trait_ix(plot).expect("a trait"));
    let sources = Sources { plot, ground: &ground, record: Some(&record), report: None };
    Sheet::of(sources, &layer, &Moment::All)
}

/// Ids in order.
fn ordered(plot: &Plot, column: Column, descending: bool) -> Vec<String> {
    let lines = lines(plot, &sheet(plot), Sorting { column, descending });
    lines.into_iter().map(|tree| plot.tree(tree).id().to_string()).collect()
}

#[test]
fn by_place_a_person_walks_row_by_row() {
    let plot = sample::plot();
    let ids = ordered(&plot, Column::Place, false);
    assert_eq!(ids[..3], ["1-1", "1-2", "1-3"]);
    // A twin shares its place with the tree before it; grafts stand in no row of their own.
    let at = |id: &str| ids.iter().position(|one| one == id).unwrap();
    assert_eq!(at("4-6-twin"), at("4-6") + 1);
    let mut back = ordered(&plot, Column::Place, true);
    assert_eq!(back[0], "5-9");
    back.sort();
    let mut all = ids.clone();
    all.sort();
    assert_eq!(back, all, "each tree once");
}

#[test]
fn by_tag_numbers_count_and_trees_without_come_last_either_way() {
    let plot = sample::plot();
    for descending in [false, true] {
        let ids = ordered(&plot, Column::Tag, descending);
        assert_eq!(ids.last().map(String::as_str), Some("4-6-twin"), "{descending}");
    }
    let ids = ordered(&plot, Column::Tag, false);
    assert_eq!(ids[..4], ["1-1", "2-3-a", "2-3-b", "1-2"]);
    assert_eq!(ordered(&plot, Column::Tag, true)[0], "5-9");
}

#[test]
fn by_cross_ties_go_by_place() {
    let plot = sample::plot();
    let ids = ordered(&plot, Column::Cross, false);
    // Rows 2 and 4 are of Tarn Rib, which comes before TR-9; checks and 1-1 have no parents.
    let cross = |id: &String| plot.tree(plot.tree_ix(id).unwrap()).cross().to_string();
    let crosses: Vec<String> = ids.iter().map(cross).collect();
    let runs: Vec<&str> = crosses.chunk_by(|a, b| a == b).map(|same| same[0].as_str()).collect();
    assert_eq!(runs.len(), 3, "{runs:?}");
    assert!(runs[0].ends_with("Tarn Rib") && runs[1].ends_with("TR-9"), "{runs:?}");
    let from = |nth: usize| crosses.iter().position(|one| one == runs[nth]).unwrap();
    assert_eq!(ids[..2], ["2-1", "2-2"]);
    assert_eq!(ids[from(1)..from(1) + 2], ["1-2", "1-3"]);
    assert_eq!(ids[from(2)..from(2) + 2], ["1-1", "1-5"]);
}

#[test]
fn by_class_the_weightiest_comes_first_when_first_asked_for() {
    let plot = sample::plot();
    let sorting = Sorting::default().asked_for(Column::Class);
    assert!(sorting.descending);
    let sheet = sheet(&plot);
    let kinds = |sorting| -> Vec<scene::Kind> {
        let kind = |tree| sheet.class(tree).unwrap().kind;
        lines(&plot, &sheet, sorting).into_iter().map(kind).collect()
    };
    let first = kinds(sorting);
    assert_eq!(first[0], scene::Kind::Severity(4));
    assert!(first.windows(2).all(|pair| pair[0] >= pair[1]));
    let other = kinds(sorting.asked_for(Column::Class));
    assert!(other.windows(2).all(|pair| pair[0] <= pair[1]));
}

#[test]
fn asking_again_turns_the_order_about() {
    let by_tag = Sorting::default().asked_for(Column::Tag);
    assert_eq!(by_tag, Sorting { column: Column::Tag, descending: false });
    assert_eq!(by_tag.asked_for(Column::Tag), Sorting { column: Column::Tag, descending: true });
    assert_eq!(by_tag.asked_for(Column::Place), Sorting::default());
}
