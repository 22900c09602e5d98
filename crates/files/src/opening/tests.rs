//! What a bad folder is told, what is kept of it, and that steps and one go come to the same.

use plot::Weight;

use super::*;

const PLOT: &str = r#"{
  "format": "leeward-plot", "version": 1, "name": "Test bank",
  "layout": {"row_spacing_m": 3.0, "place_spacing_m": 0.75},
  "traits": [
    {"id": "scab_leaf", "disease": "scab", "label": "Scab on leaves", "kind": "ordinal",
     "scale": [{"value": 0, "label": "none", "severity": 0}, {"value": 1, "label": "some", "severity": 0.1}]},
    {"id": "trunk", "label": "Trunk", "kind": "number", "unit": "mm", "min": 1, "max": 400}
  ]
}"#;
const TREES: &str = "tree_id,row,place,tag\nA,1,1,T-1\nB,1,2,\n";
const SCORES: &str = "score_id,tree_id,trait,value,scored_on\ns1,A,scab_leaf,0,2031-06-14\n";

fn folder(files: &[(&str, &[u8])]) -> FileSet {
    files.iter().map(|&(name, bytes)| (name.to_owned(), bytes.to_vec())).collect()
}

fn told(files: &[(&str, &[u8])]) -> (Option<Book>, Vec<String>) {
    let (book, problems) = open(folder(files));
    (book, problems.iter().map(ToString::to_string).collect())
}

/// A sound folder in which one file is another; what is told, and how many trees and scores are
/// still there (none: no book).
fn check(file: &str, content: impl AsRef<[u8]>, left: Option<(usize, usize)>, expected: &[&str]) {
    let mut files = folder(&[
        ("plot.json", PLOT.as_bytes()),
        ("trees.csv", TREES.as_bytes()),
        ("scores.csv", SCORES.as_bytes()),
    ]);
    files.insert(file.to_owned(), content.as_ref().to_vec());
    let (book, problems) = open(files.clone());
    let problems: Vec<String> = problems.iter().map(ToString::to_string).collect();
    assert_eq!(problems, expected);
    let counts = book.as_ref().map(|book| (book.plot().trees().len(), book.plot().scores().len()));
    assert_eq!(counts, left, "{problems:?}");
    if let Some(book) = book {
        assert_eq!(book.files(), &files, "every byte is kept");
    }
}

#[test]
fn a_sound_folder_has_nothing_told() {
    check("note.txt", "anything", Some((2, 1)), &[]);
}

#[test]
fn faults_of_a_head() {
    let head = |from: &str, to: &str| PLOT.replacen(from, to, 1);
    check(
        "plot.json",
        head("\"version\": 1", "\"version\": 2"),
        None,
        &[
            "plot.json, column version: found version 2, expected version 1 at most: a newer Leeward \
           wrote this folder and is needed to open it",
        ],
    );
    check(
        "plot.json",
        head("\"version\": 1", "\"version\": \"one\""),
        None,
        &["plot.json, column version: found \"one\", expected 1"],
    );
    check(
        "plot.json",
        head("leeward-plot", "other"),
        None,
        &["plot.json, column format: found \"other\", expected \"leeward-plot\""],
    );
    check(
        "plot.json",
        head("\"name\": \"Test bank\",", "\"name\": \"Test bank\""),
        None,
        &["plot.json, line 3: found no valid JSON at character 3 (expected `,` or `}`), expected \
           JSON text"],
    );
    check(
        "plot.json",
        b"\x89PNG\r\n\x1a\n\0\0",
        None,
        &["plot.json: found a PNG picture, expected JSON text in UTF-8"],
    );
    check(
        "plot.json",
        "[".repeat(1000),
        None,
        &["plot.json, line 1: found lists or objects within one another, too many at character \
           128, expected at most 127 levels"],
    );
    check(
        "plot.json",
        head("\"row_spacing_m\": 3.0, \"place_spacing_m\": 0.75", "\"row_spacing_m\": -3"),
        None,
        &[
            "plot.json, column layout.row_spacing_m: found -3, expected metres above 0 and at most \
             1000",
            "plot.json, column layout.place_spacing_m: found nothing, expected metres above 0 and \
             at most 1000",
        ],
    );
}

