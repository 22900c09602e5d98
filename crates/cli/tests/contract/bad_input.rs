//! Every bad input gets a clear message and exit code 2, and nothing is written.

use std::path::Path;

use files::FileSet;

use crate::plots::{changed, sound, with};
use crate::run::{Gave, demo_plot, held, leeward, on_disk};

/// The faults that a folder must be told, on every command that reads one.
fn check(name: &str, files: &FileSet, faults: &[&str]) {
    let folder = on_disk(name, files);
    check_folder(&folder, faults);
}

fn check_folder(folder: &Path, faults: &[&str]) {
    let before = held(folder);
    let path = folder.to_str().expect("UTF-8");
    let count =
        if faults.len() == 1 { "1 fault".to_owned() } else { format!("{} faults", faults.len()) };
    let mut expected: Vec<String> = faults.iter().map(|fault| format!("{path}/{fault}")).collect();
    expected.push(format!("{path}: {count}"));
    // Notices stand between; the last line goes on with what was not done.
    let told = |gave: &Gave| -> Vec<String> {
        let lines = gave.said.lines().filter(|line| !line.starts_with("notice: "));
        lines
            .map(|line| {
                line.split_once(&count)
                    .map_or(line, |(start, _)| &line[..start.len() + count.len()])
                    .to_owned()
            })
            .collect()
    };
    for command in [
        vec!["proof", path, "--disease", "scab"],
        vec!["proof", path, "--disease", "scab", "--by", "genotype", "--format", "json"],
        vec!["near", path, "--tree", "W1", "--disease", "scab"],
        vec!["vigour", path],
    ] {
        let gave = leeward(&command);
        assert_eq!(gave.code, Some(2), "{command:?}: {gave:?}");
        assert_eq!(gave.out, "", "{command:?} gives nothing");
        assert_eq!(told(&gave), expected, "{command:?}");
    }
    for format in ["csv", "json"] {
        let gave = leeward(["inspect", path, "--format", format]);
        assert_eq!(gave.code, Some(2), "{gave:?}");
        assert_eq!(told(&gave), expected);
        assert!(!gave.out.is_empty(), "inspect says what it found");
    }
    assert_eq!(held(folder), before, "nothing is written");
}

#[test]
fn a_plot_of_a_newer_version() {
    check(
        "newer",
        &changed("plot.json", "\"version\": 1", "\"version\": 2"),
        &["plot.json, column version: found version 2, expected version 1 at most: a newer \
           Leeward wrote this folder and is needed to open it"],
    );
}

#[test]
fn a_missing_column() {
    check(
        "missing-column",
        &changed("scores.csv", "scored_on", "day"),
        &["scores.csv, line 1, column scored_on: found columns \"score_id\", \"tree_id\", \
           \"trait\", \"value\", \"day\", expected a column scored_on"],
    );
}

#[test]
fn a_row_of_wrong_width() {
    check(
        "wrong-width",
        &changed("trees.csv", "W2,1,2,Q-2", "W2,1,2"),
        &[
            "trees.csv, line 3: found 3 cells, expected 4, one for each column of the header",
            "scores.csv, line 3, column tree_id: found \"W2\", expected a tree_id of trees.csv",
        ],
    );
}

#[test]
fn two_equal_ids() {
    check(
        "equal-ids",
        &changed("scores.csv", "s2,", "s1,"),
        &[
            "scores.csv, line 3, column score_id: found \"s1\", which an earlier line has, expected \
           an id of its own",
        ],
    );
}

#[test]
fn a_date_that_does_not_exist() {
    check(
        "no-such-date",
        &changed("scores.csv", "2031-06-14", "2031-06-31"),
        &["scores.csv, line 2, column scored_on: found \"2031-06-31\", expected a date that \
           exists, such as 2031-06-14 or 2031-06-14T09:31:05+02:00"],
    );
}

#[test]
fn a_score_outside_its_scale() {
    check(
        "off-scale",
        &changed("scores.csv", "scab_leaf,1,", "scab_leaf,7,"),
        &["scores.csv, line 3, column value: found 7, expected one of 0, 1 (scab_leaf)"],
    );
}

