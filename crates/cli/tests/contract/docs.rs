//! The documentation is true: every command in it is run, and the folder in it is read.

use std::path::{Path, PathBuf};

use files::FileSet;

use crate::plots::changed;
use crate::run::{demo_plot, leeward_in, on_disk};

fn page(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs").join(name);
    std::fs::read_to_string(path).expect("a page")
}

/// The code blocks of a page in a language.
fn blocks<'a>(page: &'a str, language: &str) -> Vec<&'a str> {
    let opening = format!("```{language}\n");
    let rest = page.split(opening.as_str()).skip(1);
    rest.map(|rest| rest.split("```").next().expect("an end")).collect()
}

/// Standard output, standard error and the exit code where it is not 0.
fn answer(folder: &Path, arguments: &str) -> String {
    let gave = leeward_in(folder, arguments.split(' '));
    let end = match gave.code {
        Some(0) => String::new(),
        code => format!("[exit code {}]\n", code.expect("an exit code")),
    };
    gave.out + &gave.said + &end
}

/// A folder to run the examples in: the demo plot, and a small one with three faults.
fn workbench() -> PathBuf {
    let mut files = FileSet::new();
    for name in ["README.md", "plot.json", "trees.csv", "scores.csv"] {
        let bytes = std::fs::read(demo_plot().join(name)).expect("a file");
        files.insert(format!("demo-plot/{name}"), bytes);
    }
    let mut faulty = changed("trees.csv", "W2,1,2", "W2,one,2");
    let scores = faulty.get_mut("scores.csv").expect("scores");
    scores.extend(b"s3,W3,scab_leaf,0,2031-06-31\n");
    files.extend(faulty.into_iter().map(|(name, bytes)| (format!("withy-corner/{name}"), bytes)));
    on_disk("docs", &files)
}

/// Whether the lines are those of the example, in which `…` stands for anything left out: a line
/// of its own for any number of lines, within a line for any text.
fn is_like(lines: &[&str], example: &[&str]) -> bool {
    match (lines, example) {
        ([], []) => true,
        (_, ["…", rest @ ..]) => (0..=lines.len()).any(|skip| is_like(&lines[skip..], rest)),
        ([line, lines @ ..], [like, rest @ ..]) => {
            let parts: Vec<&str> = like.split('…').collect();
            text_is_like(line, &parts) && is_like(lines, rest)
        }
        _ => false,
    }
}

fn text_is_like(text: &str, parts: &[&str]) -> bool {
    match parts {
        [whole] => text == *whole,
        [start, rest @ ..] => text.strip_prefix(start).is_some_and(|text| {
            text.char_indices()
                .map(|(at, _)| at)
                .chain([text.len()])
                .any(|at| text_is_like(&text[at..], rest))
        }),
        [] => false,
    }
}

#[test]
fn examples_of_the_command_line_run_as_they_stand() {
    let page = page("command-line.md");
    let folder = workbench();
    let mut run = 0;
    for block in blocks(&page, "console") {
        for example in block.split("$ leeward ").skip(1) {
            let (arguments, expected) = example.split_once('\n').expect("a call and its answer");
            let gave = answer(&folder, arguments);
            let (lines, like): (Vec<&str>, Vec<&str>) =
                (gave.lines().collect(), expected.lines().collect());
            assert!(is_like(&lines, &like), "leeward {arguments}\n{gave}\nexpected:\n{expected}");
            run += 1;
        }
    }
    assert_eq!(run, 37, "every example of the page");
}

#[test]
fn what_is_left_out_of_an_example_is_all_that_may_differ() {
    let check =
        |lines: &[&str], example: &[&str], like: bool| assert_eq!(is_like(lines, example), like);
    check(&["a", "b", "c"], &["a", "…", "c"], true);
    check(&["a", "c"], &["a", "…", "c"], true);
    check(&["a", "b", "c"], &["a", "…"], true);
    check(&["a", "b"], &["a"], false);
    check(&["a 17 b"], &["a … b"], true);
    check(&["a 17 b 3"], &["a … b"], false);
    check(&["a 17"], &["a …"], true);
    check(&[], &["a"], false);
}

#[test]
fn the_folder_of_the_contract_opens_without_a_problem() {
    let page = page("plot-folder.md");
    let [trees, scores] = blocks(&page, "csv")[..] else { panic!("two tables") };
    let [head] = blocks(&page, "json")[..] else { panic!("one head") };
    let files = [("plot.json", head), ("trees.csv", trees), ("scores.csv", scores)];
    let (book, problems) =
        files::open(files.map(|(name, text)| (name.to_owned(), text.into())).into());
    assert_eq!(problems, []);
    let book = book.expect("a book");
    let plot = book.plot();
    assert_eq!((plot.trees().len(), plot.scores().len()), (4, 4));
    assert_eq!(plot.standing_scores().count(), 3, "one is corrected");
    assert_eq!(book.row_ends(), [Some("road end".to_owned()), Some("hedge end".to_owned())]);
    // A number of a disease: the way from min to max.
    let blight = plot.trait_of(plot.trait_ix("blossom_blight").expect("a trait"));
    assert_eq!(blight.severity(25.0), Some(0.25));
}
