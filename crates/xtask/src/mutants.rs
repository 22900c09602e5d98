//! `cargo xtask mutants`: small changes of the code, one at a time, and which of them no test
//! notices.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Context, Result, ensure};
use serde_json::{Value, json};

use crate::shell::{output, target_dir, tool, top};

/// The version that is installed where it is missing.
const VERSION: &str = "27.1.0";
/// The crates whose mutants are kept account of.
pub(crate) const CRATES: &[&str] = &["proof", "spatial", "files"];
/// What may come of a mutant: the tests fail; they do not; they never end; it does not compile.
pub(crate) const OUTCOMES: [&str; 4] = ["caught", "missed", "timeout", "unviable"];

/// Which mutants to try.
#[derive(clap::Args)]
pub(crate) struct Mutating {
    /// Only these crates; none: proof, spatial and files.
    crates: Vec<String>,
    /// Of so many mutants one is tried: all of them take days.
    #[arg(long, default_value_t = 200)]
    one_in: u32,
    /// Which of them: 0 or more, below the number of `--one-in`.
    #[arg(long, default_value_t = 0)]
    nth: u32,
}

/// Tries mutants of each crate with its own tests, and keeps what came of them in docs/mutants,
/// where `cargo xtask quality mutants` reads it.
///
/// # Errors
/// The tool cannot be installed or run; tests that fail as it is. A mutant that no test notices is
/// no error.
#[expect(clippy::print_stdout, reason = "long work tells where it is")]
pub(crate) fn mutants(options: &Mutating) -> Result<()> {
    let tool = tool("cargo-mutants", VERSION)?;
    let all: Vec<String> = CRATES.iter().map(|&name| name.to_owned()).collect();
    for name in if options.crates.is_empty() { &all } else { &options.crates } {
        println!("{name} …");
        let folder = target_dir().join("mutants-found").join(name);
        fs::create_dir_all(&folder)?;
        let mut tried = Command::new(&tool);
        tried.current_dir(top()).args(["mutants", "--no-times", "--colors", "never", "-p", name]);
        tried.args(["--shard", &format!("{}/{}", options.nth, options.one_in)]);
        tried.args(["--sharding", "round-robin", "-o"]).arg(&folder);
        // One folder for all that is built, and fewer cases of each property than in a plain test.
        tried.env("CARGO_TARGET_DIR", target_dir().join("mutants")).env("PROPTEST_CASES", "64");
        let ended = tried.status().with_context(|| format!("cannot start {}", tool.display()))?;
        // 2: some were missed; 3: some never ended.
        ensure!(matches!(ended.code(), Some(0 | 2 | 3)), "cargo-mutants ended with {ended}");
        keep(name, &folder.join("mutants.out"), options.one_in)?;
    }
    Ok(())
}

/// Where the account of a crate's mutants is kept.
pub(crate) fn account(name: &str) -> PathBuf {
    top().join("docs/mutants").join(format!("{name}.json"))
}

fn keep(name: &str, found: &Path, one_in: u32) -> Result<()> {
    let revision = output(Command::new("git").current_dir(top()).args(["rev-parse", "HEAD"]))?;
    let day = output(Command::new("date").arg("-I"))?;
    let mut kept = json!({
        "on": day.trim(), "revision": revision.trim().get(..8), "one_in": one_in, "tool": VERSION,
    });
    for outcome in OUTCOMES {
        let path = found.join(format!("{outcome}.txt"));
        let text = fs::read_to_string(&path).with_context(|| path.display().to_string())?;
        kept[outcome] = Value::from_iter(text.lines());
    }
    let file = account(name);
    fs::create_dir_all(file.parent().unwrap_or(&file))?;
    Ok(fs::write(file, serde_json::to_string_pretty(&kept)? + "\n")?)
}
