//! Books for tests: a small one, and the demo plot.

use std::path::Path;

use files::{Book, FileSet};

/// A plot.json with two traits, with or without an origin.
pub(crate) fn head(with_origin: bool) -> String {
    let origin = r#""origin": {"lon": -20.0, "lat": 46.0, "row_bearing_deg": 12.0},"#;
    let origin = if with_origin { origin } else { "" };
    format!(
        r#"{{"format": "leeward-plot", "version": 1, "name": "Withy \"Corner\"",
  "layout": {{"row_spacing_m": 3.0, "place_spacing_m": 0.75}}, {origin}
  "traits": [
    {{"id": "scab_leaf", "disease": "scab", "label": "Scab on leaves", "kind": "ordinal",
     "scale": [{{"value": 0, "label": "none seen", "severity": 0.0}},
               {{"value": 1, "label": "some", "severity": 0.1}}]}},
    {{"id": "bloom", "label": "Bloom", "kind": "number", "unit": "clusters", "min": 0, "max": 200}}]
}}"#
    )
}

/// A book without a fault; no scores.csv where it would be empty.
pub(crate) fn book(head: impl Into<String>, trees: &str, scores: &str) -> Book {
    with(head, &[("trees.csv", trees), ("scores.csv", scores)])
}

/// The same of any files; those that would be empty are left out.
pub(crate) fn with(head: impl Into<String>, files: &[(&str, &str)]) -> Book {
    let mut set = FileSet::from([("plot.json".to_owned(), head.into().into_bytes())]);
    for (name, text) in files.iter().filter(|(_, text)| !text.is_empty()) {
        set.insert((*name).to_owned(), text.as_bytes().to_vec());
    }
    sound(set)
}

/// The demo plot of the repository.
pub(crate) fn lantern() -> Book {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-plot");
    let read = |name: &str| (name.to_owned(), std::fs::read(folder.join(name)).expect("a file"));
    sound(["plot.json", "trees.csv", "scores.csv"].map(read).into())
}

fn sound(files: FileSet) -> Book {
    let (book, problems) = files::open(files);
    let faults: Vec<_> = problems.iter().filter(|one| one.weight == plot::Weight::Fault).collect();
    assert!(faults.is_empty(), "{faults:?}");
    book.expect("a book")
}