#[test]
fn a_tree_in_two_places() {
    check(
        "two-places",
        &changed("trees.csv", "W3,1,3,", "W1,2,3,"),
        &[
            "trees.csv, line 4, column tree_id: found \"W1\" in two places: row 1 place 1, and here \
           row 2 place 3, expected an id of its own, and one place for each tree",
        ],
    );
}

#[test]
fn a_file_of_200_mb() {
    let folder = on_disk("too-large", &sound());
    // Sparse: refused by its size before a byte is read.
    let file = std::fs::File::create(folder.join("scores.csv")).expect("a file");
    file.set_len(200_000_000).expect("a sparse file");
    drop(file);
    let path = folder.to_str().expect("UTF-8");
    for command in [vec!["inspect", path], vec!["proof", path, "--disease", "scab"]] {
        let gave = leeward(&command);
        assert_eq!(gave.code, Some(2));
        assert_eq!(
            gave.said.lines().next(),
            Some(
                format!(
                    "{path}/scores.csv: found a file of 190.7 MiB (200000000 bytes), expected at \
                     most 128.0 MiB (134217728 bytes)"
                )
                .as_str()
            )
        );
    }
    std::fs::remove_dir_all(folder).expect("the folder goes");
}

#[test]
fn an_empty_folder() {
    check(
        "empty",
        &FileSet::new(),
        &["plot.json: found no plot.json (the folder is empty), expected a plot folder with \
           plot.json and trees.csv"],
    );
}

