//! Lines that ran, of those that may run, by crate: without the lines of tests, which always run.

use std::collections::BTreeMap;
use std::fmt;

use anyhow::{Context, Result, ensure};

use crate::shell::top;

/// How much of a crate ran.
pub(crate) struct Covered {
    /// The crate.
    pub(crate) name: String,
    /// Lines that may run.
    pub(crate) lines: usize,
    /// Of these, those that ran.
    pub(crate) ran: usize,
    /// The modules with the most lines that did not run, and how many these are.
    pub(crate) least: Vec<(String, usize)>,
}

impl Covered {
    /// Of a hundred lines.
    pub(crate) fn percent(&self) -> f64 {
        100.0 * self.ran as f64 / self.lines as f64
    }
}

impl fmt::Display for Covered {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { name, lines, ran, .. } = self;
        write!(f, "{name:<10} {:>5.1} % of {lines} lines", self.percent())?;
        for (module, missed) in &self.least {
            write!(f, ", {module} lacks {missed}")?;
        }
        debug_assert!(ran <= lines);
        Ok(())
    }
}

/// Modules that are named for the lines that they lack.
const NAMED: usize = 3;

/// Reads an lcov report for some crates.
///
/// # Errors
/// A module that cannot be read; a crate of which nothing is reported.
pub(super) fn covered(crates: &[&str], report: &str) -> Result<Vec<Covered>> {
    let top = top().join("crates");
    let mut modules = Vec::new();
    for (path, lines) in by_file(report) {
        let Ok(within) = std::path::Path::new(path).strip_prefix(&top) else { continue };
        let within = within.to_string_lossy().replace('\\', "/");
        let Some((name, module)) = within.split_once("/src/") else { continue };
        let text = std::fs::read_to_string(path).with_context(|| format!("cannot read {path}"))?;
        let code = crate::quality::lines_of_code(module, &text) as u64;
        let (may, ran) = count(&lines, code);
        modules.push((name.to_owned(), module.to_owned(), may, ran));
    }
    crates.iter().map(|name| of_crate(name, &modules)).collect()
}

fn of_crate(name: &str, modules: &[(String, String, usize, usize)]) -> Result<Covered> {
    let own: Vec<_> = modules.iter().filter(|module| module.0 == name).collect();
    let mut least: Vec<(String, usize)> =
        own.iter().map(|(_, module, may, ran)| (module.clone(), may - ran)).collect();
    least.retain(|(_, missed)| *missed > 0);
    least.sort_by(|one, other| other.1.cmp(&one.1).then(one.0.cmp(&other.0)));
    least.truncate(NAMED);
    let lines = own.iter().map(|module| module.2).sum();
    ensure!(lines > 0, "nothing was counted in {name}");
    let ran = own.iter().map(|module| module.3).sum();
    Ok(Covered { name: name.to_owned(), lines, ran, least })
}

/// Of the lines of code, those that may run and those that did.
fn count(lines: &BTreeMap<u64, u64>, code: u64) -> (usize, usize) {
    let of_code = || lines.range(..=code);
    (of_code().count(), of_code().filter(|(_, times)| **times > 0).count())
}

/// By file: how many times each line ran.
fn by_file(report: &str) -> BTreeMap<&str, BTreeMap<u64, u64>> {
    let mut files: BTreeMap<&str, BTreeMap<u64, u64>> = BTreeMap::new();
    let mut file = "";
    for line in report.lines() {
        if let Some(path) = line.strip_prefix("SF:") {
            file = path;
        }
        let said = line.strip_prefix("DA:").and_then(|counts| counts.split_once(','));
        let said = said.and_then(|(line, times)| Some((line.parse().ok()?, times.parse().ok()?)));
        if let Some((line, times)) = said {
            let known: &mut u64 = files.entry(file).or_default().entry(line).or_default();
            *known = (*known).max(times);
        }
    }
    files
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_of_code_are_counted_and_those_of_tests_are_not() {
        let report = "SF:/a.rs\nFN:1,x\nDA:1,3\nDA:2,0\nDA:9,7\nend_of_record\n\
            SF:/a.rs\nDA:2,1\nDA:3,0\nend_of_record\n";
        let files = by_file(report);
        assert_eq!(files["/a.rs"], BTreeMap::from([(1, 3), (2, 1), (3, 0), (9, 7)]));
        assert_eq!(count(&files["/a.rs"], 8), (3, 2));
        assert_eq!(count(&files["/a.rs"], 9), (4, 3));
    }

    #[test]
    fn a_crate_is_the_sum_of_its_modules_and_names_the_poorest() {
        let module =
            |name: &str, module: &str, may, ran| (name.to_owned(), module.to_owned(), may, ran);
        let modules = [
            module("plot", "a.rs", 10, 10),
            module("plot", "b.rs", 10, 4),
            module("plot", "c.rs", 10, 9),
            module("walk", "d.rs", 10, 0),
        ];
        let plot = of_crate("plot", &modules).expect("counted");
        let told = "plot        76.7 % of 30 lines, b.rs lacks 6, c.rs lacks 1";
        assert_eq!(plot.to_string(), told);
        assert!(of_crate("files", &modules).is_err());
    }
}
