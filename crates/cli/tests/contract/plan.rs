//! `leeward plan`: what it lists, how decisions change it, and the walk in walking order.

use std::collections::{BTreeMap, BTreeSet};

use files::FileSet;

use crate::run::{demo_plot, held, leeward, on_disk, table};

type Line = BTreeMap<String, String>;

fn numbers(rows: &[Line], column: &str) -> Vec<i32> {
    rows.iter().map(|row| row[column].parse().expect("a number")).collect()
}

fn demo() -> String {
    demo_plot().to_str().expect("UTF-8").to_owned()
}

fn demo_with(decisions: &str) -> String {
    let named = |(path, bytes): (std::path::PathBuf, Vec<u8>)| {
        let name = path.file_name().and_then(|name| name.to_str()).expect("a name").to_owned();
        (name, bytes)
    };
    let mut files: FileSet = held(&demo_plot()).into_iter().map(named).collect();
    files.insert("decisions.csv".to_owned(), decisions.as_bytes().to_vec());
    on_disk("plan-decided", &files).to_str().expect("UTF-8").to_owned()
}

#[test]
fn a_decision_to_cull_takes_a_tree_out_and_frees_its_place() {
    let folder = demo();
    let gave = leeward(["plan", &folder, "--disease", "scab", "--most", "12"]);
    assert_eq!(gave.code, Some(0), "{}", gave.said);
    let (header, rows) = table(&gave.out);
    assert_eq!(header[..3], ["what", "tree_id", "row"]);
    let watched: Vec<&Line> = rows.iter().filter(|row| row["what"] == "watch").collect();
    assert_eq!(watched.len(), 12);
    let luck = |row: &Line| row["luck"].parse::<f64>().expect("a luck");
    assert!(watched.is_sorted_by(|a, b| luck(a) <= luck(b)));
    assert!(watched.iter().all(|row| luck(row) > 0.05 && row["seasons"] != "0"));

    let culled = watched[0]["tree_id"].clone();
    let decisions = format!(
        "decision_id,tree_id,decision,decided_on,reason\nd1,{culled},cull,2031-10-01,weak\n"
    );
    let folder = demo_with(&decisions);
    let gave = leeward(["plan", &folder, "--disease", "scab", "--most", "12"]);
    let (_, rows) = table(&gave.out);
    let watched = || rows.iter().filter(|row| row["what"] == "watch");
    assert_eq!(watched().count(), 12, "the next one comes in its place");
    assert!(watched().all(|row| row["tree_id"] != culled));
    let told = leeward(["inspect", &folder]).out;
    assert!(told.contains("decided to,cull,1"), "{told}");
}

#[test]
fn the_walk_goes_up_one_row_and_down_the_next() {
    let folder = demo();
    let gave = leeward(["plan", &folder, "--disease", "scab", "--most", "12", "--walk"]);
    assert_eq!(gave.code, Some(0), "{}", gave.said);
    let (header, rows) = table(&gave.out);
    assert_eq!(header, ["tree_id", "row", "place"]);
    let distinct: BTreeSet<&String> = rows.iter().map(|row| &row["tree_id"]).collect();
    assert_eq!(distinct.len(), rows.len());
    assert!(rows.len() > 12, "witnesses come along");
    let (at, places) = (numbers(&rows, "row"), numbers(&rows, "place"));
    assert!(at.is_sorted());
    let mut upward = true;
    let mut from = 0;
    for row in at.chunk_by(|a, b| a == b) {
        let places = &places[from..from + row.len()];
        assert!(if upward { places.is_sorted() } else { places.is_sorted_by(|a, b| a >= b) });
        (upward, from) = (!upward, from + row.len());
    }
}
