//! `leeward print`: what is written, that it is written whole, and what does not go together.

use std::path::{Path, PathBuf};

use files::FileSet;

use crate::plots::{changed, sound, with};
use crate::run::{Gave, demo_plot, held, leeward, on_disk};

/// Prints a plot with more arguments, parted by blanks.
fn print(plot: &Path, out: &Path, arguments: &str) -> Gave {
    let paths = ["print".into(), plot.into(), "--out".into(), out.to_owned()];
    leeward(paths.into_iter().chain(arguments.split(' ').map(PathBuf::from)))
}

/// A free name in an empty folder.
fn free(name: &str) -> PathBuf {
    on_disk(&format!("print-{name}"), &FileSet::new()).join("out")
}

#[test]
fn each_kind_is_one_file_or_a_folder_of_pictures() {
    let plot = on_disk("print-each", &sound());
    for (arguments, told, holds) in [
        ("--what field-sheets", "1 page", ">Scab on leaves<"),
        ("--what tags", "1 page", ">W1-"),
        ("--what map", "1 page", ">Cross: seed parent × pollen parent<"),
        ("--what map --disease scab", "1 page", ">proven<"),
        ("--what map --trait scab_leaf", "1 page", ">100 mm<"),
        ("--what report", "1 disease", "How this was judged"),
        ("--what copy", "3 trees", "data:application/zip;base64,UEsDB"),
    ] {
        let out = free("each-out");
        let gave = print(&plot, &out, arguments);
        assert_eq!((gave.code, gave.out.as_str()), (Some(0), ""), "{arguments}: {}", gave.said);
        assert!(gave.said.ends_with(&format!("out: {told}\n")), "{arguments}: {}", gave.said);
        let html = std::fs::read_to_string(&out).expect("a file");
        assert!(html.starts_with("<!doctype html>") && html.ends_with("</html>\n"));
        assert!(html.contains(holds), "{arguments}");
        // Nothing is fetched and nothing runs; a namespace is no address.
        let html = html.replace("http://www.w3.org/2000/svg", "");
        for not in ["<script", " style=", "http:", "https:", "@import"] {
            assert!(!html.contains(not), "{arguments}: {not}");
        }
        assert_eq!(held(out.parent().expect("a folder")).len(), 1, "nothing is left beside it");
    }
    let out = free("each-svg");
    let gave = print(&demo_plot(), &out, "--what tags --rows 1-3 --format svg --size small");
    assert_eq!((gave.code, gave.out.as_str()), (Some(0), ""), "{}", gave.said);
    let pages = held(&out);
    let names: Vec<_> = pages.keys().filter_map(|it| it.file_name()?.to_str()).collect();
    assert_eq!(names, ["page-1.svg", "page-2.svg", "page-3.svg", "page-4.svg"]);
    for svg in pages.values() {
        assert!(svg.starts_with(b"<svg xmlns") && svg.ends_with(b"</svg>\n"));
    }
}

#[test]
fn the_same_call_gives_the_same_bytes() {
    for arguments in
        ["--what tags --rows 2", "--what report --disease scab", "--what copy --disease canker"]
    {
        let [first, second] = ["same-1", "same-2"].map(|name| {
            let out = free(name);
            assert_eq!(print(&demo_plot(), &out, arguments).code, Some(0));
            std::fs::read(out).expect("a file")
        });
        assert_eq!(first, second, "{arguments}");
    }
}

#[test]
fn field_sheets_and_tags_take_the_trees_that_were_asked_for() {
    let plot = on_disk("print-trees", &changed("trees.csv", "W3,1,3,", "W3,2,1,"));
    let check = |arguments: &str, there: &[&str], not: &[&str]| {
        let out = free("trees-out");
        let gave = print(&plot, &out, arguments);
        assert_eq!(gave.code, Some(0), "{arguments}: {}", gave.said);
        let html = std::fs::read_to_string(&out).expect("a file");
        for code in there {
            assert!(html.contains(&format!(">{code}-")), "{arguments}: {code}");
        }
        for code in not {
            assert!(!html.contains(&format!(">{code}-")), "{arguments}: {code}");
        }
        html
    };
    check("--what tags --rows 1", &["W1", "W2"], &["W3"]);
    check("--what tags --no-tag", &["W3"], &["W1", "W2"]);
    check("--what tags --tree W2", &["W2"], &["W1", "W3"]);
    let html = check("--what field-sheets --from-last-row", &["W1", "W2", "W3"], &[]);
    assert!(html.find("Row 2").expect("row 2") < html.find("Row 1").expect("row 1"));
    let html = check("--what field-sheets --sick-last --rows 1", &["W1", "W2"], &["W3"]);
    assert!(html.contains("Row 1: trees seen with symptoms"));
}

