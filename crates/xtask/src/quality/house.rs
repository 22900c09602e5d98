//! How big the house is: lines of each crate, its modules, the longest of them, and how much of it
//! others can call.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use anyhow::Result;

use crate::shell::{cargo, run, target_dir, top};

/// A module longer than this is looked at: may it be two ideas?
const LONG: usize = 300;

/// Crates with their lines, modules and longest module; and which modules are long.
pub(super) fn figures() -> Result<String> {
    // Only what is public: `cargo xtask test docs` lays out all of it in the same place.
    run(cargo().args(["doc", "-q", "--no-deps"]))?;
    let mut text = "| crate | modules | lines | of them tests | public items | longest module |\n\
                    | --- | --- | --- | --- | --- | --- |\n"
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
        let public = public_items(&name).map_or_else(|| "–".to_owned(), |count| count.to_string());
        writeln!(
            text,
            "| {name} | {} | {lines} | {tests} | {public} | {longest} |",
            modules.len()
        )?;
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

/// Types, functions and the like that a crate offers to others, methods not counted; none of what
/// is built for a browser alone or is no library.
fn public_items(name: &str) -> Option<usize> {
    let list = target_dir().join("doc").join(name).join("all.html");
    let items = std::fs::read_to_string(list).ok()?;
    Some(items.matches("<li><a href=").count())
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
    let mut texts = Vec::new();
    let mut folders = vec![source.to_owned()];
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(folder)? {
            let path = entry?.path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|extension| extension == "rs") {
                let name = path.strip_prefix(source)?.to_string_lossy().into_owned();
                texts.push((name, std::fs::read_to_string(&path)?));
            }
        }
    }
    let of_tests: Vec<String> =
        texts.iter().flat_map(|(name, text)| test_modules(name, text)).collect();
    let is_of_tests = |name: &str| {
        let path = name.trim_end_matches(".rs");
        of_tests.iter().any(|one| path == one || path.starts_with(&format!("{one}/")))
    };
    let mut found: Vec<Module> =
        texts.iter().map(|(name, text)| module(name.clone(), text, is_of_tests(name))).collect();
    found.sort_by(|a, b| a.name.cmp(&b.name));
    Ok(found)
}

/// The modules that a module has for its tests alone, by their paths below `src` without an ending.
fn test_modules(name: &str, text: &str) -> Vec<String> {
    let stem = name.trim_end_matches(".rs");
    let folder = if matches!(stem, "lib" | "main") { String::new() } else { format!("{stem}/") };
    let lines: Vec<&str> = text.lines().map(str::trim).collect();
    let marked = lines.windows(2).filter(|pair| pair[0] == "#[cfg(test)]");
    let named = marked.filter_map(|pair| pair[1].strip_suffix(';')?.rsplit_once("mod "));
    named.map(|(_, module)| format!("{folder}{module}")).collect()
}

/// Lines of a module before its tests; none where it is all tests. `name` is its path below `src`.
pub(crate) fn lines_of_code(name: &str, text: &str) -> usize {
    module(name.to_owned(), text, false).code
}

fn module(name: String, text: &str, is_of_tests: bool) -> Module {
    let is_tests = is_of_tests
        || name.split(['/', '.']).any(|part| part == "tests" || part.ends_with("_tests"));
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
            let module = module(name.to_owned(), text, false);
            assert_eq!((module.code, module.tests), (code, tests), "{name}");
        };
        check("a.rs", "fn a() {}\n\n#[cfg(test)]\nmod tests {\n}\n", 2, 3);
        check("a.rs", "#[cfg(test)]\nmod tests;\nfn a() {}\n", 3, 0);
        check("a/tests.rs", "fn a() {}\n", 0, 1);
        check("tests/b.rs", "fn a() {}\n", 0, 1);
        assert_eq!(module("laws.rs".to_owned(), "fn a() {}\n", true).code, 0);
    }

    #[test]
    fn modules_of_tests_are_told_by_who_has_them() {
        let text = "mod a;\n#[cfg(test)]\nmod laws;\n    #[cfg(test)]\n    pub(crate) mod testing;\n#[cfg(test)]\nmod tests {\n";
        assert_eq!(test_modules("lib.rs", text), ["laws", "testing"]);
        assert_eq!(test_modules("a/b.rs", text), ["a/b/laws", "a/b/testing"]);
    }
}
