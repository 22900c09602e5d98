//! What a book writes back: everything that stood there, and new scores at the end.

use plot::{Head, Layout, ScoreDraft, ScoreId, TraitId, TreeId, When};

use super::*;
use crate::open;

const PLOT: &str = r#"{"format": "leeward-plot", "version": 1, "name": "Test bank", "of_ours": [1],
  "layout": {"row_spacing_m": 3, "place_spacing_m": 1},
  "traits": [{"id": "trunk", "label": "Trunk", "kind": "number"}]}"#;

fn folder(scores: Option<&[u8]>) -> FileSet {
    let mut files = FileSet::from([
        ("plot.json".to_owned(), PLOT.into()),
        ("trees.csv".to_owned(), b"tree_id,row,place\nA,1,1\n".to_vec()),
    ]);
    files.extend(scores.map(|scores| ("scores.csv".to_owned(), scores.to_vec())));
    files
}

fn draft(id: &str, note: &str) -> ScoreDraft {
    ScoreDraft {
        id: ScoreId::new(id),
        tree: TreeId::new("A"),
        trait_id: TraitId::new("trunk"),
        value: Some(0.1 + 0.2),
        scored_on: When::parse("2031-06-14T09:31:05+02:00").expect("a moment"),
        round: None,
        scorer: None,
        note: Some(note.into()),
        replaces: None,
    }
}

/// What `scores.csv` is after one score, given what it was.
fn check(before: Option<&[u8]>, after: &[u8]) {
    let (book, _) = open(folder(before));
    let mut book = book.expect("a book");
    let (ix, line) = book.record(draft("n1", "say \"no\"")).expect("a score");
    assert_eq!(book.plot().score(ix).id.as_str(), "n1");
    let scores = &book.files()["scores.csv"];
    assert_eq!(String::from_utf8_lossy(scores), String::from_utf8_lossy(after));
    assert!(scores.ends_with(&line));
    assert_eq!(book.files()["plot.json"], PLOT.as_bytes(), "unknown fields are kept");
}

#[test]
fn a_new_score_stands_at_the_end_in_the_columns_and_line_ends_of_the_file() {
    check(
        None,
        b"score_id,tree_id,trait,value,scored_on,round,scorer,note,replaces\n\
          n1,A,trunk,0.30000000000000004,2031-06-14T09:31:05+02:00,,,\"say \"\"no\"\"\",\n",
    );
    check(
        Some(b"\xef\xbb\xbfscored_on,colour,trait,tree_id,value,score_id\r\n2031-06-14,red,trunk,A,3,s1\r\n"),
        b"\xef\xbb\xbfscored_on,colour,trait,tree_id,value,score_id,round,scorer,note,replaces\r\n\
          2031-06-14,red,trunk,A,3,s1,,,,\r\n\
          2031-06-14T09:31:05+02:00,,trunk,A,0.30000000000000004,n1,,,\"say \"\"no\"\"\",\r\n",
    );
    // A faulty last line without a line end stays as it stood, on a line of its own.
    check(
        Some(b"score_id,tree_id,trait,value,scored_on\ns1,A,trunk,\"3,2031-06-14"),
        b"score_id,tree_id,trait,value,scored_on,round,scorer,note,replaces\ns1,A,trunk,\"3,2031-06-14\n\
          n1,A,trunk,0.30000000000000004,2031-06-14T09:31:05+02:00,,,\"say \"\"no\"\"\",\n",
    );
}

#[test]
fn scores_that_cannot_be_read_are_put_aside_whole() {
    let picture = b"\x89PNG\r\n\x1a\n\0\0\0";
    let (book, problems) = open(folder(Some(picture)));
    let mut book = book.expect("a book");
    assert_eq!(problems.len(), 1);
    assert_eq!(book.files()["scores.csv"], picture, "untouched while nothing is recorded");
    book.record(draft("n1", "")).expect("a score");
    assert_eq!(book.files()["scores-set-aside-1.csv"], picture);
    let (again, problems) = open(book.into_files());
    assert_eq!(problems, []);
    assert_eq!(again.expect("a book").plot().scores().len(), 1);
}

