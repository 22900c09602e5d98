//! Books for tests: small ones, and the demo plot.

use std::path::Path;
use std::sync::OnceLock;

use files::{Book, FileSet};
use proof::{Options, Report, Run};

const HEAD: &str = r#"{"format": "leeward-plot", "version": 1, "name": "Withy <Corner>",
  "layout": {"row_spacing_m": 3.0, "place_spacing_m": 0.75,
             "low_end": "road end", "high_end": "brook end"},
  "origin": {"lon": -20.0, "lat": 46.0, "row_bearing_deg": 12.0},
  "traits": [
    {"id": "scab_leaf", "disease": "scab", "label": "Scab on leaves", "kind": "ordinal",
     "scale": [{"value": 0, "label": "none seen", "severity": 0.0},
               {"value": 1, "label": "some", "severity": 0.1}]},
    {"id": "shoot_blight", "disease": "fire_blight", "label": "Shoot blight", "kind": "ordinal",
     "scale": [{"value": 10, "label": "none", "severity": 0.0},
               {"value": 5, "label": "a third", "severity": 0.3}]},
    {"id": "trunk", "label": "Trunk diameter", "kind": "number", "unit": "mm"}]
}"#;

/// A book without a fault, of three traits.
pub(crate) fn book(trees: &str, scores: &str) -> Book {
    let mut files = FileSet::new();
    let header = "score_id,tree_id,trait,value,scored_on\n";
    files.insert("plot.json".to_owned(), HEAD.into());
    files.insert("trees.csv".to_owned(), trees.into());
    files.insert("scores.csv".to_owned(), format!("{header}{scores}").into());
    sound(files)
}

/// The demo plot of the repository.
pub(crate) fn lantern() -> Book {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-plot");
    let read = |name: &str| (name.to_owned(), std::fs::read(folder.join(name)).expect("a file"));
    sound(["plot.json", "trees.csv", "scores.csv"].map(read).into())
}

/// The ends of the rows, as a book names them.
pub(crate) fn ends(book: &Book) -> walk::Ends {
    book.row_ends().into()
}

/// The judgement of scab on the demo plot, worked out once.
pub(crate) fn lantern_scab() -> Report {
    static JUDGED: OnceLock<Report> = OnceLock::new();
    JUDGED.get_or_init(|| judged(&lantern(), "scab")).clone()
}

/// The judgement of a disease.
pub(crate) fn judged(book: &Book, disease: &str) -> Report {
    let mut run = Run::new(book.plot(), disease, &Options::default()).expect("a disease");
    while !run.step().is_done() {}
    run.finish()
}

fn sound(files: FileSet) -> Book {
    let (book, problems) = files::open(files);
    let faults: Vec<_> = problems.iter().filter(|one| one.weight == plot::Weight::Fault).collect();
    assert!(faults.is_empty(), "{faults:?}");
    book.expect("a book")
}