#[test]
fn what_does_not_fit_is_refused_and_nothing_is_written() {
    let plot = on_disk("print-unfit", &sound());
    for (arguments, said) in [
        ("--what map --rows 1", "--what map: found --rows, which goes with field-sheets, tags"),
        ("--what copy --format svg", "--what copy: found --format svg, which goes with"),
        ("--what tags --sick-last", "found the order of a walk, which goes with field-sheets"),
        (
            "--what map --disease rust",
            "--disease: found \"rust\", expected a disease of plot.json (scab)",
        ),
        ("--what field-sheets --disease rust", "--disease: found \"rust\", expected a disease"),
        ("--what report --disease rust", "--disease: found \"rust\", expected a disease"),
        (
            "--what map --trait bloom",
            "--trait: found \"bloom\", expected a trait of plot.json (scab_leaf)",
        ),
        ("--what map --trait scab_leaf --disease scab", "found several layers, expected one"),
        ("--what tags --rows 9", "--rows: found 9, expected a row of trees.csv"),
        ("--what tags --rows 1-x", "--rows: found \"1-x\", expected numbers and ranges as 3-7"),
        ("--what tags --tree W9", "--tree: found \"W9\", expected a tree_id of trees.csv"),
        ("--what tags --start 25", "--start: found 25, expected a label from 1 to 24"),
        ("--what tags --labels 3x8", "--labels: found no size and margin"),
        (
            "--what tags --labels 3.5x8 --label 60x30 --margin 8x8",
            "expected whole numbers of labels",
        ),
        (
            "--what tags --labels 3x8 --label 80x30 --margin 8x8",
            "--labels: found labels from 8.0 to 248.0 mm",
        ),
        (
            "--what tags --labels 3x8 --label 20x10 --margin 8x8",
            "--label: found 20.0 x 10.0 mm, expected room",
        ),
        ("--what tags --offset wide", "found \"wide\", expected two numbers, such as 63x34"),
        // It goes with tags whose labels are told.
        ("--what tags --landscape", "--landscape: found no --labels"),
    ] {
        let out = free("unfit-out");
        let gave = print(&plot, &out, arguments);
        assert_eq!((gave.code, gave.out.as_str()), (Some(2), ""), "{arguments}");
        assert!(gave.said.contains(said), "{arguments}: {}", gave.said);
        assert!(held(out.parent().expect("a folder")).is_empty(), "{arguments}");
    }
}

#[test]
fn nothing_is_written_over_and_faults_print_nothing() {
    let faulty = on_disk("print-faulty", &changed("trees.csv", "W2,1,2", "W2,one,2"));
    let plot = on_disk("print-over", &sound());
    for what in ["field-sheets", "tags", "map", "report", "copy"] {
        let out = free("over-out");
        let gave = print(&faulty, &out, &format!("--what {what}"));
        assert_eq!((gave.code, gave.out.as_str()), (Some(2), ""), "{what}");
        assert!(gave.said.contains("line 3, column row: found \"one\""), "{}", gave.said);
        assert!(held(out.parent().expect("a folder")).is_empty());
        std::fs::write(&out, "mine").expect("a file");
        let gave = print(&plot, &out, &format!("--what {what}"));
        assert_eq!(gave.code, Some(2), "{what}");
        assert!(gave.said.contains("out: found a file, expected none"), "{}", gave.said);
        assert_eq!(std::fs::read_to_string(&out).expect("a file"), "mine");
    }
}

#[test]
fn a_copy_holds_the_whole_folder_with_photos_unless_they_are_left_out() {
    let plot = on_disk("print-photos", &with("photos/s2.jpg", [0xff, 0xd8, 7].repeat(40_000)));
    let size = |arguments: &str| {
        let out = free("photos-out");
        assert_eq!(print(&plot, &out, arguments).code, Some(0));
        std::fs::metadata(&out).expect("a file").len()
    };
    let (with_photos, without) = (size("--what copy"), size("--what copy --no-photos"));
    assert!(with_photos > without, "{with_photos} and {without} bytes");
}

#[test]
fn a_test_page_has_labels_and_no_tag() {
    let plot = on_disk("print-test-page", &sound());
    let out = free("test-page-out");
    let labels = "--labels 2x5 --label 90x50 --margin 10x12 --pitch 95x52 --offset -1x0.5";
    let gave = print(&plot, &out, &format!("--what tags --test-page {labels}"));
    assert_eq!(gave.code, Some(0), "{}", gave.said);
    let html = std::fs::read_to_string(&out).expect("a file");
    assert!(html.contains("<rect x=\"9\" y=\"12.5\" width=\"90\" height=\"50\""), "{html}");
    assert!(html.contains(">10<") && html.contains(">100 mm<") && !html.contains("W1-"));
}
