//! `leeward vigour`: columns, how it ends, and missing kept missing.

use files::FileSet;

use crate::plots::{sound, with};
use crate::run::{demo_plot, leeward, on_disk, table};

const COLUMNS: [&str; 10] = [
    "tree_id",
    "genotype",
    "trait",
    "season",
    "value",
    "area_cm2",
    "growth_cm2",
    "adjusted",
    "adjusted_se",
    "trend",
];

fn path_of(name: &str, files: &FileSet) -> String {
    on_disk(name, files).to_str().expect("UTF-8").to_owned()
}

/// Three trees with a girth in cm, one of which could not be measured in its second year.
fn girths() -> FileSet {
    let mut files = with(
        "plot.json",
        r#"{"format": "leeward-plot", "version": 1, "name": "Withy Corner",
            "layout": {"row_spacing_m": 3.0, "place_spacing_m": 0.75},
            "traits": [{"id": "trunk_girth_30cm", "label": "Girth", "kind": "number", "unit": "cm"}]}"#,
    );
    let scores = "\
score_id,tree_id,trait,value,scored_on
s1,W1,trunk_girth_30cm,15.7,2031-10-14
s2,W2,trunk_girth_30cm,12,2031-10-14
s3,W1,trunk_girth_30cm,18,2032-10-14
s4,W2,trunk_girth_30cm,,2032-10-14
";
    files.insert("scores.csv".to_owned(), scores.as_bytes().to_vec());
    files
}

#[test]
fn each_tree_and_season_has_a_line_and_missing_stays_missing() {
    let folder = path_of("girths", &girths());
    let gave = leeward(["vigour", &folder]);
    // Four lines, too few trees to adjust: the answer is no.
    assert_eq!(gave.code, Some(1), "{gave:?}");
    let (header, rows) = table(&gave.out);
    assert_eq!(header, COLUMNS);
    let of = |column: &str| rows.iter().map(|row| row[column].clone()).collect::<Vec<_>>();
    assert_eq!(of("tree_id"), ["W1", "W1", "W2", "W2"]);
    assert_eq!(of("season"), ["2031", "2032", "2031", "2032"]);
    assert_eq!(of("value"), ["15.7", "18", "12", ""]);
    // C²/4π: 15.7 cm → 19.615 cm², 18 cm → 25.783 cm².
    let area: f64 = rows[0]["area_cm2"].parse().expect("an area");
    assert!((area - 19.615).abs() < 5e-4);
    let growth: f64 = rows[1]["growth_cm2"].parse().expect("growth");
    assert!((growth - (25.783 - 19.615)).abs() < 1e-3);
    assert_eq!((&rows[0]["growth_cm2"][..], &rows[3]["area_cm2"][..]), ("", ""));
    assert!(of("adjusted").iter().all(String::is_empty), "{rows:?}");
    assert!(gave.said.contains("2 trees measured"), "{}", gave.said);
    assert!(gave.said.contains("1 tree measured, 1 could not be"), "{}", gave.said);
}

#[test]
fn raw_number_trend_and_adjusted_number_add_up() {
    let demo = demo_plot();
    let demo = demo.to_str().expect("UTF-8");
    for trend in ["none", "papadakis", "rows", "surface", "ar1", "auto"] {
        let gave = leeward(["vigour", demo, "--trend", trend]);
        assert_eq!(gave.code, Some(0), "{trend}: {}", gave.said);
        let (_, rows) = table(&gave.out);
        assert!(rows.len() > 3000);
        let mut moved = 0;
        for row in &rows {
            let number = |column: &str| row[column].parse::<f64>().expect("a number");
            let sum = number("adjusted") + number("trend");
            assert!((sum - number("area_cm2")).abs() < 1e-9, "{trend}: {row:?}");
            assert!(number("adjusted_se") >= 0.0);
            moved += usize::from(number("trend") != 0.0);
        }
        let takes_out = !gave.said.contains("no trend is taken out");
        assert_eq!(moved > 0, takes_out, "{trend}: {}", gave.said);
        // What a trend takes away is said with every trend.
        assert_eq!(gave.said.contains("side by side"), takes_out, "{trend}");
    }
}

#[test]
fn json_has_the_same_lines() {
    let folder = path_of("girths-json", &girths());
    let gave = leeward(["vigour", &folder, "--format", "json"]);
    let lines: serde_json::Value = serde_json::from_str(&gave.out).expect("JSON");
    assert_eq!(lines.as_array().expect("a list").len(), 4);
    assert_eq!(lines[0]["season"], 2031);
    assert!(lines[3]["value"].is_null());
}

#[test]
fn genotypes_and_crosses_are_ranked() {
    let demo = demo_plot();
    let demo = demo.to_str().expect("UTF-8");
    let check = |by: &str, first: &[&str]| {
        let gave = leeward(["vigour", demo, "--by", by, "--trend", "rows"]);
        assert_eq!(gave.code, Some(0), "{}", gave.said);
        let (header, rows) = table(&gave.out);
        assert_eq!(header[..first.len()], *first);
        for row in &rows {
            assert!(row["trees"].parse::<usize>().expect("a count") >= 2);
            let error: f64 = row["adjusted_se"].parse().expect("an error");
            assert!(error > 0.0, "{row:?}");
        }
        assert!(rows.len() > 20);
    };
    check("genotype", &["genotype", "trait", "season", "trees", "raw_mean"]);
    check("cross", &["seed_parent", "pollen_parent", "trait", "season", "trees"]);
}

#[test]
fn a_disease_beside_vigour_is_told_with_numbers() {
    let demo = demo_plot();
    let demo = demo.to_str().expect("UTF-8");
    let gave = leeward(["vigour", demo, "--trend", "none", "--disease", "fire_blight"]);
    assert_eq!(gave.code, Some(0), "{}", gave.said);
    // The demo plot is made so that its strong trees blight more.
    assert!(gave.said.contains("Fire blight: strong trees take it more here."), "{}", gave.said);
    assert!(gave.said.contains("times as many infections"), "{}", gave.said);
    let gave = leeward(["vigour", demo, "--disease", "rust"]);
    assert_eq!((gave.code, gave.out.as_str()), (Some(2), ""));
}

#[test]
fn what_is_not_there_is_told() {
    let folder = path_of("no-vigour", &sound());
    let gave = leeward(["vigour", &folder]);
    assert_eq!((gave.code, gave.out.as_str()), (Some(2), ""));
    assert!(gave.said.contains("--trait: found none, expected a trait of plot.json (scab_leaf)"));
    let gave = leeward(["vigour", &folder, "--trait", "yield_kg"]);
    assert_eq!((gave.code, gave.out.as_str()), (Some(2), ""));
    assert!(gave.said.contains("--trait: found \"yield_kg\", expected a trait of plot.json"));
    let gave = leeward(["vigour", &folder, "--trend", "wavy"]);
    assert_eq!((gave.code, gave.out.as_str()), (Some(2), ""));
    let gave = leeward(["vigour", "nowhere"]);
    assert_eq!((gave.code, gave.out.as_str()), (Some(2), ""));
}
