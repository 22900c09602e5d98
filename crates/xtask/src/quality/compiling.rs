//! How long each crate of ours takes to be compiled, once all it needs is there.

use std::fmt::Write as _;
use std::fs;

use anyhow::{Context, Result};
use serde_json::Value;

use crate::shell::{cargo, run, target_dir};

/// Seconds for each crate, native, in a build for development; two of them at a time on two cores.
pub(super) fn figures() -> Result<String> {
    let metadata = crate::dependencies::metadata()?;
    let packages = metadata["packages"].as_array().into_iter().flatten();
    let ours: Vec<&str> = packages
        .filter(|package| package["source"].is_null())
        .filter_map(|package| package["name"].as_str())
        .filter(|name| *name != "xtask") // it runs now
        .collect();
    run(cargo().args(["build", "-q"]))?;
    for name in &ours {
        run(cargo().args(["clean", "-q", "-p", name]))?;
    }
    run(cargo().args(["build", "-q", "--timings"]))?;
    let report = fs::read_to_string(target_dir().join("cargo-timings/cargo-timing.html"))?;
    let mut text = String::from("| crate | seconds |\n| --- | --- |\n");
    let (mut all, mut end) = (0.0, 0.0_f64);
    for unit in units(&report).context("the report on timings has no units")? {
        let (name, seconds) = (unit["name"].as_str(), unit["duration"].as_f64());
        let (Some(name), Some(seconds)) = (name, seconds) else { continue };
        if ours.contains(&name) && seconds >= 0.1 {
            let target = unit["target"].as_str().unwrap_or_default().trim();
            let target = if target.is_empty() { String::new() } else { format!(", {target}") };
            writeln!(text, "| {name}{target} | {seconds:.1} |")?;
            all += seconds;
            end = end.max(unit["start"].as_f64().unwrap_or_default() + seconds);
        }
    }
    writeln!(text, "\n{all:.0} seconds in all; {end:.0} from the first to the last.")?;
    Ok(text)
}

/// What cargo's report has of each crate.
fn units(report: &str) -> Option<Vec<Value>> {
    let (_, rest) = report.split_once("const UNIT_DATA = ")?;
    let (data, _) = rest.split_once(";\n")?;
    serde_json::from_str(data).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn units_are_read_out_of_the_report() {
        let report =
            "a\nconst UNIT_DATA = [{\"name\": \"plot\", \"duration\": 1.5}];\nconst B = [];\n";
        let units = units(report).unwrap();
        assert_eq!(
            (units[0]["name"].as_str(), units[0]["duration"].as_f64()),
            (Some("plot"), Some(1.5))
        );
        assert!(super::units("nothing").is_none());
    }
}
