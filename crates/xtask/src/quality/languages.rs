//! The languages of the page: how many texts there are, and what of them is translated.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use anyhow::Result;

use super::access::counted;
use crate::words;

/// Texts for each crate, and how many of them each language has; runs the journey that looks for
/// texts that were not said, where it has not counted yet.
pub(super) fn figures() -> Result<String> {
    if counted("languages").is_err() {
        crate::test::journeys(&["languages"])?;
    }
    let states = counted("languages")?["states"].as_array().map_or(0, Vec::len);
    let texts = words::sayers()?;
    let mut text = String::from("| crate | texts |\n| --- | --- |\n");
    let mut crates: BTreeMap<&str, usize> = BTreeMap::new();
    for file in &texts {
        *crates.entry(file.split('/').nth(1).unwrap_or(file)).or_default() += 1;
    }
    for (name, count) in crates {
        writeln!(text, "| {name} | {count} |")?;
    }
    writeln!(text, "| **all** | {} |\n", texts.len())?;
    for (language, translated) in words::translated()? {
        writeln!(text, "Translated into `{language}`: {translated} of {}.", texts.len())?;
    }
    writeln!(
        text,
        "\nIn {states} states of the page, every word that is seen or heard was said through the list \
         of texts, or is the plot's own."
    )?;
    Ok(text)
}
