//! `leeward simulate` as a person calls it.

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use files::FileSet;

fn simulate(out: &Path, options: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_leeward"))
        .arg("simulate")
        .arg(out)
        .args(options)
        .output()
        .expect("the program runs")
}

/// A folder of this test's own that is not there yet.
fn fresh(name: &str) -> PathBuf {
    let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    if path.exists() {
        std::fs::remove_dir_all(&path).expect("an earlier run's folder goes");
    }
    path
}

fn read(folder: &Path) -> FileSet {
    let entries = std::fs::read_dir(folder).expect("a folder");
    let paths = entries.map(|entry| entry.expect("an entry").path());
    paths
        .map(|path| {
            let name = path.file_name().expect("a name").to_string_lossy().into_owned();
            (name, std::fs::read(path).expect("a file"))
        })
        .collect()
}

#[test]
fn the_demo_plot_is_what_its_command_writes() {
    let out = fresh("demo");
    let done = simulate(&out, &["--kind", "demo", "--seed", "7", "--no-truth"]);
    assert_eq!(done.status.code(), Some(0), "{}", String::from_utf8_lossy(&done.stderr));
    let made = read(&out);
    let kept = read(&Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-plot"));
    assert_eq!(made.keys().collect::<Vec<_>>(), ["plot.json", "scores.csv", "trees.csv"]);
    for (name, bytes) in &made {
        assert!(kept.get(name) == Some(bytes), "demo-plot/{name} is not what the command writes");
    }
    let command = "leeward simulate demo-plot --kind demo --seed 7 --no-truth";
    let readme = String::from_utf8_lossy(&kept["README.md"]);
    assert!(readme.contains(command) && readme.contains("invented"));
    let (book, problems) = files::open(kept);
    assert_eq!(problems, []);
    assert!(book.expect("a book").plot().head().name.contains("invented"));
}

#[test]
fn a_made_up_plot_opens_without_a_problem_and_has_its_truth_beside_it() {
    let out = fresh("with-truth");
    let options = ["--seed", "3", "--rows", "4", "--places", "20", "--seasons", "2"];
    assert_eq!(simulate(&out, &options).status.code(), Some(0));
    let mut made = read(&out);
    let truth = made.remove("truth.csv").expect("the truth");
    let (book, problems) = files::open(made);
    assert_eq!(problems, []);
    let trees = book.expect("a book").plot().trees().len();
    assert_eq!(trees, 80);
    let lines: Vec<&str> = std::str::from_utf8(&truth).expect("text").lines().collect();
    assert_eq!(lines.len(), trees + 1);
    assert_eq!(
        lines[0],
        "tree_id,disease,resistant,susceptibility,frailty,true_dose,\
         infected_on_season_1,infected_on_season_2"
    );
}

#[test]
fn nothing_is_written_over() {
    let out = fresh("taken");
    std::fs::create_dir_all(&out).expect("a folder");
    std::fs::write(out.join("trees.csv"), "mine").expect("a file");
    let refused = simulate(&out, &["--seed", "3"]);
    assert_eq!(refused.status.code(), Some(2));
    let said = String::from_utf8_lossy(&refused.stderr);
    assert!(said.contains("trees.csv: found a file, expected none"), "{said}");
    assert_eq!(read(&out).into_iter().collect::<Vec<_>>(), [("trees.csv".into(), b"mine".into())]);
}

#[test]
fn an_unknown_kind_and_a_missing_seed_are_told() {
    for (options, words) in
        [(vec!["--seed", "1", "--kind", "tulips"], "tulips"), (vec![], "--seed")]
    {
        let refused = simulate(&fresh("never"), &options);
        assert_eq!(refused.status.code(), Some(2));
        assert!(String::from_utf8_lossy(&refused.stderr).contains(words));
    }
}
