//! What the tests need on the machine, installed where it is missing.

use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Context, Result};

use crate::shell::{cargo, run, target_dir, top};

/// Chromium and its driver, from Debian's packages where they are missing.
pub(super) fn chromium() -> Result<(PathBuf, PathBuf)> {
    let browser = || found(&["chromium", "chromium-browser", "google-chrome"]);
    let driver = || found(&["chromedriver"]);
    if browser().is_none() || driver().is_none() {
        apt(&["chromium", "chromium-driver"])?;
    }
    Ok((
        browser().context("no chromium, not even after installing it")?,
        driver().context("no chromedriver, not even after installing it")?,
    ))
}

/// The `leeward` program and this one, as the journeys call them.
pub(super) fn native_program() -> Result<()> {
    run(cargo().args(["build", "-q", "-p", "cli", "-p", "xtask", "-p", "crossing", "--bins"]))
}

/// The runner of the browser's unit tests.
pub(super) fn wasm_test_runner() -> Result<PathBuf> {
    if found(&["pkg-config"]).is_none() || !has_openssl() {
        apt(&["pkg-config", "libssl-dev"])?;
    }
    let bin = "wasm-test-runner";
    run(cargo().args(["build", "-q", "-p", "xtask", "--features", "runner", "--bin", bin]))?;
    let target = target_dir();
    let target = if target.is_absolute() { target } else { top().join(target) };
    Ok(target.join("debug").join(bin))
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

fn has_openssl() -> bool {
    let known = Command::new("pkg-config").args(["--exists", "openssl"]).status();
    known.is_ok_and(|status| status.success())
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
