//! What others wrote: licences, sources and doubles as listed, each direct dependency with its
//! reason, npm's and Python's packages pinned.

use std::fs;
use std::path::Path;

use anyhow::{Context, Result};
use serde_json::Value;

use crate::dependencies::{Rules, direct, packages, reasons};

/// Packages of the journeys that are no part of what is given away, with their own licence.
const TESTS_ONLY: [(&str, &str); 1] = [("axe-core", "MPL-2.0")];

/// Everything that is not as listed.
///
/// # Errors
/// A file that cannot be read, or metadata that is none.
pub(super) fn faults(top: &Path, metadata: &Value) -> Result<Vec<String>> {
    let rules = Rules::read(top)?;
    let mut faults = rules.faults(&packages(metadata)?);
    let (reasons, direct) = (reasons(top)?, direct(metadata)?);
    let without = direct.keys().filter(|name| !reasons.contains_key(*name));
    faults.extend(without.map(|name| format!("{name} has no reason behind it in Cargo.toml")));
    let unused = reasons.keys().filter(|name| !direct.contains_key(*name));
    faults.extend(unused.map(|name| format!("no crate asks for {name} of Cargo.toml")));
    let json = |name: &str| -> Result<Value> {
        let file = top.join("tests/browser").join(name);
        let bytes = fs::read(&file).with_context(|| file.display().to_string())?;
        serde_json::from_slice(&bytes).with_context(|| file.display().to_string())
    };
    faults.extend(of_npm(&rules, &json("package.json")?, &json("package-lock.json")?));
    let python = top.join("tests/second-opinion/requirements.txt");
    let python = fs::read_to_string(&python).with_context(|| python.display().to_string())?;
    faults.extend(of_python(&python));
    Ok(faults)
}

/// Exact versions with reasons, and a lock that agrees with them and names no address.
fn of_npm(rules: &Rules, asked: &Value, lock: &Value) -> Vec<String> {
    let mut faults = Vec::new();
    let wanted = asked["devDependencies"].as_object().cloned().unwrap_or_default();
    for (name, version) in &wanted {
        let version = version.as_str().unwrap_or_default();
        let plain = version.rsplit_once('@').map_or(version, |(_, plain)| plain);
        if !is_exact(plain) {
            faults.push(format!("package.json: {name} is {version:?}, no exact version"));
        }
        if asked["reasons"][name].as_str().is_none_or(str::is_empty) {
            faults.push(format!("package.json: {name} has no reason"));
        }
    }
    if lock["packages"][""]["devDependencies"] != asked["devDependencies"] {
        faults.push("package-lock.json does not agree with package.json".to_owned());
    }
    for (path, package) in lock["packages"].as_object().into_iter().flatten() {
        let Some(name) = path.strip_prefix("node_modules/") else { continue };
        if !package["integrity"].as_str().is_some_and(|sum| sum.starts_with("sha512-")) {
            faults.push(format!("package-lock.json: {name} has no checksum"));
        }
        if package.get("resolved").is_some() {
            faults.push(format!("package-lock.json: {name} names an address"));
        }
        let licence = package["license"].as_str().unwrap_or_default();
        if !rules.allows(licence) && !TESTS_ONLY.contains(&(name, licence)) {
            faults.push(format!("{name} has the licence {licence:?}, not on the list"));
        }
    }
    faults
}

/// Each line a name and one version.
fn of_python(pins: &str) -> Vec<String> {
    let lines = pins.lines().map(|line| line.split(" #").next().unwrap_or_default().trim());
    let lines = lines.filter(|line| !line.is_empty() && !line.starts_with('#'));
    let is_pinned = |line: &str| {
        let is_version = |it: &str| it.starts_with(|digit: char| digit.is_ascii_digit());
        line.split_once("==")
            .is_some_and(|(_, version)| is_version(version) && !version.contains('*'))
    };
    lines
        .filter(|line| !is_pinned(line))
        .map(|line| format!("requirements.txt: {line:?} is no exact version"))
        .collect()
}

fn is_exact(version: &str) -> bool {
    let parts: Vec<&str> = version.split('.').collect();
    let is_number = |part: &&str| !part.is_empty() && part.bytes().all(|it| it.is_ascii_digit());
    parts.len() == 3 && parts.iter().all(is_number)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::shell::top;
    use serde_json::json;

    #[test]
    fn npm_packages_are_pinned_with_a_checksum_and_no_address() {
        let rules = Rules::read(&top()).unwrap();
        let asked =
            |version: &str| json!({"devDependencies": {"a": version}, "reasons": {"a": "b"}});
        let lock = |version: &str, package: Value| {
            json!({"packages": {
                "": {"devDependencies": {"a": version}}, "node_modules/a": package,
            }})
        };
        let sound = json!({"integrity": "sha512-x", "license": "MIT"});
        let check = |asked: Value, lock: Value, expect: &[&str]| {
            assert_eq!(of_npm(&rules, &asked, &lock), expect);
        };
        check(asked("1.2.3"), lock("1.2.3", sound.clone()), &[]);
        check(asked("npm:b@1.2.3"), lock("npm:b@1.2.3", sound.clone()), &[]);
        check(
            asked("^1.2.3"),
            lock("1.2.3", sound.clone()),
            &[
                "package.json: a is \"^1.2.3\", no exact version",
                "package-lock.json does not agree with package.json",
            ],
        );
        check(
            json!({"devDependencies": {"a": "1.2.3"}}),
            lock("1.2.3", json!({"resolved": "there", "license": "GPL-3.0"})),
            &[
                "package.json: a has no reason",
                "package-lock.json: a has no checksum",
                "package-lock.json: a names an address",
                "a has the licence \"GPL-3.0\", not on the list",
            ],
        );
    }

    #[test]
    fn python_packages_have_one_version() {
        assert_eq!(of_python("# words\nnumpy==2.4.6\nscipy==1.17.1 # why\n\n"), [""; 0]);
        let told = of_python("numpy>=2\nscipy==1.*\npandas");
        assert_eq!(told.len(), 3, "{told:?}");
    }
}
