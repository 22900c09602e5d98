//! How big the house is: lines of each crate, its modules, and the longest of them.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use anyhow::Result;

use crate::shell::top;

/// A module longer than this is looked at: may it be two ideas?
const LONG: usize = 300;

/// Crates with their lines, modules and longest module; and which modules are long.
pub(super) fn figures() -> Result<String> {
    let mut text =
        "| crate | modules | lines | of them tests | longest module |\n| --- | --- | --- | --- | --- |\n"
            .to_owned();
    let mut long = Vec::new();
    let mut crates: Vec<PathBuf> = std::fs::read_dir(top().join("crates"))?
        .map(|entry| Ok(entry?.path()))
        .collect::<Result<_>>()?;
    crates.sort();
    for folder in crates {
        let modules = modules(&folder.join("src"))?;
        let lines: usize = modules.iter().map(Module::lines).sum();
        let tests: usize = modules.iter().map(|module| module.tests).sum();
        let longest = modules.iter().max_by_key(|module| module.code);
        let longest =
            longest.map_or_else(String::new, |module| format!("{} {}", module.name, module.code));
        let name = folder.file_name().unwrap_or_default().to_string_lossy();
        writeln!(text, "| {name} | {} | {lines} | {tests} | {longest} |", modules.len())?;
        long.extend(
            modules
                .iter()
                .filter(|module| module.code > LONG)
                .map(|module| format!("{name}/{} ({})", module.name, module.code)),
        );
    }
    let long = if long.is_empty() { "none".to_owned() } else { long.join(", ") };
    writeln!(text, "\nModules of more than {LONG} lines without their tests: {long}.")?;
    Ok(text)
}

/// A file of code.
struct Module {
    /// Its path below `src`.
    name: String,
    /// Lines before its tests; none where it is all tests.
    code: usize,
    /// Lines of its tests.
    tests: usize,
}

impl Module {
    fn lines(&self) -> usize {
        self.code + self.tests
    }
}

fn modules(source: &Path) -> Result<Vec<Module>> {
    let mut found = Vec::new();
    let mut folders = vec![source.to_owned()];
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(folder)? {
            let path = entry?.path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|extension| extension == "rs") {
                let name = path.strip_prefix(source)?.to_string_lossy().into_owned();
                found.push(module(name, &std::fs::read_to_string(&path)?));
            }
        }
    }
    found.sort_by(|a, b| a.name.cmp(&b.name));
    Ok(found)
}

/// Lines of a module before its tests; none where it is all tests. `name` is its path below `src`.
pub(crate) fn lines_of_code(name: &str, text: &str) -> usize {
    module(name.to_owned(), text).code
}

fn module(name: String, text: &str) -> Module {
    let is_tests = name.split(['/', '.']).any(|part| part == "tests" || part.ends_with("_tests"));
    let of_tests = |line: &str| line.trim_start().starts_with("#[cfg(test)]");
    let lines = text.lines().count();
    let code = match text.lines().position(of_tests) {
        _ if is_tests => 0,
        // A module of tests in a file of its own is one line here, and code may follow.
        Some(at) if text.lines().nth(at + 1).is_some_and(|next| next.ends_with('{')) => at,
        _ => lines,
    };
    Module { name, code, tests: lines - code }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tests_are_told_from_code() {
        let check = |name: &str, text: &str, code, tests| {
            let module = module(name.to_owned(), text);
            assert_eq!((module.code, module.tests), (code, tests), "{name}");
        };
        check("a.rs", "fn a() {}\n\n#[cfg(test)]\nmod tests {\n}\n", 2, 3);
        check("a.rs", "#[cfg(test)]\nmod tests;\nfn a() {}\n", 3, 0);
        check("a/tests.rs", "fn a() {}\n", 0, 1);
        check("tests/b.rs", "fn a() {}\n", 0, 1);
    }
}
