//! docs/cautions.md says what the code says, word for word, and all of it.

use files::{FileSet, open};
use scene::words::{self, cautions};

const PAGE: &str = include_str!("../../docs/cautions.md");

/// A plot that knows what comes with the program, and nothing else.
const HEAD: &str = r#"{"format": "leeward-plot", "version": 1, "name": "Withy Corner",
    "layout": {"row_spacing_m": 3.0, "place_spacing_m": 0.75}, "traits": []}"#;

#[test]
fn the_page_has_the_cautions_of_the_code_and_no_others() {
    let files = [
        ("plot.json", HEAD),
        ("trees.csv", "tree_id,row,place\n"),
        ("scores.csv", "score_id,tree_id,trait,value,scored_on\n"),
    ];
    let folder = files.map(|(name, text)| (name.to_owned(), text.as_bytes().to_vec()));
    let (book, problems) = open(FileSet::from(folder));
    assert_eq!(problems, []);
    let book = book.expect("a plot");
    let plot = book.plot();

    let mut expected: Vec<String> =
        [cautions::clean_first(), cautions::ladder(), cautions::sprays()].map(str::to_owned).into();
    for name in ["fire_blight", "canker"] {
        expected.extend(cautions::of_disease(plot, name));
    }
    let others = plot
        .head()
        .diseases
        .iter()
        .filter(|it| !["fire_blight", "canker"].contains(&it.id.as_str()));
    for disease in others {
        assert_eq!(cautions::of_disease(plot, &disease.id), [""; 0], "the page has no part for it");
    }
    expected.extend([words::proof_is_local(), words::field_scores_cannot()].map(str::to_owned));

    let said: Vec<&str> = PAGE.lines().filter_map(|line| line.strip_prefix("- ")).collect();
    assert_eq!(said, expected);
}
