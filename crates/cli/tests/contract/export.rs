//! `leeward export`: what is written, what is refused, and that nothing is ever written over.

use std::path::{Path, PathBuf};

use files::FileSet;

use crate::plots::{changed, sound, with};
use crate::run::{Gave, held, leeward, on_disk};

/// The formats, and what each is written under.
const FORMATS: &[&str] =
    &["geojson", "csv", "xlsx", "brapi", "datapackage", "geopackage", "parquet"];

fn export(plot: &Path, to: &str, out: Option<&Path>) -> Gave {
    let mut arguments = vec![Path::new("export"), plot, Path::new("--to"), Path::new(to)];
    if let Some(out) = out {
        arguments.extend([Path::new("--out"), out]);
    }
    leeward(arguments)
}

/// A folder with an origin, and a free name in an empty folder.
fn workbench(name: &str) -> (PathBuf, PathBuf) {
    let head = "\"layout\": {\"row_spacing_m\"";
    let placed = format!("\"origin\": {{\"lon\": -20, \"lat\": 46}}, {head}");
    let plot = on_disk(&format!("export-{name}"), &changed("plot.json", head, &placed));
    let folder = on_disk(&format!("export-{name}-out"), &FileSet::new());
    (plot, folder.join("out"))
}

#[test]
fn geojson_goes_to_standard_output_or_into_a_file() {
    let (plot, out) = workbench("geojson");
    let gave = export(&plot, "geojson", None);
    assert_eq!((gave.code, gave.said.as_str()), (Some(0), ""));
    let json: serde_json::Value = serde_json::from_str(&gave.out).expect("JSON");
    assert_eq!(json["features"][1]["properties"]["scab_leaf"], 1.0);
    let written = export(&plot, "geojson", Some(&out));
    assert_eq!((written.code, written.out.as_str()), (Some(0), ""));
    assert!(written.said.ends_with("out: 3 trees\n"), "{}", written.said);
    assert_eq!(std::fs::read_to_string(&out).expect("a file"), gave.out);
    assert_eq!(held(out.parent().expect("a folder")).len(), 1, "nothing is left beside it");
}

#[test]
fn csv_is_one_wide_table_and_says_what_has_no_cell() {
    let line = "s3,W2,scab_leaf,0,2031-06-14\n";
    let plot = on_disk("export-wide", &changed("scores.csv", "s2,W2", &format!("{line}s2,W2")));
    let gave = export(&plot, "csv", None);
    assert_eq!(gave.code, Some(0));
    assert_eq!(
        gave.out,
        "\u{feff}tree_id,row,place,tag,scab_leaf 2031-06-14\r\n\
         W1,1,1,Q-1,0\r\nW2,1,2,Q-2,1\r\nW3,1,3,,\r\n"
    );
    assert!(gave.said.starts_with("1 score left out: a later one"), "{}", gave.said);
}

#[test]
fn a_data_package_is_a_folder_or_its_descriptor_alone() {
    let (plot, out) = workbench("package");
    let written = export(&plot, "datapackage", Some(&out));
    assert_eq!((written.code, written.out.as_str()), (Some(0), ""));
    let descriptor = export(&plot, "datapackage", None).out;
    let mut files = held(&out);
    let own = files.remove(&out.join("datapackage.json")).expect("a descriptor");
    assert_eq!(String::from_utf8(own).expect("UTF-8"), descriptor);
    let copied: Vec<_> = files.into_values().collect();
    assert_eq!(copied, held(&plot).into_values().collect::<Vec<_>>());
    assert_eq!(leeward(["inspect".as_ref(), out.as_os_str()]).code, Some(0));
}

#[test]
fn a_workbook_is_a_file_and_never_text() {
    let (plot, out) = workbench("workbook");
    let gave = export(&plot, "xlsx", None);
    assert_eq!((gave.code, gave.out.as_str()), (Some(2), ""));
    assert!(gave.said.starts_with("--out: found nothing"), "{}", gave.said);
    assert_eq!(export(&plot, "xlsx", Some(&out)).code, Some(0));
    assert!(std::fs::read(&out).expect("a file").starts_with(b"PK\x03\x04"));
    let note = format!("note\nW1,1,1,Q-1,{}\n", "x".repeat(32_768));
    let long = changed("trees.csv", "tag\nW1,1,1,Q-1\n", &format!("tag,{note}"));
    let rest = |text: &str| text.replace("Q-2\n", "Q-2,\n").replace("W3,1,3,\n", "W3,1,3,,\n");
    let trees = String::from_utf8(long["trees.csv"].clone()).expect("UTF-8");
    let plot = on_disk("export-long", &with("trees.csv", rest(&trees)));
    let gave = export(&plot, "xlsx", Some(&plot.join("out")));
    assert_eq!(gave.code, Some(2));
    assert!(gave.said.contains("column note: found 32768 characters"), "{}", gave.said);
    assert_eq!(held(&plot).len(), 3);
}