#[test]
fn a_faulty_trait_is_left_out_and_the_rest_stays() {
    check(
        "plot.json",
        PLOT.replacen("\"kind\": \"ordinal\"", "\"kind\": \"guess\"", 1),
        Some((2, 0)),
        &[
            "plot.json, column traits[0].kind: found \"guess\", expected \"ordinal\" or \"number\"",
            "scores.csv, line 2, column trait: found \"scab_leaf\", expected a trait id of \
             plot.json (which has faults)",
        ],
    );
    check(
        "plot.json",
        PLOT.replacen("\"severity\": 0.1", "\"severity\": 10", 1),
        Some((2, 0)),
        &[
            "plot.json, column traits[0].scale[1].severity: found 10, expected a share from 0 to 1",
            "scores.csv, line 2, column trait: found \"scab_leaf\", expected a trait id of \
             plot.json (which has faults)",
        ],
    );
    check(
        "plot.json",
        PLOT.replacen("\"unit\": \"mm\"", "\"needs\": {\"trait\": \"bloom\", \"at_least\": 1}", 1),
        Some((2, 1)),
        &[
            "plot.json, column traits.needs: found \"bloom\" (of trunk), expected the id of another \
           trait of this plot",
        ],
    );
}

#[test]
fn faults_of_trees() {
    let trees = |lines: &str| format!("tree_id,row,place,tag\nA,1,1,T-1\n{lines}");
    check(
        "trees.csv",
        "row,place\n1,1\n",
        None,
        &[
            "trees.csv, line 1, column tree_id: found columns \"row\", \"place\", expected a column \
           tree_id",
        ],
    );
    check(
        "trees.csv",
        "tree_id;row;place\nA;1;1\n",
        None,
        &["trees.csv, line 1, column tree_id: found columns \"tree_id;row;place\", expected a \
           column tree_id, separated by commas"],
    );
    check(
        "trees.csv",
        "tree_id,row\nA,1\n",
        None,
        &[
            "trees.csv, line 1: found no columns that say where, expected columns row and place, or \
           x_m and y_m",
        ],
    );
    check(
        "trees.csv",
        b"\x89PNG\r\n\x1a\n\0\0",
        None,
        &["trees.csv: found a PNG picture, expected CSV text in UTF-8"],
    );
    check(
        "trees.csv",
        "",
        None,
        &["trees.csv: found an empty file, expected a header line with tree_id, row, place, x_m, \
           y_m, lon, lat, tag, genotype, seed_parent, pollen_parent, cross_year, seedling_no, role, \
           grafted_on, status, planted_on, removed_on, note"],
    );
    check(
        "trees.csv",
        "tree_id,row,place,row\nA,1,1,1\n",
        None,
        &["trees.csv, line 1, column row: found this column twice, expected each column once"],
    );
    check(
        "trees.csv",
        trees("B,1\nC,1,2,x,y\nD,1,3,\n"),
        Some((2, 1)),
        &[
            "trees.csv, line 3: found 2 cells, expected 4, one for each column of the header",
            "trees.csv, line 4: found 5 cells, expected 4, one for each column of the header",
        ],
    );
    check(
        "trees.csv",
        trees("A,1,1,\nA,4,2,\n"),
        Some((1, 1)),
        &[
            "trees.csv, line 3, column tree_id: found \"A\", which an earlier line has, expected \
             an id of its own, and one place for each tree",
            "trees.csv, line 4, column tree_id: found \"A\" in two places: row 1 place 1, and here \
             row 4 place 2, expected an id of its own, and one place for each tree",
        ],
    );
    check(
        "trees.csv",
        trees("B,1.5,zwei,\n,1,4,\nC,1,,\n"),
        Some((1, 1)),
        &[
            "trees.csv, line 3, column row: found \"1.5\", expected a whole number",
            "trees.csv, line 3, column place: found \"zwei\", expected a whole number",
            "trees.csv, line 4, column tree_id: found nothing, expected an id of its own",
            "trees.csv, line 5, column row: found no position, expected row and place, or x_m and \
             y_m, or lon and lat",
        ],
    );
    check(
        "trees.csv",
        b"tree_id,row,place,tag\nA,1,1,\nB,1,2,K\xfcste\n".as_slice(),
        Some((1, 1)),
        &["trees.csv, line 3, column tag: found bytes that are not UTF-8, expected UTF-8 text"],
    );
    check(
        "trees.csv",
        "tree_id,row,place,x_m,y_m,role,status,planted_on,removed_on\n\
         A,1,1,,,,,2031-02-29,\n\
         B,1,1,3.5,,,,,\n\
         C,1,1,inf,\"1,5\",,,,\n\
         D,1,1,,,tree,gone,,\n\
         E,1,1,,,,,2031-03-01,2030-03-01\n\
         F,1,1,,,guard,dead,2031-03-01,2031-03-01\n",
        Some((1, 0)),
        &[
            "trees.csv, line 2, column planted_on: found \"2031-02-29\", expected a date that \
             exists, such as 2031-06-14",
            "trees.csv, line 3, column y_m: found nothing, expected a number, since x_m has one",
            "trees.csv, line 4, column x_m: found \"inf\", expected a number, with a dot for \
             decimals",
            "trees.csv, line 4, column y_m: found \"1,5\", expected a number, with a dot for \
             decimals",
            "trees.csv, line 5, column role: found \"tree\", expected one of seedling, named, \
             susceptible_check, resistant_check, guard, or nothing for seedling",
            "trees.csv, line 5, column status: found \"gone\", expected one of alive, dead, \
             removed, empty, or nothing for alive",
            "trees.csv, line 6, column removed_on: found 2030-03-01, expected a day on or after \
             planted_on (2031-03-01)",
            "scores.csv, line 2, column tree_id: found \"A\", expected a tree_id of trees.csv \
             without fault (its line 2 has one)",
        ],
    );
}

