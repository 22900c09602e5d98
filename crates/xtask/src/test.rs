//! Runs everything that can be checked, installing what it needs, and closes with one line of
//! counts.

mod count;
mod needs;

use std::ops::Add as _;
use std::process::Command;
use std::time::Instant;

use anyhow::{Result, ensure};

use crate::build::{self, Building};
use crate::fuzz;
use crate::shell::{self, cargo, target_dir, top};
use count::Count;

/// What to run.
#[derive(clap::Args, Clone, Debug, Default)]
pub(crate) struct Testing {
    /// Only stages whose name contains one of these words.
    stages: Vec<String>,
}

/// A part of the run: either a program whose tests are counted, or something of ours.
enum Stage {
    Program(Command),
    Ours(fn() -> Result<()>),
}

/// Runs every stage to its end, whatever the ones before gave.
///
/// # Errors
/// Any failure.
#[expect(clippy::print_stdout, reason = "the counts are the answer")]
pub(crate) fn test(options: &Testing) -> Result<()> {
    let wanted = |name: &str| {
        options.stages.is_empty() || options.stages.iter().any(|word| name.contains(word))
    };
    let (mut total, mut told) = (Count::default(), Vec::new());
    for beside in STAGES {
        let stages: Vec<_> = beside.iter().filter(|(name, _)| wanted(name)).collect();
        let (counts, lines): (Vec<_>, Vec<_>) = std::thread::scope(|scope| {
            let running: Vec<_> =
                stages.iter().map(|(name, make)| scope.spawn(|| run(name, *make))).collect();
            let broke = |_| (Count { passed: 0, failed: 1 }, "a stage broke off".to_owned());
            running.into_iter().map(|stage| stage.join().unwrap_or_else(broke)).unzip()
        });
        total = counts.into_iter().fold(total, Count::add);
        told.extend(lines);
    }
    println!("\n{}\n\n{total}", told.join("\n"));
    ensure!(total.failed == 0, "{} failed", total.failed);
    Ok(())
}

/// What a stage counted, and the line that tells it.
#[expect(clippy::print_stdout, reason = "what runs is told")]
fn run(name: &str, make: Make) -> (Count, String) {
    println!("\n== {name}");
    let began = Instant::now();
    let count = match make() {
        Ok(Stage::Program(mut command)) => count::run(&mut command),
        Ok(Stage::Ours(check)) => Count::of(&check()),
        Err(error) => Count::of(&Err(error)),
    };
    (count, format!("{name:<24} {count} ({} s)", began.elapsed().as_secs()))
}

type Make = fn() -> Result<Stage>;

/// One after the other; those in one line at the same time: the browser's build keeps one core busy
/// for minutes, and locks nothing that native tests wait for; libraries wait for the network.
const STAGES: &[&[(&str, Make)]] = &[
    &[("format", || program(cargo().args(["fmt", "--all", "--check"])))],
    &[("tidy", || Ok(Stage::Ours(crate::tidy::tidy)))],
    &[
        ("clippy native", || {
            program(cargo().args(CLIPPY).args(["--all-targets", "--", "-Dwarnings"]))
        }),
        ("libraries", || program(second_opinion()?.arg("--install"))),
    ],
    &[("clippy browser", || {
        build::add_wasm_target()?;
        program(cargo().args(CLIPPY).args(BROWSER).args(["--all-targets", "--", "-Dwarnings"]))
    })],
    &[("docs", || Ok(Stage::Ours(docs)))],
    &[
        ("native tests", || program(cargo().args(["test", "--no-fail-fast"]))),
        ("build", || Ok(Stage::Ours(|| build::build(&Building::default()).map(|_| ())))),
    ],
    &[("fuzz targets", || {
        needs::cxx()?;
        Ok(Stage::Ours(|| fuzz::all(&[], fuzz::ROUTINE).map(|_| ())))
    })],
    &[("browser journeys", browser_journeys)],
    &[("second opinion", || program(second_opinion()?.env("CHROMIUM", needs::chromium()?)))],
];

/// Lays out what the code says of itself, also within its walls: no link of it leads nowhere.
fn docs() -> Result<()> {
    let doc = |arguments: &[&str]| {
        let mut cargo = cargo();
        cargo.args(["doc", "-q", "--no-deps", "--document-private-items"]).args(arguments);
        shell::run(cargo.env("RUSTDOCFLAGS", "-Dwarnings"))
    };
    doc(&[])?;
    doc(BROWSER)
}

const CLIPPY: &[&str] = &["clippy", "-q"];
const BROWSER: &[&str] = &["--target", "wasm32-unknown-unknown", "-p", "app", "-p", "judge"];

fn program(command: &mut Command) -> Result<Stage> {
    Ok(Stage::Program(std::mem::replace(command, Command::new("true"))))
}

fn browser_journeys() -> Result<Stage> {
    program(journeys_ready(Command::new("npm").args(["test", "--silent"]))?)
}

/// Builds the page and runs journeys by their names, one after the other.
///
/// # Errors
/// One of them fails.
pub(crate) fn journeys(names: &[&str]) -> Result<()> {
    build::build(&Building::default())?;
    let files = names.iter().map(|name| format!("journeys/{name}.test.js"));
    let options = ["--test", "--test-force-exit", "--test-concurrency=1"];
    crate::shell::run(journeys_ready(Command::new("node").args(options).args(files))?)
}

/// Has a program run where the journeys lie, with all that they need.
///
/// # Errors
/// Something cannot be installed.
pub(crate) fn journeys_ready(command: &mut Command) -> Result<&mut Command> {
    needs::native_programs()?;
    let (chromium, firefox) = (needs::chromium()?, needs::firefox()?);
    let folder = top().join("tests/browser");
    needs::npm_packages(&folder)?;
    let environment =
        [("CHROMIUM", chromium), ("FIREFOX", firefox), ("CARGO_TARGET_DIR", target_dir())];
    Ok(command.current_dir(folder).envs(environment))
}

/// Compares with general-purpose libraries; a script of its own, since it needs Python.
fn second_opinion() -> Result<Command> {
    let script = top().join("tests/second-opinion/run");
    ensure!(script.is_file(), "{} is missing", script.display());
    let mut command = Command::new(script);
    command.current_dir(top()).env("CARGO_TARGET_DIR", target_dir());
    Ok(command)
}