#[test]
fn a_picture_named_trees_csv() {
    check(
        "picture",
        &with("trees.csv", b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR\0\0\x01\0"),
        &["trees.csv: found a PNG picture, expected CSV text in UTF-8"],
    );
}

#[test]
fn every_fault_of_every_file_in_one_go() {
    let mut files = changed("trees.csv", "W2,1,2,Q-2", "W2,one,2,Q-2");
    let scores = "score_id,tree_id,trait,value,scored_on,note\n\
        s1,W1,scab_leaf,0,2031-06-14,\"two\nlines\"\n\
        s2,W2,scab_leaf,2,2031-06-14,\n\
        s3,W3,scab_leaf,2,2031-02-29,\n";
    files.insert("scores.csv".to_owned(), scores.into());
    files.insert("events.csv".to_owned(), b"date,kind\n2031-05-32,spray\n".to_vec());
    let weather = "time,temp_c,leaf_wetness\n2031-05-02T09:00,11,0\n2031-05-02T10:00,11,15\n";
    files.insert("weather.csv".to_owned(), weather.into());
    check(
        "many",
        &files,
        &[
            "trees.csv, line 3, column row: found \"one\", expected a whole number",
            "scores.csv, line 4, column tree_id: found \"W2\", expected a tree_id of trees.csv \
             without fault (its line 3 has one)",
            "scores.csv, line 5, column scored_on: found \"2031-02-29\", expected a date that \
             exists, such as 2031-06-14 or 2031-06-14T09:31:05+02:00",
            "events.csv, line 2, column date: found \"2031-05-32\", expected a date that exists, \
             such as 2031-06-14",
            "weather.csv, line 3, column leaf_wetness: found 15, expected a share from 0 (dry) to 1",
        ],
    );
}

#[test]
fn a_folder_that_is_not_there_or_is_a_file() {
    let folder = on_disk("a-file", &sound());
    let file = folder.join("trees.csv");
    for (path, found) in [(folder.join("none"), "nothing"), (file, "a file")] {
        for command in ["inspect", "proof", "near"] {
            let mut arguments = vec![command, path.to_str().expect("UTF-8")];
            if command != "inspect" {
                arguments.extend(["--disease", "scab"]);
            }
            if command == "near" {
                arguments.extend(["--tree", "W1"]);
            }
            let gave = leeward(&arguments);
            assert_eq!((gave.code, gave.out.as_str()), (Some(2), ""));
            let expected = format!(
                "{}: found {found}, expected a plot folder or a zip of one\n",
                path.display()
            );
            assert_eq!(gave.said, expected);
        }
    }
}

#[test]
fn a_call_that_asks_for_what_is_not_there() {
    let demo = demo_plot();
    let demo = demo.to_str().expect("UTF-8");
    let check = |arguments: &[&str], said: &str| {
        let gave = leeward(arguments);
        assert_eq!((gave.code, gave.out.as_str()), (Some(2), ""), "{arguments:?}");
        assert!(gave.said.starts_with(said), "{}", gave.said);
    };
    check(
        &["proof", demo, "--disease", "rust"],
        "--disease: found \"rust\", expected a disease of plot.json (scab, fire_blight, canker)\n",
    );
    check(
        &["near", demo, "--tree", "nobody", "--disease", "scab"],
        "--tree: found \"nobody\", expected a tree_id of trees.csv\n",
    );
    check(&["proof", demo], "error: the following required arguments were not provided:");
    check(&["proof", demo, "--disease", "scab", "--by", "row"], "error: invalid value 'row'");
    check(&["guess"], "error: unrecognized subcommand 'guess'");
}

#[test]
fn notices_alone_end_inspect_with_1_and_stop_nothing() {
    let folder = on_disk("notices", &changed("trees.csv", "W3,1,3,", "W3,1,2,"));
    let path = folder.to_str().expect("UTF-8");
    let notice = format!(
        "notice: {path}/trees.csv, line 4, column place: found row 1 place 2, where \"W2\" stands \
         too, expected a place of its own, grafted_on, or a status for the one that went\n"
    );
    let gave = leeward(["inspect", path]);
    assert_eq!(gave.code, Some(1));
    assert!(gave.said.starts_with(&notice), "{}", gave.said);
    let gave = leeward(["near", path, "--tree", "W1", "--disease", "scab"]);
    assert_eq!(gave.code, Some(0));
    assert!(gave.said.starts_with(&notice), "{}", gave.said);
    assert_eq!(gave.out.lines().count(), 3);
}

#[test]
fn a_sound_folder_is_inspected_with_0_also_one_level_down() {
    let folder = on_disk("sound", &sound());
    let gave = leeward(["inspect", folder.to_str().expect("UTF-8")]);
    assert_eq!((gave.code, gave.said.as_str()), (Some(0), ""));
    for line in ["trees of plot,Withy Corner,3", "scores that stand,,2", "problems,fault,0"] {
        assert!(gave.out.lines().any(|found| found == line), "{line}: {}", gave.out);
    }
    let below = sound().into_iter().map(|(name, bytes)| (format!("withy-corner/{name}"), bytes));
    let folder = on_disk("below", &below.collect());
    let gave = leeward(["inspect", folder.to_str().expect("UTF-8"), "--format", "json"]);
    assert_eq!((gave.code, gave.said.as_str()), (Some(0), ""));
    let json: serde_json::Value = serde_json::from_str(&gave.out).expect("JSON");
    assert_eq!(json["problems"], serde_json::json!([]));
    let plot = &json["holds"][3];
    assert_eq!(plot["what"], "trees of plot");
    assert_eq!((&plot["name"], &plot["count"]), (&"Withy Corner".into(), &3.into()));
}

#[test]
fn profiles_of_diseases_are_shown_and_their_faults_are_those_of_the_folder() {
    let own = |profile: &str| changed("plot.json", "{", &format!("{{\"diseases\": [{profile}], "));
    let folder = on_disk("own-disease", &own("{\"id\": \"rust\"}, {\"id\": \"Scab\"}"));
    let gave = leeward(["inspect", folder.to_str().expect("UTF-8")]);
    assert_eq!((gave.code, gave.said.as_str()), (Some(0), ""));
    for line in [
        "traits of disease (own profile),Scab,1",
        "traits of disease (built-in profile),canker,0",
        "traits of disease (own profile),rust,0",
    ] {
        assert!(gave.out.lines().any(|found| found == line), "{line}: {}", gave.out);
    }
    check(
        "faulty-disease",
        &own(
            "{\"id\": \"rust\", \"spread\": {\"half_distances_m\": [-1]}}, {\"label\": \"mould\"}",
        ),
        &[
            "plot.json, column diseases[0].spread.half_distances_m: found a list, expected 1 to 12 \
             distances in metres, each above 0 and at most 100, rising",
            "plot.json, column diseases[1].id: found nothing, expected a name",
        ],
    );
}
