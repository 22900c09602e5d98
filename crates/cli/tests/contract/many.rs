//! `leeward proof --many`: partitions, what is told of each plot, and how it ends.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use files::FileSet;

use crate::plots::{changed, sound};
use crate::run::{Gave, held, leeward, leeward_in, on_disk};

/// An empty folder to work in, with made-up plots of these seeds in `plots`.
fn workbench(name: &str, seeds: &[&str]) -> PathBuf {
    let folder = on_disk(&format!("many-{name}"), &FileSet::new());
    for seed in seeds {
        let plot = folder.join("plots").join(seed);
        let size = ["--rows", "4", "--places", "20", "--seasons", "2", "--no-truth"];
        let call = ["simulate", plot.to_str().expect("UTF-8"), "--seed", seed];
        assert_eq!(leeward(call.into_iter().chain(size)).code, Some(0));
    }
    folder
}

fn add(folder: &Path, plot: &str, files: &FileSet) {
    std::fs::create_dir_all(folder.join(plot)).expect("a folder");
    for (name, bytes) in files {
        std::fs::write(folder.join(plot).join(name), bytes).expect("a file");
    }
}

fn many(folder: &Path, folders: &str, rest: &str) -> Gave {
    let call = format!("proof --disease scab --many {folders} {rest}");
    leeward_in(folder, call.split(' '))
}

/// The files below a folder, named from within it.
fn partitions(out: &Path) -> BTreeMap<String, Vec<u8>> {
    let own = |path: PathBuf| {
        let own = path.strip_prefix(out).expect("within").to_owned();
        own.into_os_string().into_string().expect("UTF-8")
    };
    held(out).into_iter().map(|(path, bytes)| (own(path), bytes)).collect()
}

#[test]
fn any_number_of_jobs_gives_the_same_data_set() {
    let folder = workbench("jobs", &["1", "2", "3"]);
    let gave = many(&folder, "plots", "--jobs 1 --out one --format parquet");
    let said = "one: 3 of 3 plots judged, ";
    assert_eq!((gave.code, gave.out.as_str()), (Some(0), ""), "{}", gave.said);
    assert!(gave.said.lines().last().expect("a line").starts_with(said), "{}", gave.said);
    let other = many(&folder, "plots/3 plots/1 plots/2", "--jobs 7 --out seven");
    assert_eq!(other.code, Some(0), "{}", other.said);
    let one = partitions(&folder.join("one"));
    assert_eq!(one, partitions(&folder.join("seven")));
    let names: Vec<&str> = one.keys().map(String::as_str).collect();
    let partition = |seed, year| {
        format!("plot=Made-up%20plot%3A%20blocks,%20seed%20{seed}/season={year}/part-0.parquet")
    };
    assert_eq!(names, [1, 2, 3].map(|seed| partition(seed, 2030)));
    assert!(one.values().all(|bytes| bytes.starts_with(b"PAR1") && bytes.ends_with(b"PAR1")));

    let gave = many(&folder, "plots/1", "--each-season --out each");
    assert_eq!(gave.code, Some(0), "{}", gave.said);
    let each = partitions(&folder.join("each"));
    let names: Vec<&str> = each.keys().map(String::as_str).collect();
    assert_eq!(names, [2029, 2030].map(|year| partition(1, year)));
    assert_eq!(each[names[1]], one[names[1]], "the last season is the whole record");
    // Up to a season is what asking for the seasons up to it gives.
    let gave = many(&folder, "plots/1", "--season 2029 --out first");
    assert_eq!(gave.code, Some(0), "{}", gave.said);
    assert_eq!(partitions(&folder.join("first"))[names[0]], each[names[0]]);
}

#[test]
fn a_faulty_plot_is_told_and_the_others_go_on() {
    let folder = workbench("faulty", &["1"]);
    add(&folder, "plots/0", &changed("trees.csv", "W2,1,2", "W2,one,2"));
    add(&folder, "plots/notes", &[("words.txt".to_owned(), b"no plot".to_vec())].into());
    let gave = many(&folder, "plots nowhere", "--jobs 2 --out out");
    assert_eq!(gave.code, Some(2));
    let said: Vec<&str> = gave.said.lines().collect();
    assert!(
        said[0].starts_with("plots/0/trees.csv, line 3, column row: found \"one\""),
        "{said:?}"
    );
    assert!(gave.said.contains("plots/0: 2 faults, nothing done\n"), "{}", gave.said);
    assert!(
        gave.said.contains("nowhere: found nothing, expected a plot folder or a zip of one\n"),
        "{}",
        gave.said
    );
    assert!(said[said.len() - 1].starts_with("out: 1 of 3 plots judged, "), "{said:?}");
    assert_eq!(held(&folder.join("out")).len(), 1);
}

#[test]
fn plots_of_which_nobody_can_be_judged_are_no_and_others_done() {
    let folder = workbench("nobody", &["1"]);
    add(&folder, "withy", &sound());
    let gave = many(&folder, "withy", "--out out");
    assert_eq!(gave.code, Some(1), "{}", gave.said);
    assert!(gave.said.contains("withy: Only 1 tree"), "{}", gave.said);
    assert!(gave.said.ends_with("out: 0 of 1 plot judged, 2 lines, 1 file\n"), "{}", gave.said);
    add(&folder, "rust", &changed("plot.json", "\"disease\": \"scab\"", "\"disease\": \"rust\""));
    let renamed = String::from_utf8(sound()["plot.json"].clone()).expect("UTF-8");
    let renamed = renamed.replace("Withy Corner", "Rust").replace(r#""scab","#, r#""rust","#);
    std::fs::write(folder.join("rust/plot.json"), renamed).expect("a file");
    let gave = many(&folder, "withy plots rust", "--out three");
    assert_eq!(gave.code, Some(0), "{}", gave.said);
    assert!(gave.said.contains("rust: no trait counts for \"scab\" (rust)\n"), "{}", gave.said);
    let gave = many(&folder, "rust", "--out none");
    assert_eq!(gave.code, Some(2));
    assert!(gave.said.contains("--disease: found \"scab\", expected a disease"), "{}", gave.said);
    assert!(!folder.join("none").exists());
}

#[test]
fn what_could_be_mistaken_is_refused_before_anything_is_done() {
    let folder = workbench("refused", &[]);
    add(&folder, "a", &sound());
    add(&folder, "b", &changed("plot.json", "Withy Corner", "withy corner"));
    let check = |folders: &str, rest: &str, said: &str| {
        let gave = many(&folder, folders, rest);
        assert_eq!((gave.code, gave.out.as_str()), (Some(2), ""), "{folders} {rest}");
        assert!(gave.said.contains(said), "{}", gave.said);
        assert_eq!(held(&folder).len(), 6, "nothing is written");
    };
    check(
        "a b",
        "--out out",
        "b: found \"withy corner\" as its name, as a has, expected a name of its own in plot.json",
    );
    check(".", "--out out", "a name of its own in plot.json\nnothing done\n");
    check("a", "--out b", "b: found a folder, expected none: nothing is written over");
    check("a", "--out out --format csv", "--format: found a table, expected parquet");
    check("a", "--out out --jobs 0", "0 is not in 1..=1024");
    check("a", "--jobs 2", "--out <DIR>");
    check("a", "--out out --by genotype", "cannot be used with");
    let gave = leeward_in(&folder, "proof a --disease scab --format parquet".split(' '));
    assert_eq!(gave.code, Some(2));
    assert!(gave.said.contains("found parquet, expected csv or json"), "{}", gave.said);
    let gave = leeward_in(&folder, "proof --disease scab".split(' '));
    assert_eq!(gave.code, Some(2));
}