#[test]
fn a_score_that_the_plot_refuses_changes_nothing() {
    let (book, _) = open(folder(None));
    let mut book = book.expect("a book");
    let before = book.to_files();
    book.record(ScoreDraft { tree: TreeId::new("Q"), ..draft("n1", "") })
        .expect_err("no such tree");
    assert_eq!(book.files(), &before);
}

#[test]
fn a_log_may_be_replayed_twice_and_its_torn_end_is_kept() {
    let start = || open(folder(None)).0.expect("a book");
    let mut first = start();
    let mut log = Vec::new();
    for id in ["n1", "n2"] {
        log.extend(first.record(draft(id, "two\nlines")).expect("a score").1);
    }
    let mut second = start();
    assert_eq!(second.replay(&log), []);
    assert_eq!(second.files(), first.files());
    assert_eq!(second.plot().scores(), first.plot().scores());
    log.extend(b"n3,A,tru");
    for _ in 0..2 {
        let told: Vec<String> = second.replay(&log).iter().map(ToString::to_string).collect();
        assert_eq!(
            told,
            ["scores.csv, line 5: found 3 cells, expected 9, one for each column of the header"]
        );
        assert_eq!(second.plot().scores().len(), 2);
    }
    let mut expected = first.files()["scores.csv"].clone();
    expected.extend(b"n3,A,tru");
    assert_eq!(second.files()["scores.csv"], expected);
    // The same id with other content is a conflict: told, and kept.
    let other = b"n1,A,trunk,5,2031-06-14,,,,\n";
    assert_eq!(second.replay(other).len(), 1);
    assert!(second.files()["scores.csv"].ends_with(other));
}

#[test]
fn a_plot_from_scratch_takes_scores() {
    let head = Head {
        name: "New bank".to_owned(),
        layout: Layout { row_spacing_m: 3.0, place_spacing_m: 0.5, first_row: 1, first_place: 1 },
        origin: None,
        season_starts_month: 7,
        traits: vec![],
        diseases: crate::built_in_diseases(),
        crosses: vec![],
    };
    let book = Book::new(Plot::new(head.clone()).expect("a plot"));
    let (again, problems) = open(book.to_files());
    assert_eq!(problems, []);
    assert_eq!(again.expect("a book").plot().head(), &head);
}

/// As the contract of the folder names them.
#[test]
fn the_columns_of_each_file_are_told_in_their_order() {
    let check = |nth: usize, file: &str, columns: &str| {
        let (name, all) = crate::columns()[nth];
        assert_eq!((name, all.join(",").as_str()), (file, columns));
    };
    check(1, "scores", "score_id,tree_id,trait,value,scored_on,round,scorer,note,replaces");
    check(2, "decisions", "decision_id,tree_id,decision,decided_on,reason");
    check(3, "events", "date,from,to,kind,rows,note");
    check(4, "weather", "time,temp_c,rain_mm,leaf_wetness,relative_humidity,wind_ms,wind_from_deg");
    let (name, trees) = crate::columns()[0];
    assert_eq!((name, trees[0]), ("trees", "tree_id"));
    assert!(trees.contains(&"grafted_on") && trees.contains(&"x_m"));
}

/// The first line has the columns of the file, the others those that it gets by them.
#[test]
fn a_log_that_grows_wider_is_told_by_its_own_lines() {
    let narrow = b"score_id,tree_id,trait,value,scored_on\n";
    let mut book = open(folder(Some(narrow))).0.expect("a book");
    let log = b"n1,A,trunk,1,2031-06-14\nn2,A,trunk,2,2031-06-14,,ann,,\n\
        n3,Z,trunk,2,2031-06-14,,ann,,\n";
    let told: Vec<Option<u64>> = book.replay(log).iter().map(|problem| problem.line).collect();
    assert_eq!((told, book.plot().scores().len()), (vec![Some(3)], 2));
}
