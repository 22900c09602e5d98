//! Calling other programs, and where the workspace keeps its things.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Context, Result, ensure};

/// The workspace's top folder.
pub(crate) fn top() -> PathBuf {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    here.ancestors().nth(2).unwrap_or(here).to_owned()
}

/// Where cargo puts what it builds.
pub(crate) fn target_dir() -> PathBuf {
    std::env::var_os("CARGO_TARGET_DIR").map_or_else(|| top().join("target"), PathBuf::from)
}

/// The cargo that called us.
pub(crate) fn cargo() -> Command {
    let mut command = Command::new(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()));
    command.current_dir(top());
    command
}

/// The machine that the compiler builds for where nothing else is said.
///
/// # Errors
/// As [`output`]; a compiler that does not say.
pub(crate) fn host() -> Result<String> {
    let version = output(Command::new("rustc").current_dir(top()).arg("-vV"))?;
    let host = version.lines().find_map(|line| line.strip_prefix("host: "));
    Ok(host.context("rustc does not say what it builds for")?.to_owned())
}

/// An empty folder in place of whatever was there.
///
/// # Errors
/// It cannot be cleared, or made.
pub(crate) fn fresh(folder: &Path) -> Result<()> {
    if folder.exists() {
        fs::remove_dir_all(folder).with_context(|| format!("cannot clear {}", folder.display()))?;
    }
    fs::create_dir_all(folder).with_context(|| format!("cannot make {}", folder.display()))
}

/// A tool of cargo's registry in this very version, built below the target folder where it is not
/// there in it.
///
/// # Errors
/// It cannot be had or built.
pub(crate) fn tool(name: &str, version: &str) -> Result<PathBuf> {
    let folder = target_dir().join("tools");
    let version = format!("={version}");
    let install = ["install", name, "--locked", "--debug", "--version", &version, "--root"];
    run(cargo().args(install).arg(&folder))?;
    Ok(folder.join("bin").join(name))
}

/// Runs to the end; what it prints goes where ours goes.
///
/// # Errors
/// It cannot be started, or ends with anything but success.
pub(crate) fn run(command: &mut Command) -> Result<()> {
    let name = format!("{command:?}");
    let status = command.status().with_context(|| format!("cannot start {name}"))?;
    ensure!(status.success(), "{name} ended with {status}");
    Ok(())
}

/// Runs to the end and gives what it printed.
///
/// # Errors
/// As [`run`]; output that is not text.
pub(crate) fn output(command: &mut Command) -> Result<String> {
    let name = format!("{command:?}");
    let output = command.output().with_context(|| format!("cannot start {name}"))?;
    ensure!(
        output.status.success(),
        "{name} ended with {}: {}",
        output.status,
        String::from_utf8_lossy(&output.stderr)
    );
    Ok(String::from_utf8(output.stdout)?)
}