#[test]
fn grafts_may_come_before_their_carrier_and_never_hang_in_the_air() {
    let trees = "tree_id,row,place,grafted_on\n\
        G2,,,G1\nG1,,,A\nA,1,1,\nX,,,Y\nY,,,X\nZ,,,none\nW,9,9,A\n";
    check(
        "trees.csv",
        trees,
        Some((3, 1)),
        &[
            "trees.csv, line 5, column grafted_on: found \"Y\", expected the tree_id of a tree that \
             stands in the ground, or of a graft that does",
            "trees.csv, line 6, column grafted_on: found \"X\", expected the tree_id of a tree that \
             stands in the ground, or of a graft that does",
            "trees.csv, line 7, column grafted_on: found \"none\", expected the tree_id of another \
             tree",
            "trees.csv, line 8, column row: found a graft in another place than the tree that \
             carries it, expected nothing, or the place of \"A\"",
        ],
    );
}

#[test]
fn a_place_with_two_standing_trees_is_worth_a_look() {
    check(
        "trees.csv",
        "tree_id,row,place,status,grafted_on\nA,1,1,,\nB,1,1,,\nC,1,2,dead,\nD,1,2,,\nG,1,2,,D\n",
        Some((5, 1)),
        &[
            "trees.csv, line 3, column place: found row 1 place 1, where \"A\" stands too, expected \
           a place of its own, grafted_on, or a status for the one that went",
        ],
    );
}

#[test]
fn faults_of_scores() {
    let scores = |lines: &str| format!("score_id,tree_id,trait,value,scored_on,note\n{lines}");
    check(
        "scores.csv",
        "score_id,tree_id,trait,scored_on\n",
        Some((2, 0)),
        &["scores.csv, line 1, column value: found columns \"score_id\", \"tree_id\", \"trait\", \
           \"scored_on\", expected a column value"],
    );
    check(
        "scores.csv",
        scores(
            "s1,A,scab_leaf,7,2031-06-14,\n\
             s2,A,scab_leaf,0,2031-02-30,\n\
             s3,Q,scab_leaf,0,2031-06-14,\n\
             s4,A,scab,0,2031-06-14,\n\
             s5,A,trunk,0.5,2031-06-14,\n\
             s6,A,trunk,,2031-06-14T09:31:05+02:00,too wet\n\
             s6,A,trunk,20,2031-06-14,\n\
             s7,A,trunk,2O,14.06.2031,\n\
             ,,,,,\n",
        ),
        Some((2, 1)),
        &[
            "scores.csv, line 2, column value: found 7, expected one of 0, 1 (scab_leaf)",
            "scores.csv, line 3, column scored_on: found \"2031-02-30\", expected a date that \
             exists, such as 2031-06-14 or 2031-06-14T09:31:05+02:00",
            "scores.csv, line 4, column tree_id: found \"Q\", expected a tree_id of trees.csv",
            "scores.csv, line 5, column trait: found \"scab\", expected a trait id of plot.json",
            "scores.csv, line 6, column value: found 0.5, expected a number from 1 to 400 mm \
             (trunk)",
            "scores.csv, line 8, column score_id: found \"s6\", which an earlier line has, \
             expected an id of its own",
            "scores.csv, line 9, column value: found \"2O\", expected a number, with a dot for \
             decimals",
            "scores.csv, line 9, column scored_on: found \"14.06.2031\", expected a date that \
             exists, such as 2031-06-14 or 2031-06-14T09:31:05+02:00",
            "scores.csv, line 10, column score_id: found nothing, expected an id of its own",
            "scores.csv, line 10, column tree_id: found nothing, expected a tree_id of trees.csv",
            "scores.csv, line 10, column trait: found nothing, expected a trait id of plot.json",
            "scores.csv, line 10, column scored_on: found nothing, expected a date that exists, \
             such as 2031-06-14 or 2031-06-14T09:31:05+02:00",
        ],
    );
}