#[test]
fn brapi_is_a_folder_of_answers() {
    let (plot, out) = workbench("brapi");
    let gave = export(&plot, "brapi", None);
    assert_eq!((gave.code, gave.out.as_str()), (Some(2), ""));
    assert!(gave.said.starts_with("--out: found nothing"), "{}", gave.said);
    assert_eq!(export(&plot, "brapi", Some(&out)).code, Some(0));
    for (name, count) in [("observationunits", 3), ("variables", 1), ("observations", 2)] {
        let text = std::fs::read(out.join(format!("{name}.json"))).expect("a file");
        let answer: serde_json::Value = serde_json::from_slice(&text).expect("JSON");
        assert_eq!(answer["result"]["data"].as_array().map(Vec::len), Some(count), "{name}");
    }
    assert_eq!(held(&out).len(), 3);
}

#[test]
fn databases_go_into_files_and_are_never_text() {
    let (plot, out) = workbench("databases");
    for to in ["geopackage", "parquet"] {
        let gave = export(&plot, to, None);
        assert_eq!((gave.code, gave.out.as_str()), (Some(2), ""), "{to}");
        assert!(gave.said.starts_with("--out: found nothing"), "{}", gave.said);
    }
    let gave = export(&plot, "geopackage", Some(&out));
    assert_eq!((gave.code, gave.out.as_str()), (Some(0), ""));
    assert!(gave.said.ends_with("out: 3 trees\n"), "{}", gave.said);
    assert!(std::fs::read(&out).expect("a file").starts_with(b"SQLite format 3\0"));
    let tables = out.with_file_name("tables");
    assert_eq!(export(&plot, "parquet", Some(&tables)).code, Some(0));
    let files = held(&tables);
    let names: Vec<_> = files.keys().filter_map(|path| path.file_name()).collect();
    assert_eq!(names, ["scores.parquet", "trees.parquet"]);
    assert!(files.values().all(|bytes| bytes.ends_with(b"PAR1")));
}

#[test]
fn without_an_origin_there_is_no_geojson() {
    let plot = on_disk("export-nowhere", &sound());
    let gave = export(&plot, "geojson", Some(&plot.join("out")));
    assert_eq!((gave.code, gave.out.as_str()), (Some(2), ""));
    assert!(
        gave.said.contains("plot.json, column origin: found nothing, expected where the plot lies"),
        "{}",
        gave.said
    );
    assert_eq!(held(&plot).len(), 3);
}

#[test]
fn nothing_is_written_over() {
    for to in FORMATS {
        let (plot, out) = workbench(&format!("over-{to}"));
        std::fs::write(&out, "mine").expect("a file");
        let gave = export(&plot, to, Some(&out));
        assert_eq!(gave.code, Some(2), "{to}");
        assert!(gave.said.contains("out: found a file, expected none"), "{}", gave.said);
        assert_eq!(std::fs::read_to_string(&out).expect("a file"), "mine");
        std::fs::remove_file(&out).expect("it goes");
        std::fs::create_dir(&out).expect("a folder");
        let gave = export(&plot, to, Some(&out));
        assert!(gave.said.contains("out: found a folder, expected none"), "{}", gave.said);
        assert!(held(&out).is_empty());
    }
}

#[test]
fn a_folder_with_faults_gives_nothing() {
    let decisions = "decision_id,tree_id,decision,decided_on,reason\nd1,W9,keep,2031-10-02,\n";
    for (name, files, said) in [
        ("trees", changed("trees.csv", "W2,1,2", "W2,one,2"), "line 3, column row: found \"one\""),
        ("decisions", with("decisions.csv", decisions), "line 2, column tree_id: found \"W9\""),
    ] {
        let plot = on_disk(&format!("export-broken-{name}"), &files);
        let (_, out) = workbench(&format!("faulty-{name}"));
        for to in FORMATS {
            let gave = export(&plot, to, Some(&out));
            assert_eq!((gave.code, gave.out.as_str()), (Some(2), ""), "{to}");
            assert!(gave.said.contains(said), "{}", gave.said);
            assert!(held(out.parent().expect("a folder")).is_empty());
        }
    }
}

#[test]
fn an_out_that_cannot_be_leaves_nothing_behind() {
    for to in FORMATS {
        let (plot, _) = workbench(&format!("under-{to}"));
        let gave = export(&plot, to, Some(&plot.join("plot.json").join("out")));
        assert_eq!((gave.code, gave.out.as_str()), (Some(2), ""), "{to}");
        assert!(gave.said.contains("plot.json/out"), "{}", gave.said);
        assert_eq!(held(&plot).len(), 3);
    }
}
