//! What the tests need on the machine, installed where it is missing.

use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Context, Result};

use crate::shell::{cargo, run};

/// Chromium, from Debian's package where it is missing.
pub(super) fn chromium() -> Result<PathBuf> {
    browser(&["chromium", "chromium-browser", "google-chrome"], "chromium")
}

/// Firefox, from Debian's package where it is missing.
pub(super) fn firefox() -> Result<PathBuf> {
    browser(&["firefox-esr", "firefox"], "firefox-esr")
}

/// The first of these programs, of a package that is installed where there is none.
fn browser(names: &[&str], package: &str) -> Result<PathBuf> {
    if found(names).is_none() {
        apt(&[package])?;
    }
    found(names).with_context(|| format!("no {package}, not even after installing it"))
}

/// A compiler of C++, in which the fuzzer is written.
pub(super) fn cxx() -> Result<()> {
    if found(&["c++", "g++", "clang++"]).is_none() {
        apt(&["g++"])?;
    }
    Ok(())
}

/// The programs and examples that journeys and the second opinion call: of the very pieces that the
/// native tests were made of, since choosing packages here would build all below them once more.
pub(super) fn native_programs() -> Result<()> {
    run(cargo().args(["build", "-q", "--bins", "--examples"]))
}

/// The packages that `package-lock.json` pins.
pub(super) fn npm_packages(folder: &Path) -> Result<()> {
    let lock = std::fs::read(folder.join("package-lock.json"))?;
    let installed = folder.join("node_modules/.leeward-installed");
    if std::fs::read(&installed).ok().as_ref() == Some(&lock) {
        return Ok(());
    }
    run(Command::new("npm").current_dir(folder).args(["ci", "--no-fund", "--no-audit"]))?;
    Ok(std::fs::write(installed, lock)?)
}

fn found(names: &[&str]) -> Option<PathBuf> {
    let path = std::env::var_os("PATH")?;
    let places = || std::env::split_paths(&path);
    names.iter().find_map(|name| places().map(|place| place.join(name)).find(|file| file.is_file()))
}

/// Installs Debian packages; through sudo where we are not root.
fn apt(packages: &[&str]) -> Result<()> {
    let is_root = crate::shell::output(Command::new("id").arg("-u"))?.trim() == "0";
    let call = |words: &[&str]| {
        let mut command = Command::new(if is_root { "apt-get" } else { "sudo" });
        if !is_root {
            command.arg("apt-get");
        }
        command.env("DEBIAN_FRONTEND", "noninteractive").args(words);
        run(&mut command)
    };
    call(&["update", "-q"])?;
    call(&[&["install", "-y", "-q", "--no-install-recommends"], packages].concat())
}