#[test]
fn scores_out_of_time_and_corrections_of_nothing_are_worth_a_look() {
    let mut files = folder(&[("plot.json", PLOT.as_bytes())]);
    let trees = "tree_id,row,place,status,planted_on,removed_on\n\
        A,1,1,removed,2030-03-01,2032-09-01\nE,1,2,empty,,\n";
    let scores = "score_id,tree_id,trait,value,scored_on,replaces\n\
        s1,A,trunk,9,2030-02-28,\ns2,A,trunk,9,2032-09-02,\ns3,A,trunk,9,2031-09-02,s9\n\
        s4,E,trunk,9,2031-09-02,\ns5,A,trunk,10,2031-09-02,s6\ns6,A,trunk,11,2031-09-02,\n";
    files.insert("trees.csv".to_owned(), trees.into());
    files.insert("scores.csv".to_owned(), scores.into());
    let (book, problems) = open(files);
    assert_eq!(book.expect("a book").plot().scores().len(), 6);
    assert!(problems.iter().all(|problem| problem.weight == Weight::Notice));
    let told: Vec<String> = problems.iter().map(ToString::to_string).collect();
    assert_eq!(
        told,
        [
            "scores.csv, line 2, column scored_on: found 2030-02-28, before \"A\" was planted, \
             expected a day on or after planted_on (2030-03-01)",
            "scores.csv, line 3, column scored_on: found 2032-09-02, after \"A\" was removed, \
             expected a day on or before removed_on (2032-09-01)",
            "scores.csv, line 4, column replaces: found \"s9\", expected a score_id of this file",
            "scores.csv, line 5, column scored_on: found 2031-09-02, a score of \"E\", where \
             trees.csv has nothing, expected a tree whose status is not empty",
        ]
    );
}

#[test]
fn folders_without_what_makes_them_a_plot() {
    let (book, problems) = told(&[]);
    assert!(book.is_none());
    assert_eq!(
        problems,
        ["plot.json: found no plot.json (the folder is empty), expected a plot folder with \
          plot.json and trees.csv"]
    );
    let (book, problems) = told(&[("plot.json", PLOT.as_bytes())]);
    assert!(book.is_none());
    assert_eq!(
        problems,
        ["trees.csv: found no trees.csv, expected a file with one line for each tree"]
    );
    let (book, problems) = told(&[("plot.json", PLOT.as_bytes()), ("trees.csv", TREES.as_bytes())]);
    assert!(book.is_some());
    assert_eq!(
        problems,
        ["scores.csv: found no scores.csv, expected a file with one line for each score (taken \
          as: no scores yet)"]
    );
}

#[test]
fn without_a_head_the_other_files_are_still_looked_through() {
    let trees = "tree_id,row,place\nA,1,1\nA,1,x\n";
    let scores =
        "score_id,tree_id,trait,value,scored_on\ns1,A,any,0,2031-06-31\ns2,Q,any,9,2031-06-30\n";
    let (book, problems) =
        told(&[("trees.csv", trees.as_bytes()), ("scores.csv", scores.as_bytes())]);
    assert!(book.is_none());
    assert_eq!(
        problems,
        [
            "plot.json: found no plot.json, expected a plot folder with plot.json and trees.csv",
            "trees.csv, line 3, column place: found \"x\", expected a whole number",
            "scores.csv, line 2, column scored_on: found \"2031-06-31\", expected a date that \
             exists, such as 2031-06-14 or 2031-06-14T09:31:05+02:00",
        ]
    );
}

#[test]
fn faulty_weather_is_kept_and_the_plot_opens() {
    check(
        "weather.csv",
        b"time,temp_c\r\n2031-06-14T09:00,11\r\n2031-06-14T09:20,11\r\n2031-06-14T11:00,\xff\n\
          2031-06-14T11:00,9",
        Some((2, 1)),
        &[
            "weather.csv, line 1, column leaf_wetness: found no wetness, expected a column \
             leaf_wetness or relative_humidity (without either, only rain tells of wetness)",
            "weather.csv, line 3, column time: found \"2031-06-14T09:20\", expected a full hour \
             that exists, such as 2031-06-14T09:00 or 2031-06-14T09:00+02:00",
            "weather.csv, line 4, column temp_c: found bytes that are not UTF-8, expected UTF-8 \
             text",
            "weather.csv, line 5, column time: found no line for the hour before: \
             2031-06-14T10:00, expected one line for each hour",
        ],
    );
    check(
        "weather.csv",
        b"\x89PNG\r\n\x1a\n\0\0",
        Some((2, 1)),
        &["weather.csv: found a PNG picture, expected CSV text in UTF-8"],
    );
}

