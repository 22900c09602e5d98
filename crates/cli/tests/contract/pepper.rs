//! Real input: a bell-pepper field of 20 × 20 quadrats (Gumpertz, Graham & Ristaino 1997, *JABES*
//! 2:131–156; data of the R package agridat) through inspect, proof and spatial.

use std::path::Path;

use crossing::pepper::{DISEASE, Field, folder};
use serde_json::Value;

use crate::run::{Gave, leeward, on_disk, table};

fn pepper(command: &str, options: &[&str]) -> Gave {
    let folder = on_disk(&format!("pepper-{command}"), &folder(Field::Two).expect("the field"));
    leeward([command, folder.to_str().expect("UTF-8")].iter().chain(options))
}

#[test]
fn the_field_is_inspected_without_a_problem() {
    let gave = pepper("inspect", &[]);
    assert_eq!((gave.code, gave.said.as_str()), (Some(0), ""));
    for line in ["\"Bell pepper, field 2\",400", "scores of trait,blight,400", "rows,,20"] {
        assert!(gave.out.contains(line), "{line}: {}", gave.out);
    }
}

#[test]
fn disease_of_one_date_proves_nobody_and_it_is_said_why() {
    let gave = pepper("proof", &["--disease", DISEASE]);
    assert_eq!(gave.code, Some(0));
    let (_, rows) = table(&gave.out);
    assert_eq!(rows.len(), 400);
    let count = |verdict: &str| rows.iter().filter(|row| row["verdict"] == verdict).count();
    assert_eq!((count("infected"), count("untested")), (61, 339), "one look tells no more");
    for sentence in [
        "All scores are of one round: who was infected first cannot be told.",
        "no susceptible check was scored; 61 of 400 trees took phytophthora blight",
    ] {
        assert!(gave.said.contains(sentence), "{}", gave.said);
    }
}

#[test]
fn moran_and_join_counts_are_those_of_general_purpose_libraries() {
    let data = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/reference/data");
    let points = data.join("pepper_F2.csv");
    let options = ["--row", "row", "--place", "quadrat", "--value", "diseased"];
    let more = ["--weights", "rook", "--stat", "moran,join-count", "--permutations", "99"];
    let fixed = ["spatial", points.to_str().expect("UTF-8")];
    let gave = leeward(fixed.iter().chain(&options).chain(&more));
    assert_eq!(gave.code, Some(0), "{}", gave.said);
    let ours: Value = serde_json::from_str(&gave.out).expect("JSON");
    // Computed with R 4.2.2, spdep 1.2-7.
    let spdep = |file: &str| -> Value {
        let text = std::fs::read_to_string(data.join(file)).expect("reference values");
        let cases: Vec<Value> = serde_json::from_str(&text).expect("JSON");
        let case = cases.iter().find(|case| case["id"] == "pepper_F2__rook__diseased__B");
        case.expect("the case")["spdep"].clone()
    };
    let check = |ours: &Value, theirs: &Value| {
        let (ours, theirs) = (ours.as_f64().expect("a number"), theirs.as_f64().expect("a number"));
        assert!((ours - theirs).abs() <= 1e-9 * theirs.abs(), "{ours} {theirs}");
    };
    let moran = spdep("global_autocorrelation.json");
    for (own, their) in [
        ("value", "moran_I"),
        ("expected", "moran_EI"),
        ("variance_randomisation", "moran_VI_rand"),
        ("z_randomisation", "moran_z_rand"),
        ("variance_normality", "moran_VI_norm"),
        ("z_normality", "moran_z_norm"),
    ] {
        check(&ours["moran"][own], &moran[their]);
    }
    let joins = spdep("join_counts.json");
    for (kind, their) in [("both", "1:1"), ("one", "1:0"), ("neither", "0:0")] {
        let join = &ours["join_count"][kind];
        check(&join["value"], &joins[format!("jcm_{their}_Joincount")]);
        check(&join["expected_non_free"], &joins[format!("jcm_{their}_Expected")]);
        check(&join["variance_non_free"], &joins[format!("jcm_{their}_Variance")]);
        check(&join["z_non_free"], &joins[format!("jcm_{their}_z-value")]);
    }
}
