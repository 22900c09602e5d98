//! Runs everything that can be checked, installing what it needs, and closes with one line of
//! counts.

mod count;
mod needs;

use std::process::Command;
use std::time::Instant;

use anyhow::{Result, ensure};

use crate::build::{self, Building};
use crate::shell::{cargo, target_dir, top};
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
    for (name, make) in STAGES.iter().filter(|(name, _)| wanted(name)) {
        println!("\n== {name}");
        let began = Instant::now();
        let count = match make() {
            Ok(Some(Stage::Program(mut command))) => count::run(&mut command),
            Ok(Some(Stage::Ours(check))) => Count::of(&check()),
            Ok(None) => Count::default(),
            Err(error) => Count::of(&Err(error)),
        };
        told.push(format!("{name:<24} {count} ({} s)", began.elapsed().as_secs()));
        total = total + count;
    }
    println!("\n{}\n\n{total}", told.join("\n"));
    ensure!(total.failed == 0, "{} failed", total.failed);
    Ok(())
}

type Make = fn() -> Result<Option<Stage>>;

const STAGES: &[(&str, Make)] = &[
    ("format", || program(cargo().args(["fmt", "--all", "--check"]))),
    ("tidy", || Ok(Some(Stage::Ours(crate::tidy::tidy)))),
    ("clippy native", || program(cargo().args(CLIPPY).args(["--all-targets", "--", "-Dwarnings"]))),
    ("clippy browser", || {
        build::add_wasm_target()?;
        program(cargo().args(CLIPPY).args(BROWSER).args(["--all-targets", "--", "-Dwarnings"]))
    }),
    ("native tests", || program(cargo().args(["test", "--no-fail-fast"]))),
    ("build", || {
        needs::native_program()?;
        Ok(Some(Stage::Ours(|| build::build(&Building::default()).map(|_| ()))))
    }),
    ("browser unit tests", browser_unit_tests),
    ("browser journeys", browser_journeys),
    ("second opinion", second_opinion),
];

const CLIPPY: &[&str] = &["clippy", "-q"];
const BROWSER: &[&str] = &["--target", "wasm32-unknown-unknown", "-p", "app", "-p", "judge"];

fn program(command: &mut Command) -> Result<Option<Stage>> {
    Ok(Some(Stage::Program(std::mem::replace(command, Command::new("true")))))
}

fn browser_unit_tests() -> Result<Option<Stage>> {
    let (_, driver) = needs::chromium()?;
    build::add_wasm_target()?;
    let runner = needs::wasm_test_runner()?;
    program(
        cargo()
            .args(["test", "--no-fail-fast", "--lib"])
            .args(BROWSER)
            .env("CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_RUNNER", runner)
            .env("CHROMEDRIVER", driver)
            .env("WASM_BINDGEN_TEST_TIMEOUT", "120"),
    )
}

fn browser_journeys() -> Result<Option<Stage>> {
    let (chromium, _) = needs::chromium()?;
    let folder = top().join("tests/browser");
    needs::npm_packages(&folder)?;
    let mut npm = Command::new("npm");
    npm.current_dir(folder)
        .args(["test", "--silent"])
        .env("CARGO_TARGET_DIR", target_dir())
        .env("CHROMIUM", chromium);
    program(&mut npm)
}

/// Compares with general-purpose libraries; a script of its own, since it needs Python.
fn second_opinion() -> Result<Option<Stage>> {
    let script = top().join("tests/second-opinion/run");
    ensure!(script.is_file(), "{} is missing", script.display());
    let mut command = Command::new(script);
    command.current_dir(top()).env("CARGO_TARGET_DIR", target_dir());
    program(&mut command)
}