#[test]
fn the_book_has_the_hours_of_the_weather() {
    let (book, told) = told(&[
        ("plot.json", PLOT.as_bytes()),
        ("trees.csv", TREES.as_bytes()),
        ("scores.csv", SCORES.as_bytes()),
        ("weather.csv", b"time,temp_c,leaf_wetness\n2031-06-14T09:00,11.5,1\n"),
    ]);
    assert_eq!(told, [""; 0]);
    let book = book.expect("a book");
    let [hour] = book.weather().hours() else { panic!("one hour") };
    assert_eq!((hour.temp_c, hour.leaf_wetness, hour.rain_mm), (Some(11.5), Some(1.0), None));
}

#[test]
fn a_file_that_is_too_large_is_told_by_its_size_alone() {
    let mut opening =
        Opening::new(folder(&[("plot.json", PLOT.as_bytes()), ("trees.csv", TREES.as_bytes())]));
    opening.leave_out("scores.csv", 200_000_000);
    let (book, problems) = opening.finish();
    assert!(book.is_none(), "what is not held cannot be written back");
    let told: Vec<String> = problems.iter().map(ToString::to_string).collect();
    assert_eq!(
        told,
        ["scores.csv: found a file of 190.7 MiB (200000000 bytes), expected at most 128.0 MiB \
          (134217728 bytes)"]
    );
}

#[test]
fn a_folder_one_level_down_opens_with_its_base() {
    let (book, problems) = told(&[
        ("hollow-bank/plot.json", PLOT.as_bytes()),
        ("hollow-bank/trees.csv", TREES.as_bytes()),
        ("hollow-bank/scores.csv", SCORES.as_bytes()),
        ("hollow-bank/photos/a.jpg", b"\xff\xd8\xff"),
    ]);
    assert_eq!(problems, [""; 0]);
    let book = book.expect("a book");
    assert_eq!(book.base(), "hollow-bank/");
    let names: Vec<&String> = book.files().keys().collect();
    assert_eq!(names, ["photos/a.jpg", "plot.json", "scores.csv", "trees.csv"]);
}

#[test]
fn steps_of_any_size_come_to_the_same_and_go_on() {
    let scores: String = (0..500)
        .map(|nth| format!("s{nth},A,trunk,{},2031-06-14\n", if nth % 7 == 0 { 0 } else { 20 }))
        .collect();
    let scores = format!("score_id,tree_id,trait,value,scored_on\n{scores}");
    let weather: String = (10..24).map(|hour| format!("2031-06-14T{hour}:00,7\n")).collect();
    let weather = format!("time,temp_c\n{weather}");
    let files = folder(&[
        ("plot.json", PLOT.as_bytes()),
        ("trees.csv", TREES.as_bytes()),
        ("scores.csv", scores.as_bytes()),
        ("weather.csv", weather.as_bytes()),
    ]);
    let (whole, all) = open(files.clone());
    for lines in [1, 3, 100] {
        let mut opening = Opening::new(files.clone());
        let (mut steps, mut before) = (0, 0);
        loop {
            let (done, of) = opening.step(lines);
            assert!(done >= before && done <= of);
            (before, steps) = (done, steps + 1);
            if done == of {
                break;
            }
        }
        assert!(steps >= 500 / lines, "{steps} steps of {lines}");
        let (book, problems) = opening.finish();
        assert_eq!(problems, all);
        let scores = |book: &Option<Book>| book.as_ref().map(|book| book.plot().scores().to_vec());
        assert_eq!(scores(&book), scores(&whole));
        let weather = |book: &Option<Book>| book.as_ref().map(|book| book.weather().clone());
        assert_eq!(weather(&book), weather(&whole));
    }
}

#[test]
fn more_faults_than_are_listed_are_counted() {
    let lines = "x\n".repeat(caps::PROBLEMS + 5);
    let trees = format!("tree_id,row,place\n{lines}");
    let (_, problems) = told(&[
        ("plot.json", PLOT.as_bytes()),
        ("trees.csv", trees.as_bytes()),
        ("scores.csv", b"score_id,tree_id,trait,value,scored_on\n"),
    ]);
    assert_eq!(problems.len(), caps::PROBLEMS + 1);
    assert_eq!(
        problems[caps::PROBLEMS],
        "trees.csv: found 5 more problems, which are not listed, expected at most 10000 problems"
    );
}
