//! What faults the tests are shown to find: inputs of the fuzz targets, mutants, lines that run.

use std::fmt::Write as _;
use std::fs;

use anyhow::{Context, Result};
use serde_json::Value;

use crate::shell::top;
use crate::{coverage, fuzz, mutants};

/// Inputs and edges of each target in a run of fixed length.
pub(super) fn fuzz_targets() -> Result<String> {
    let mut text = "What each target is, and the laws that hold whatever its bytes are, stand in \
        `tests/fuzz/src`: what is read and written again reads the same, problems name lines that \
        there are, a plot is valid, an edit that is taken back leaves no trace, a union drops \
        nothing whoever comes first. Each run of `cargo xtask test` gives each target the same \
        inputs, `cargo xtask fuzz` new ones for as long as one likes. Edges are those of the \
        compiler's coverage over all code in the target, the standard library left out.\n\n\
        | target | seeds | inputs | edges |\n| --- | --- | --- | --- |\n"
        .to_owned();
    for ran in fuzz::all(&[], fuzz::ROUTINE)? {
        let seeds = fs::read_dir(top().join("tests/fuzz/seeds").join(&ran.target))?.count();
        writeln!(text, "| {} | {seeds} | {} | {} |", ran.target, ran.inputs, ran.edges)?;
    }
    Ok(text)
}

/// The account that the last runs of `cargo xtask mutants` left.
pub(super) fn mutants() -> Result<String> {
    let mut text = "From the last runs of `cargo xtask mutants`, which take too long to be run \
        with everything else. Changes that no test can notice are left out by \
        `.cargo/mutants.toml`, which says why.\n\n\
        | crate | on | revision | share | caught | missed | never ended | did not compile |\n\
        | --- | --- | --- | --- | --- | --- | --- | --- |\n"
        .to_owned();
    let mut missed = String::new();
    for name in mutants::CRATES {
        let file = mutants::account(name);
        let kept = fs::read(&file).with_context(|| file.display().to_string())?;
        let kept: Value = serde_json::from_slice(&kept)?;
        let word = |field: &str| kept[field].as_str().unwrap_or("?").to_owned();
        write!(
            text,
            "| {name} | {} | {} | one in {} |",
            word("on"),
            word("revision"),
            kept["one_in"]
        )?;
        for outcome in mutants::OUTCOMES {
            write!(text, " {} |", kept[outcome].as_array().map_or(0, Vec::len))?;
        }
        text.push('\n');
        let names = |field: &str| -> Vec<String> {
            let all = kept[field].as_array().into_iter().flatten();
            all.filter_map(|one| one.as_str().map(str::to_owned)).collect()
        };
        let since = names("noticed_since");
        for one in names("missed") {
            let now = if since.contains(&one) { " (a test notices it since)" } else { "" };
            writeln!(missed, "- `{one}`{now}")?;
        }
    }
    if missed.is_empty() {
        missed.push_str("none\n");
    }
    Ok(text + "\nMissed:\n\n" + &missed)
}

/// Lines of each library crate that its tests run.
pub(super) fn covered_lines() -> Result<String> {
    let mut text = "Lines of the library crates that their own tests and those of `tests/` run, \
        test code itself not counted (`cargo xtask coverage`).\n\n\
        | crate | lines | ran | of a hundred | most lines lacking |\n\
        | --- | --- | --- | --- | --- |\n"
        .to_owned();
    for one in coverage::measured(&[])? {
        let least: Vec<String> =
            one.least.iter().map(|(module, missed)| format!("{module} {missed}")).collect();
        let (name, lines, ran) = (&one.name, one.lines, one.ran);
        writeln!(
            text,
            "| {name} | {lines} | {ran} | {:.1} | {} |",
            one.percent(),
            least.join(", ")
        )?;
    }
    Ok(text)
}
