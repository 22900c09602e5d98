//! The documentation is true: every command in it is run, and the folder in it is read.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use files::FileSet;

use crate::plots::changed;
use crate::run::{commands, demo_plot, leeward, leeward_in, on_disk};

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

fn page(name: &str) -> String {
    std::fs::read_to_string(root().join("docs").join(name)).expect("a page")
}

/// Every page by its name: all of docs, and those at the top.
fn pages() -> Vec<(String, String)> {
    let listed = std::fs::read_dir(root().join("docs")).expect("a folder");
    let paths = listed.map(|entry| entry.expect("an entry").path());
    let paths = paths.filter(|path| path.extension().is_some_and(|end| end == "md"));
    let top = ["README.md", "DEVELOPERS.md"].map(|name| root().join(name));
    let mut pages: Vec<(String, String)> = paths
        .chain(top)
        .map(|path| {
            let name = path.file_name().expect("a name").to_string_lossy().into_owned();
            (name, std::fs::read_to_string(path).expect("a page"))
        })
        .collect();
    pages.sort();
    pages
}

/// The calls of a page's console blocks, each with the answer that the page gives.
fn examples(page: &str) -> Vec<(&str, &str)> {
    let blocks = blocks(page, "console").into_iter();
    let calls = blocks.flat_map(|block| block.split("$ leeward ").skip(1));
    calls.map(|call| call.split_once('\n').expect("a call and its answer")).collect()
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

/// A folder to run a page's examples in: the demo plot, a copy of it with another score as it comes
/// from a phone, a small plot with three faults, three made-up plots in one folder, and a table of
/// points.
fn workbench(page: &str) -> PathBuf {
    let mut files = FileSet::new();
    for name in ["README.md", "plot.json", "trees.csv", "scores.csv"] {
        let mut bytes = std::fs::read(demo_plot().join(name)).expect("a file");
        files.insert(format!("demo-plot/{name}"), bytes.clone());
        if name == "scores.csv" {
            bytes.extend(b"phone-1,T0003,scab_leaf,2,2031-09-14,September,,,\n");
        }
        files.insert(format!("from-phone/{name}"), bytes);
    }
    let mut faulty = changed("trees.csv", "W2,1,2", "W2,one,2");
    let scores = faulty.get_mut("scores.csv").expect("scores");
    scores.extend(b"s3,W3,scab_leaf,0,2031-06-31\n");
    files.extend(faulty.into_iter().map(|(name, bytes)| (format!("withy-corner/{name}"), bytes)));
    for (from, to) in [("pepper_F2", "points.csv"), ("pepper_F2", ""), ("tiny_open", "")] {
        let own = format!("tests/reference/data/{from}.csv");
        let bytes = std::fs::read(root().join(&own)).expect("a table");
        files.insert(if to.is_empty() { own } else { to.to_owned() }, bytes);
    }
    let folder = on_disk(&format!("docs-{page}"), &files);
    for seed in ["1", "2", "3"] {
        let call = format!("simulate plots/{seed} --seed {seed} --rows 4 --places 30 --seasons 2");
        assert_eq!(leeward_in(&folder, call.split(' ')).code, Some(0));
    }
    folder
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
fn examples_of_every_page_run_as_they_stand() {
    let mut pages_with_examples = Vec::new();
    for (name, page) in pages() {
        let examples = examples(&page);
        assert_eq!(examples.len(), page.matches("$ leeward").count(), "{name}: all are in blocks");
        if examples.is_empty() {
            continue;
        }
        let folder = workbench(&name);
        for (arguments, expected) in examples {
            let gave = answer(&folder, arguments);
            let (lines, like): (Vec<&str>, Vec<&str>) =
                (gave.lines().collect(), expected.lines().collect());
            assert!(
                is_like(&lines, &like),
                "{name}: leeward {arguments}\n{gave}\nexpected:\n{expected}"
            );
        }
        pages_with_examples.push(name);
    }
    assert_eq!(pages_with_examples, ["command-line.md", "many-plots.md", "spatial-statistics.md"]);
}

#[test]
fn examples_in_help_and_on_the_first_page_are_those_that_run() {
    let pages = pages();
    let run: BTreeSet<&str> =
        pages.iter().flat_map(|(_, page)| examples(page)).map(|(call, _)| call).collect();
    let (_, first) = pages.iter().find(|(name, _)| name == "README.md").expect("a first page");
    let calls: Vec<&str> =
        first.lines().filter_map(|line| Some(line.split_once("-p cli -- ")?.1)).collect();
    assert!(calls.len() >= 5 && calls.iter().all(|call| run.contains(call)), "{calls:?}");
    let commands = commands();
    assert!(commands.len() > 10, "{commands:?}");
    for command in commands {
        let help = leeward([command.as_str(), "--help"]);
        assert_eq!((help.code, help.said.as_str()), (Some(0), ""));
        let (_, end) = help.out.split_once("\nExample").expect(&command);
        let calls: Vec<&str> =
            end.lines().filter_map(|line| line.strip_prefix("  leeward ")).collect();
        assert!((1..=3).contains(&calls.len()), "{command}: {end}");
        for call in calls {
            assert!(call.starts_with(&command) && run.contains(call), "no page has {call}");
        }
    }
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
