//! Data Packages: what is described, copied, and opened again.

use super::*;
use crate::testing::{head, lantern, with};

const TREES: &str = "tree_id,row,place,role,grafted_on,girth,colour\nA,1,1,,,3.5,red\nG,,,,A,,\n";
const SCORES: &str = "score_id,tree_id,trait,value,scored_on\ns1,A,bloom,3,2031-06-14\n";
const DECISIONS: &str =
    "decision_id,tree_id,decision,decided_on,reason\nd1,A,keep,2031-10-02,sweet\n";
const WEATHER: &str = "time,temp_c,rain_mm,relative_humidity\n2031-06-14T09:00,17.5,0,80\n";

fn everything() -> Book {
    let events = "date,kind,rows,note\n2031-05-01,spray,1,\n";
    let files = [
        ("trees.csv", TREES),
        ("scores.csv", SCORES),
        ("decisions.csv", DECISIONS),
        ("events.csv", events),
        ("weather.csv", WEATHER),
    ];
    with(head(false), &files)
}

fn read(book: &Book) -> Value {
    serde_json::from_slice(&descriptor(book)).expect("JSON")
}

fn field_of<'a>(package: &'a Value, resource: &str, name: &str) -> &'a Value {
    let named = |all: &'a Value, name: &str| {
        all.as_array().expect("a list").iter().find(|one| one["name"] == name).expect("it")
    };
    named(&named(&package["resources"], resource)["schema"]["fields"], name)
}

#[test]
fn every_file_that_is_there_is_described_and_copied() {
    let book = everything();
    let package = read(&book);
    let named = |one: &Value| one["name"].as_str().map(str::to_owned);
    let resources = package["resources"].as_array().expect("resources");
    let names: Vec<_> = resources.iter().filter_map(named).collect();
    assert_eq!(names, ["plot", "trees", "scores", "decisions", "events", "weather"]);
    assert_eq!(
        (&package["name"], &package["title"]),
        (&json!("withy-corner"), &json!("Withy \"Corner\""))
    );
    let mut files = data_package(&book);
    files.remove(DESCRIPTOR);
    assert_eq!(&files, book.files());
    let trees = &resources[1];
    assert_eq!(trees["bytes"], TREES.len());
    assert_eq!(trees["schema"]["primaryKey"], json!(["tree_id"]));
    let graft = json!({"fields": ["grafted_on"], "reference": {"fields": ["tree_id"]}});
    assert_eq!(trees["schema"]["foreignKeys"], json!([graft]));
    let scored =
        json!({"fields": ["tree_id"], "reference": {"resource": "trees", "fields": ["tree_id"]}});
    assert_eq!(resources[2]["schema"]["foreignKeys"], json!([scored]));
    assert!(resources[4]["schema"].get("primaryKey").is_none());
}

#[test]
fn fields_say_what_their_cells_are() {
    let package = read(&everything());
    let check = |resource: &str, name: &str, of_type: &str, constraints: Value| {
        let field = field_of(&package, resource, name);
        assert_eq!(field["type"], of_type, "{resource}.{name}");
        assert_eq!(field["constraints"], constraints, "{resource}.{name}");
    };
    check("trees", "tree_id", "string", json!({"required": true, "unique": true}));
    check("trees", "row", "integer", Value::Null);
    check("trees", "girth", "number", Value::Null);
    check("trees", "colour", "string", Value::Null);
    check("scores", "trait", "string", json!({"required": true, "enum": ["scab_leaf", "bloom"]}));
    check("scores", "scored_on", "date", json!({"required": true}));
    check("decisions", "decision", "string", json!({"enum": ["keep", "watch", "cull"]}));
    check("weather", "temp_c", "number", json!({"minimum": -60.0, "maximum": 60.0}));
    check("weather", "time", "datetime", json!({"required": true, "unique": true}));
    assert_eq!(field_of(&package, "weather", "time")["format"], "%Y-%m-%dT%H:%M");
}

#[test]
fn the_type_of_moments_holds_all_of_them() {
    let check = |days: [&str; 2], of_type: &str| {
        let scores = format!(
            "score_id,tree_id,trait,value,scored_on\ns1,A,bloom,3,{}\ns2,A,bloom,3,{}\n",
            days[0], days[1]
        );
        let package = read(&with(head(false), &[("trees.csv", TREES), ("scores.csv", &scores)]));
        assert_eq!(field_of(&package, "scores", "scored_on")["type"], of_type, "{days:?}");
    };
    check(["2031-06-14", "2031-06-15"], "date");
    check(["2031-06-14T09:31:05+02:00", "2031-06-14T09:31:05Z"], "datetime");
    check(["2031-06-14", "2031-06-14T09:31:05Z"], "string");
}

#[test]
fn the_package_opens_as_the_plot_it_was() {
    let book = lantern();
    let (again, problems) = files::open(data_package(&book));
    assert_eq!(problems, []);
    assert_eq!(again.expect("a book").plot().trees(), book.plot().trees());
    assert_eq!(slug("— ! —"), "plot");
}
