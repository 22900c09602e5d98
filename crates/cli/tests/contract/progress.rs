//! `leeward progress`: areas by tree, trait and season, and what has none.

use crate::plots::with;
use crate::run::{leeward, on_disk, table};

const SCORES: &str = "\
score_id,tree_id,trait,value,scored_on
s1,W1,scab_leaf,0,2031-06-01
s2,W1,scab_leaf,1,2031-06-11
s3,W1,scab_leaf,1,2031-06-21
s4,W1,scab_leaf,,2031-06-25
s5,W1,scab_leaf,1,2032-06-01
s6,W2,scab_leaf,0,2031-06-01
s7,W2,scab_leaf,0,2031-06-21
";

fn folder(name: &str, scores: &str) -> String {
    on_disk(name, &with("scores.csv", scores)).to_str().expect("UTF-8").to_owned()
}

#[test]
fn each_tree_and_season_has_its_areas() {
    let gave = leeward(["progress", &folder("progress", SCORES), "--disease", "scab"]);
    assert_eq!(gave.code, Some(0), "{gave:?}");
    let (header, rows) = table(&gave.out);
    assert_eq!(header[..5], ["tree_id", "genotype", "disease", "trait", "season"]);
    let of = |column: &str| rows.iter().map(|row| row[column].as_str()).collect::<Vec<_>>();
    assert_eq!(of("tree_id"), ["W1", "W1", "W2"]);
    assert_eq!(of("season"), ["2031", "2032", "2031"]);
    // What could not be scored is no look, and one look has no area.
    assert_eq!(of("looks"), ["3", "1", "2"]);
    assert_eq!(of("days"), ["20", "", "20"]);
    assert_eq!(of("last_look"), ["2031-06-21", "2032-06-01", "2031-06-21"]);
    let number = |column: &str, nth: usize| rows[nth][column].parse::<f64>().expect("a number");
    // ½(0 + 0.1)·10 + ½(0.1 + 0.1)·10 = 1.5; with ½(0 + 0.1)·20/2 more 2.
    assert!((number("audpc", 0) - 1.5).abs() < 1e-12);
    assert!((number("audps", 0) - 2.0).abs() < 1e-12);
    assert_eq!((&rows[1]["audpc"][..], &rows[1]["audps"][..]), ("", ""));
    // Looked at and clean is an area of 0, not none.
    assert_eq!((number("audpc", 2), number("audps", 2)), (0.0, 0.0));
    assert!(gave.said.contains("share-days"), "{}", gave.said);
}

#[test]
fn one_look_each_is_no_answer_and_a_wrong_disease_unusable() {
    let one = "score_id,tree_id,trait,value,scored_on\ns1,W1,scab_leaf,1,2031-06-01\n";
    let folder = folder("progress-one", one);
    let gave = leeward(["progress", &folder, "--disease", "scab", "--format", "json"]);
    assert_eq!(gave.code, Some(1), "{gave:?}");
    let lines: serde_json::Value = serde_json::from_str(&gave.out).expect("JSON");
    assert!(lines[0]["audpc"].is_null() && lines[0]["days"].is_null());
    let gave = leeward(["progress", &folder, "--disease", "rust"]);
    assert_eq!((gave.code, gave.out.as_str()), (Some(2), ""));
    assert!(
        gave.said.contains("--disease: found \"rust\", expected a disease of plot.json (scab)")
    );
}
