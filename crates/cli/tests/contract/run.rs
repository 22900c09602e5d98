//! The real program, run as a person runs it, and what comes of it.

use std::collections::BTreeMap;
use std::ffi::OsStr;
use std::path::{Path, PathBuf};
use std::process::Command;

use files::FileSet;

/// What a call gave.
#[derive(Debug)]
pub(crate) struct Gave {
    pub(crate) code: Option<i32>,
    pub(crate) out: String,
    pub(crate) said: String,
}

/// Runs `leeward` with arguments.
pub(crate) fn leeward<S: AsRef<OsStr>>(arguments: impl IntoIterator<Item = S>) -> Gave {
    leeward_in(Path::new("."), arguments)
}

/// Runs `leeward` with arguments from within a folder.
pub(crate) fn leeward_in<S: AsRef<OsStr>>(
    folder: &Path,
    arguments: impl IntoIterator<Item = S>,
) -> Gave {
    let output = Command::new(env!("CARGO_BIN_EXE_leeward"))
        .args(arguments)
        .current_dir(folder)
        .output()
        .expect("the program runs");
    Gave {
        code: output.status.code(),
        out: String::from_utf8(output.stdout).expect("UTF-8"),
        said: String::from_utf8(output.stderr).expect("UTF-8"),
    }
}

/// The commands that its help lists.
pub(crate) fn commands() -> Vec<String> {
    let help = leeward(["--help"]).out;
    let (_, listed) = help.split_once("Commands:\n").expect("commands");
    let lines = listed.lines().take_while(|line| line.starts_with("  "));
    let names = lines.filter_map(|line| line.split_whitespace().next());
    names.filter(|name| *name != "help").map(str::to_owned).collect()
}

/// The demo plot of the repository.
pub(crate) fn demo_plot() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-plot")
}

/// A folder of this name with these files and no others.
pub(crate) fn on_disk(name: &str, files: &FileSet) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    if folder.exists() {
        std::fs::remove_dir_all(&folder).expect("an earlier run's folder goes");
    }
    std::fs::create_dir_all(&folder).expect("a folder");
    for (name, bytes) in files {
        let path = folder.join(name);
        std::fs::create_dir_all(path.parent().expect("a folder")).expect("a folder");
        std::fs::write(path, bytes).expect("a file");
    }
    folder
}

/// Every file below a folder with its bytes; of a link, where it leads.
pub(crate) fn held(folder: &Path) -> BTreeMap<PathBuf, Vec<u8>> {
    let mut held = BTreeMap::new();
    for entry in std::fs::read_dir(folder).expect("a folder") {
        let path = entry.expect("an entry").path();
        if path.is_symlink() {
            let target = std::fs::read_link(&path).expect("a link");
            held.insert(path, target.into_os_string().into_encoded_bytes());
        } else if path.is_dir() {
            held.extend(self::held(&path));
        } else {
            let bytes = std::fs::read(&path).expect("a file");
            held.insert(path, bytes);
        }
    }
    held
}

/// The records of a CSV table by column name, and its header.
pub(crate) fn table(csv: &str) -> (Vec<String>, Vec<BTreeMap<String, String>>) {
    let mut reader = csv::Reader::from_reader(csv.as_bytes());
    let header: Vec<String> =
        reader.headers().expect("a header").iter().map(str::to_owned).collect();
    let rows = reader
        .records()
        .map(|record| {
            let record = record.expect("a record");
            header.iter().cloned().zip(record.iter().map(str::to_owned)).collect()
        })
        .collect();
    (header, rows)
}
