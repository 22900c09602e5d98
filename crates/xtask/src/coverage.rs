//! `cargo xtask coverage`: which lines of the library crates their tests run, those of `tests/`
//! among them.

mod lines;

use std::path::{Path, PathBuf};
use std::process::{Command, ExitCode};

use anyhow::{Context, Result, ensure};
use serde_json::Value;

use crate::shell::{cargo, fresh, output, run, target_dir, top};
pub(crate) use lines::Covered;

/// The crates that are measured.
const LIBRARIES: &[&str] = &[
    "plot",
    "files",
    "spatial",
    "proof",
    "epidemic",
    "walk",
    "season",
    "vigour",
    "scene",
    "export",
    "databases",
    "paper",
];
/// Of a hundred lines that may run, so many must.
const LEAST_PERCENT: f64 = 90.0;
/// Set where cargo is to call this program in place of the compiler.
const IS_COMPILER: &str = "LEEWARD_COUNTS_LINES";

/// What to measure.
#[derive(clap::Args)]
pub(crate) struct Covering {
    /// Only these library crates, by their own tests; none: all, by those of `tests/`, too.
    crates: Vec<String>,
}

/// Runs the tests, and prints how much of each crate they run.
///
/// # Errors
/// A test fails, or a crate has less than nine tenths of its lines run.
#[expect(clippy::print_stdout, reason = "the figures are the answer")]
pub(crate) fn coverage(options: &Covering) -> Result<()> {
    let covered = measured(&options.crates)?;
    for one in &covered {
        println!("{one}");
    }
    let poor: Vec<&str> = covered
        .iter()
        .filter(|one| one.percent() < LEAST_PERCENT)
        .map(|one| one.name.as_str())
        .collect();
    ensure!(poor.is_empty(), "less than {LEAST_PERCENT} % of the lines: {}", poor.join(", "));
    Ok(())
}

/// How much of the crates ran; none named: of all.
///
/// # Errors
/// A crate that is not measured; a test that fails; tools that cannot be had.
pub(crate) fn measured(wanted: &[String]) -> Result<Vec<Covered>> {
    for name in wanted {
        ensure!(LIBRARIES.contains(&name.as_str()), "{name} is none of {}", LIBRARIES.join(", "));
    }
    let is_wanted = |name: &&&str| wanted.is_empty() || wanted.iter().any(|it| it == **name);
    let crates: Vec<&str> = LIBRARIES.iter().filter(is_wanted).copied().collect();
    let tools = llvm_tools()?;
    let counted = target_dir().join("coverage");
    fresh(&counted)?;
    let tests = || {
        let mut tests = cargo();
        tests.args(["test", "--tests"]);
        let crossing = wanted.is_empty().then_some(&"crossing");
        crates.iter().chain(crossing).for_each(|name| _ = tests.args(["-p", name]));
        tests.env("RUSTC_WORKSPACE_WRAPPER", std::env::current_exe().unwrap_or_default());
        tests.env(IS_COMPILER, "1").env("LLVM_PROFILE_FILE", counted.join("%4m.profraw"));
        tests
    };
    run(tests().arg("--no-fail-fast"))?;
    let built = output(tests().args(["--no-run", "-q", "--message-format", "json"]))?;
    lines::covered(&crates, &report(&tools, &counted, &programs(&built))?)
}

/// The compiler, where cargo calls us in its place: for the crates of the workspace alone, so that
/// all others are built once. None: we are called for something else.
pub(crate) fn as_compiler() -> Option<ExitCode> {
    std::env::var_os(IS_COMPILER)?;
    let mut words = std::env::args_os().skip(1);
    let mut compiler = Command::new(words.next()?);
    let ended = compiler.args(words).arg("-Cinstrument-coverage").status();
    let code = ended.ok().and_then(|ended| ended.code()).and_then(|code| u8::try_from(code).ok());
    Some(ExitCode::from(code.unwrap_or(1)))
}

/// The folder of the tools that read what was counted, installed where they are missing.
fn llvm_tools() -> Result<PathBuf> {
    let sysroot = output(Command::new("rustc").args(["--print", "sysroot"]))?;
    let host = crate::shell::host()?;
    let folder = Path::new(sysroot.trim()).join("lib/rustlib").join(host).join("bin");
    if !folder.join("llvm-cov").is_file() {
        run(Command::new("rustup").current_dir(top()).args(["component", "add", "llvm-tools"]))?;
    }
    Ok(folder)
}

/// The test programs, and those that they call.
fn programs(built: &str) -> Vec<String> {
    let of = |line: &str| {
        let message: Value = serde_json::from_str(line).ok()?;
        Some(message["executable"].as_str()?.to_owned())
    };
    built.lines().filter_map(of).collect()
}

/// What the programs counted, as lcov text.
fn report(tools: &Path, counted: &Path, programs: &[String]) -> Result<String> {
    let (first, others) = programs.split_first().context("no test program was built")?;
    let all = counted.join("all.profdata");
    let mut raw = Vec::new();
    for entry in std::fs::read_dir(counted)? {
        raw.push(entry?.path());
    }
    run(Command::new(tools.join("llvm-profdata"))
        .args(["merge", "-sparse", "-o"])
        .arg(&all)
        .args(raw))?;
    let mut export = Command::new(tools.join("llvm-cov"));
    export.args(["export", "-format=lcov", "-instr-profile"]).arg(&all).arg(first);
    others.iter().for_each(|other| _ = export.args(["-object", other]));
    output(export.arg("-sources").arg(top().join("crates")))
}
