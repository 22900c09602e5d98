//! What the workspace is built from: every package that cargo resolves, and why each that is asked
//! for directly is here.

mod rules;

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use anyhow::{Context, Result};
use serde_json::Value;

use crate::shell::{cargo, output};

pub(crate) use rules::Rules;

/// A package of somebody else.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Package {
    pub(crate) name: String,
    pub(crate) version: String,
    /// As the package says it; empty where it says none.
    pub(crate) licence: String,
    /// Where it comes from; empty: a folder outside of any registry.
    pub(crate) source: String,
}

/// A dependency that crates of ours ask for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Direct {
    /// Versions of it that are resolved; one, but for a dependency of two minds.
    pub(crate) packages: Vec<Package>,
    /// The crates of ours that ask for it; those whose tests alone do in brackets.
    pub(crate) used_by: BTreeSet<String>,
}

/// What cargo says of the workspace and all that it is built from.
///
/// # Errors
/// It says nothing, or the lock file does not agree.
pub(crate) fn metadata() -> Result<Value> {
    let told = output(cargo().args(["metadata", "--format-version", "1", "--locked"]))?;
    serde_json::from_str(&told).context("cargo metadata is no JSON")
}

/// All packages but ours, in the order of their names and versions.
///
/// # Errors
/// It is no answer of `cargo metadata`.
pub(crate) fn packages(metadata: &Value) -> Result<Vec<Package>> {
    let text = |one: &Value, key: &str| one[key].as_str().unwrap_or_default().to_owned();
    let ours = members(metadata)?;
    let all = metadata["packages"].as_array().context("cargo metadata lists no packages")?;
    let mut packages: Vec<Package> = all
        .iter()
        .filter(|one| !ours.contains(&one["id"].as_str().unwrap_or_default()))
        .map(|one| Package {
            name: text(one, "name"),
            version: text(one, "version"),
            licence: text(one, "license"),
            source: text(one, "source"),
        })
        .collect();
    packages.sort_by(|a, b| (&a.name, &a.version).cmp(&(&b.name, &b.version)));
    Ok(packages)
}

/// The dependencies that crates of ours ask for, by their names.
///
/// # Errors
/// As [`packages`].
pub(crate) fn direct(metadata: &Value) -> Result<BTreeMap<String, Direct>> {
    let packages = packages(metadata)?;
    let ours = members(metadata)?;
    let mut direct: BTreeMap<String, Direct> = BTreeMap::new();
    for one in metadata["packages"].as_array().into_iter().flatten() {
        if !ours.contains(&one["id"].as_str().unwrap_or_default()) {
            continue;
        }
        let user = one["name"].as_str().unwrap_or_default();
        for asked in one["dependencies"].as_array().into_iter().flatten() {
            let name = asked["name"].as_str().unwrap_or_default();
            if asked["source"].is_null() && asked["path"].is_string() {
                continue;
            }
            let one = direct.entry(name.to_owned()).or_insert_with(|| Direct {
                packages: packages.iter().filter(|it| it.name == name).cloned().collect(),
                used_by: BTreeSet::new(),
            });
            let is_test = asked["kind"] == "dev";
            one.used_by.insert(if is_test { format!("({user})") } else { user.to_owned() });
        }
    }
    for one in direct.values_mut() {
        let also = |user: &String| {
            let plain = user.strip_prefix('(').and_then(|user| user.strip_suffix(')'));
            plain.is_some_and(|plain| one.used_by.contains(plain))
        };
        one.used_by = one.used_by.iter().filter(|user| !also(user)).cloned().collect();
    }
    Ok(direct)
}

/// The reasons that stand behind the dependencies in the workspace's own Cargo.toml.
///
/// # Errors
/// It cannot be read.
pub(crate) fn reasons(top: &Path) -> Result<BTreeMap<String, String>> {
    let file = top.join("Cargo.toml");
    let text = std::fs::read_to_string(&file).with_context(|| file.display().to_string())?;
    Ok(reasons_in(&text))
}

fn reasons_in(text: &str) -> BTreeMap<String, String> {
    let section = text.split("[workspace.dependencies]\n").nth(1).unwrap_or_default();
    let lines = section.lines().take_while(|line| !line.starts_with('['));
    let reason = |line: &str| {
        let (name, asked) = line.split_once(" = ")?;
        let (_, reason) = asked.split_once(" # ")?;
        Some((name.to_owned(), reason.trim().to_owned()))
    };
    lines.filter_map(reason).collect()
}

fn members(metadata: &Value) -> Result<BTreeSet<&str>> {
    let members = metadata["workspace_members"].as_array().context("no workspace in metadata")?;
    Ok(members.iter().filter_map(Value::as_str).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reasons_stand_behind_what_is_asked_for() {
        let text = "[workspace.dependencies]\nplot = { path = \"crates/plot\" }\n\n# A heading.\n\
                    csv = \"1.4\" # tables\ntime = { version = \"0.3\" }\n[workspace.lints.rust]\n\
                    todo = \"warn\" # not one\n";
        let expect = BTreeMap::from([("csv".to_owned(), "tables".to_owned())]);
        assert_eq!(reasons_in(text), expect);
    }
}
