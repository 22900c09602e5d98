//! No disease's name in code: what is known of a disease is data, `crates/files/profiles`.

use std::fs;
use std::path::Path;

use anyhow::{Context, Result, ensure};
use serde_json::Value;

use super::heads::gather;

/// Where the profiles lie.
const PROFILES: &str = "crates/files/profiles";
/// Made-up plots need diseases to make up.
const MAY_NAME: &str = "crates/epidemic/";
/// Files that serve tests alone.
const FOR_TESTS: [&str; 4] = ["tests.rs", "testing.rs", "sample.rs", "laws.rs"];

/// Lines of code that name a disease.
///
/// # Errors
/// A folder or file that cannot be read, or no profile at all.
pub(super) fn faults(top: &Path) -> Result<Vec<String>> {
    let names = names(top)?;
    let mut modules = Vec::new();
    gather(&top.join("crates"), &mut modules)?;
    modules.sort();
    let mut faults = Vec::new();
    for module in modules {
        let name = module.strip_prefix(top).unwrap_or(&module).display().to_string();
        let is_code = name.contains("/src/") && !name.contains("/tests/");
        let is_for_tests = FOR_TESTS.iter().any(|file| name.ends_with(file));
        if !is_code || is_for_tests || name.starts_with(MAY_NAME) {
            continue;
        }
        let text = fs::read_to_string(&module).with_context(|| format!("cannot read {name}"))?;
        let named = named(&text, &names).into_iter();
        faults.extend(named.map(|(line, disease)| {
            format!(
                "{name}, line {line} names {disease}: what is known of it belongs to {PROFILES}"
            )
        }));
    }
    Ok(faults)
}

/// What the built-in diseases are called, in the letters that code would have.
fn names(top: &Path) -> Result<Vec<String>> {
    let mut names = Vec::new();
    for entry in fs::read_dir(top.join(PROFILES)).with_context(|| format!("no {PROFILES}"))? {
        let path = entry?.path();
        let profile: Value = serde_json::from_slice(&fs::read(&path)?)
            .with_context(|| format!("{} is no JSON", path.display()))?;
        let others = profile["names"].as_array().into_iter().flatten();
        let all = [&profile["id"], &profile["label"]].into_iter().chain(others);
        names.extend(all.filter_map(Value::as_str).map(letters));
    }
    ensure!(!names.is_empty(), "{PROFILES} names no disease");
    Ok(names)
}

fn letters(text: &str) -> String {
    text.to_lowercase().replace([' ', '_', '-'], "")
}

/// Lines, counted from 1, that name a disease; comments and tests may, and the profiles' own files.
fn named<'n>(text: &str, names: &'n [String]) -> Vec<(usize, &'n str)> {
    let code = text.split("#[cfg(test)]\nmod tests {").next().unwrap_or(text);
    let lines = code
        .lines()
        .enumerate()
        .filter(|(_, line)| !line.trim_start().starts_with("//") && !line.contains("include_str!"));
    lines
        .filter_map(|(nth, line)| {
            let line = letters(line.split(" // ").next().unwrap_or(line));
            names.iter().find(|name| line.contains(name.as_str())).map(|it| (nth + 1, it.as_str()))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::named;

    #[test]
    fn a_name_in_code_is_told_however_it_is_spelt() {
        let names = ["scab".to_owned(), "fireblight".to_owned()];
        let check = |text: &str, expect: &[usize]| {
            let lines: Vec<usize> = named(text, &names).iter().map(|it| it.0).collect();
            assert_eq!(lines, expect, "{text}");
        };
        check("match name {\n    \"fire_blight\" => 1,\n    \"Scab\" => 2,", &[2, 3]);
        check("let it = \"Fire blight on shoots\";", &[1]);
        check("/// Of scab.\nlet x = 1; // as scab does\n", &[]);
        check("fn a() {}\n#[cfg(test)]\nmod tests {\n    \"scab\"\n}", &[]);
        check("#[cfg(test)]\nmod testing;\nconst A: &str = \"scab\";", &[3]);
    }
}
