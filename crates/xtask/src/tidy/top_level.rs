//! The top level is exactly as docs/architecture.md lists it.

use std::path::Path;

use anyhow::Result;

use crate::shell::output;

const LISTED: &[&str] = &[
    "Cargo.lock",
    "Cargo.toml",
    "DEVELOPERS.md",
    "LICENSE-APACHE",
    "LICENSE-MIT",
    "README.md",
    "crates",
    "demo-plot",
    "docs",
    "rust-toolchain.toml",
    "tests",
    "www",
];

/// What is missing, and what is there but not listed; names that begin with a dot are free.
///
/// # Errors
/// git cannot tell what belongs to the project.
pub(super) fn faults(top: &Path) -> Result<Vec<String>> {
    let mut git = std::process::Command::new("git");
    git.current_dir(top).args(["ls-files", "--cached", "--others", "--exclude-standard"]);
    Ok(compare(&output(&mut git)?))
}

fn compare(files: &str) -> Vec<String> {
    let mut found: Vec<&str> =
        files.lines().map(|file| file.split('/').next().unwrap_or(file)).collect();
    found.sort_unstable();
    found.dedup();
    let missing = LISTED
        .iter()
        .filter(|name| !found.contains(name))
        .map(|name| format!("{name} is missing from the top level"));
    let strange = found
        .iter()
        .filter(|name| !name.starts_with('.') && !LISTED.contains(name))
        .map(|name| format!("{name} does not belong to the top level"));
    missing.chain(strange).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_missing_and_what_is_strange_is_told() {
        let all: Vec<String> = LISTED.iter().map(|name| format!("{name}/x")).collect();
        assert_eq!(compare(&format!("{}\n.ci/run", all.join("\n"))), Vec::<String>::new());
        let without = all[1..].join("\n");
        assert_eq!(
            compare(&format!("{without}\nscratch.txt")),
            [
                "Cargo.lock is missing from the top level",
                "scratch.txt does not belong to the top level"
            ]
        );
    }
}
