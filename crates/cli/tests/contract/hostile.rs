//! Folders and zips that mean harm: each ends as it must, soon, in bounded memory, and nothing is
//! written beside what was asked for.

use std::path::{Path, PathBuf};
use std::process::Command;

use crossing::hostile::{End, FORMULA, Form, Hostile, all, sound};
use files::FileSet;

use crate::run::{held, leeward, on_disk};

/// Most address space of the program, KiB: the largest that is read is a zip of 1 GiB unpacked.
const MOST_KIB: u64 = 2_500_000;
/// Most seconds of the processor, in a build that is not optimised.
const MOST_SECONDS: u64 = 60;

/// Where it lies, two folders below that of a test; nowhere if it is for the page alone.
fn laid(of_test: &str, hostile: &Hostile) -> Option<PathBuf> {
    let name = format!("{of_test}/{}", hostile.name);
    match &hostile.form {
        Form::Folder(files) => Some(on_disk(&name, files)),
        Form::Zip(bytes) => {
            let files = FileSet::from([("plot.zip".to_owned(), bytes.clone())]);
            Some(on_disk(&name, &files).join("plot.zip"))
        }
        Form::Workbook(_) => None,
    }
}

/// Exit code and words of `leeward inspect`, held to memory and time by the shell.
fn inspected(plot: &Path) -> (Option<i32>, String) {
    let held =
        format!("ulimit -v {MOST_KIB}; ulimit -t {MOST_SECONDS}; exec \"$0\" inspect \"$1\"");
    let program = env!("CARGO_BIN_EXE_leeward");
    let output =
        Command::new("sh").args(["-c", &held, program]).arg(plot).output().expect("sh runs");
    (output.status.code(), String::from_utf8(output.stderr).expect("UTF-8"))
}

#[test]
fn each_ends_as_it_must() {
    // No other test writes there, so that whatever is written beside shows.
    let around = on_disk("hostile-ends", &FileSet::new());
    for hostile in all() {
        let Some(plot) = laid("hostile-ends/in", &hostile) else { continue };
        let before = held(&around);
        let (code, said) = inspected(&plot);
        let (expected, words) = match hostile.end {
            End::Sound => (0, ""),
            End::Faulty(words) | End::Refused(words) => (2, words),
        };
        let shown: String = said.chars().take(500).collect();
        assert_eq!(code, Some(expected), "{}: {shown}", hostile.name);
        assert!(said.contains(words), "{}: {shown}", hostile.name);
        assert!(
            !said.contains(|it: char| it.is_control() && it != '\n'),
            "{}: {shown}",
            hostile.name
        );
        assert!(held(&around) == before, "{}", hostile.name);
        std::fs::remove_dir_all(around.join("in").join(hostile.name)).expect("it goes");
    }
}

#[test]
fn words_stay_words_in_everything_that_is_written() {
    let hostile = all().into_iter().find(|one| one.name == "words").expect("one of them");
    let plot = laid("hostile-words", &hostile).expect("a folder");
    let out = on_disk("hostile-words-out", &FileSet::new());
    let call = |arguments: &[&str], name: &str| {
        let file = out.join(name);
        let [plot, file_name] = [&plot, &file].map(|path| path.to_str().expect("UTF-8"));
        let words = arguments.iter().map(|word| match *word {
            "PLOT" => plot,
            "OUT" => file_name,
            word => word,
        });
        let gave = leeward(words);
        assert_eq!(gave.code, Some(0), "{}", gave.said);
        std::fs::read(&file).unwrap_or_else(|_| gave.out.into_bytes())
    };
    let export = |to: &str, name: &str| call(&["export", "PLOT", "--to", to, "--out", "OUT"], name);
    let table = String::from_utf8(export("csv", "table.csv")).expect("UTF-8");
    let mut rows = csv::Reader::from_reader(table.as_bytes());
    for cell in rows
        .records()
        .flat_map(|row| row.expect("a row").iter().map(str::to_owned).collect::<Vec<_>>())
    {
        let begins = cell.starts_with(['=', '+', '-', '@', '\t', '\r']);
        assert!(!begins || cell.parse::<f64>().is_ok(), "{cell:?}");
    }
    assert!(table.contains(&FORMULA.replace('"', "\"\"")), "{table}");
    for (what, name) in [
        ("tags", "tags.html"),
        ("map", "map.html"),
        ("report", "report.html"),
        ("copy", "copy.html"),
    ] {
        let page = call(&["print", "PLOT", "--what", what, "--out", "OUT"], name);
        let page = String::from_utf8(page).expect("UTF-8");
        assert!(page.contains("&lt;script&gt;") || what == "map", "{name} names no tree");
        for harm in ["<script", "<img src=x", "onerror=\"", "<b style"] {
            assert!(!page.contains(harm), "{harm} in {name}");
        }
    }
}

#[cfg(unix)]
#[test]
fn a_link_out_of_the_folder_is_not_followed() {
    let secret =
        on_disk("hostile-secret", &FileSet::from([("key".to_owned(), b"secret".to_vec())]));
    let plot = on_disk("hostile-links", &sound());
    std::fs::create_dir(plot.join("photos")).expect("a folder");
    std::fs::write(plot.join("photos/own.jpg"), b"own").expect("a file");
    let link = |to: &Path, name: &str| {
        std::os::unix::fs::symlink(to, plot.join(name)).expect("a link");
    };
    link(&secret.join("key"), "photos/s1.jpg");
    link(&secret, "more");
    link(Path::new("photos/own.jpg"), "own-again.jpg");
    link(Path::new("."), "round");
    let out = on_disk("hostile-links-out", &FileSet::new()).join("copy.zip");
    let [plot, out] = [&plot, &out].map(|path| path.to_str().expect("UTF-8"));
    let gave = leeward(["export", plot, "--to", "zip", "--out", out]);
    assert_eq!(gave.code, Some(0), "{}", gave.said);
    assert!(gave.said.contains("a link out of the plot folder, not followed"), "{}", gave.said);
    let copy = files::unpack("copy.zip", &std::fs::read(out).expect("a file")).expect("an archive");
    assert!(copy.values().all(|bytes| bytes != b"secret"), "{:?}", copy.keys());
    let own = copy.iter().filter(|(_, bytes)| bytes.as_slice() == b"own");
    assert!(own.count() >= 2, "a link within the folder is followed: {:?}", copy.keys());
}
