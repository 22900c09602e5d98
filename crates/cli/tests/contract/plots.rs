//! Small plot folders to begin from.

use files::FileSet;

const PLOT: &str = r#"{
  "format": "leeward-plot", "version": 1, "name": "Withy Corner",
  "layout": {"row_spacing_m": 3.0, "place_spacing_m": 0.75},
  "traits": [
    {"id": "scab_leaf", "disease": "scab", "label": "Scab on leaves", "kind": "ordinal",
     "scale": [{"value": 0, "label": "none seen", "severity": 0.0},
               {"value": 1, "label": "some", "severity": 0.1}]}
  ]
}
"#;
const TREES: &str = "\
tree_id,row,place,tag
W1,1,1,Q-1
W2,1,2,Q-2
W3,1,3,
";
const SCORES: &str = "\
score_id,tree_id,trait,value,scored_on
s1,W1,scab_leaf,0,2031-06-14
s2,W2,scab_leaf,1,2031-06-14
";

/// A folder without a fault: three trees, two scores.
pub(crate) fn sound() -> FileSet {
    let file = |(name, text): (&str, &str)| (name.to_owned(), text.as_bytes().to_vec());
    [("plot.json", PLOT), ("trees.csv", TREES), ("scores.csv", SCORES)].map(file).into()
}

/// The sound folder with one file made another.
pub(crate) fn with(name: &str, content: impl AsRef<[u8]>) -> FileSet {
    let mut files = sound();
    files.insert(name.to_owned(), content.as_ref().to_vec());
    files
}

/// The sound folder with the first `from` in a file made `to`.
pub(crate) fn changed(name: &str, from: &str, to: &str) -> FileSet {
    let text = String::from_utf8(sound()[name].clone()).expect("text");
    assert!(text.contains(from), "{name} has no {from}");
    with(name, text.replacen(from, to, 1))
}
