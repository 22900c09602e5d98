//! What the workspace is built from: each direct dependency with its licence and its reason, and how
//! many more they bring.

use std::fmt::Write as _;

use anyhow::{Context, Result};
use serde_json::Value;

use crate::dependencies::{Direct, direct, metadata, packages, reasons};
use crate::shell::top;

/// Tables of the direct dependencies, and counts of the others.
pub(super) fn figures() -> Result<String> {
    let metadata = metadata()?;
    let (all, direct, reasons) = (packages(&metadata)?, direct(&metadata)?, reasons(&top())?);
    let mut text = format!(
        "{} packages of others are asked for directly, {} in all, for every target and feature, \
         those of tests and of the build with them. `cargo xtask tidy` holds each to \
         `.cargo/deny.toml`: licences, sources, doubles. The reasons stand in the root Cargo.toml; \
         what is asked for by tests alone stands in brackets.\n\n\
         | package | version | licence | asked for by | reason |\n| --- | --- | --- | --- | --- |\n",
        direct.len(),
        all.len()
    );
    for (name, Direct { packages, used_by }) in &direct {
        let versions: Vec<&str> = packages.iter().map(|one| one.version.as_str()).collect();
        let licence = packages.first().map_or("", |one| one.licence.as_str());
        let users: Vec<&str> = used_by.iter().map(String::as_str).collect();
        let reason = reasons.get(name).with_context(|| format!("{name} has no reason"))?;
        let (versions, users) = (versions.join(", "), users.join(", "));
        writeln!(text, "| {name} | {versions} | {licence} | {users} | {reason} |")?;
    }
    text.push_str("\nThe journeys in the browser use these of npm:\n\n");
    text.push_str("| package | version | licence | reason |\n| --- | --- | --- | --- |\n");
    let read = |name: &str| -> Result<Value> {
        Ok(serde_json::from_slice(&std::fs::read(top().join("tests/browser").join(name))?)?)
    };
    let (asked, lock) = (read("package.json")?, read("package-lock.json")?);
    for (name, version) in asked["devDependencies"].as_object().into_iter().flatten() {
        let licence = lock["packages"][format!("node_modules/{name}")]["license"].as_str();
        let word = |value: &Value| value.as_str().unwrap_or_default().to_owned();
        let (version, licence) = (word(version), licence.unwrap_or_default());
        writeln!(text, "| {name} | {version} | {licence} | {} |", word(&asked["reasons"][name]))?;
    }
    let pins = std::fs::read_to_string(top().join("tests/second-opinion/requirements.txt"))?;
    let pinned = pins.lines().filter(|line| line.contains("==")).count();
    writeln!(
        text,
        "\nThe second opinion compares with libraries of Python: {pinned} packages, each pinned in \
         `tests/second-opinion/requirements.txt`, those that others bring as well; \
         they are installed without looking for more, and `pip check` must find none missing."
    )?;
    Ok(text)
}
