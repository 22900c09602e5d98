//! `cargo xtask quality`: writes docs/quality.md, each of its sections by what measures it.

mod access;
mod compiling;
mod dependencies;
mod faults;
mod hostile;
mod house;
mod languages;
mod page;

use std::fs;

use anyhow::{Context, Result};
use clap::Args;

use crate::shell::top;
pub(crate) use house::lines_of_code;

/// What to measure anew.
#[derive(Args)]
pub(crate) struct Measuring {
    /// Only sections whose heading contains one of these words; the others stay as they were.
    sections: Vec<String>,
}

/// A part of the page: its heading, and what measures it and gives its text.
type Section = (&'static str, fn() -> Result<String>);

/// In the order of the page.
const SECTIONS: &[Section] = &[
    ("The house", house::figures),
    ("Accessibility", access::figures),
    ("Languages", languages::figures),
    ("Hostile input and policy", hostile::figures),
    ("Compile times", compiling::figures),
    ("Dependencies", dependencies::figures),
    ("Fuzz targets", faults::fuzz_targets),
    ("Mutants", faults::mutants),
    ("Coverage", faults::covered_lines),
];

/// Measures what is asked and writes the page; each section as soon as it is known.
///
/// # Errors
/// Something cannot be measured; what was measured before stays.
#[expect(clippy::print_stdout, reason = "long work tells where it is")]
pub(crate) fn quality(options: &Measuring) -> Result<()> {
    let file = top().join("docs/quality.md");
    let mut page = page::Page::read(&fs::read_to_string(&file).unwrap_or_default());
    let wanted = |heading: &str| {
        let heading = heading.to_lowercase();
        options.sections.is_empty() || options.sections.iter().any(|word| heading.contains(word))
    };
    for (heading, figures) in SECTIONS.iter().filter(|(heading, _)| wanted(heading)) {
        println!("{heading} …");
        let text = figures().with_context(|| format!("the section \"{heading}\""))?;
        page.put(heading, &text);
        fs::write(&file, page.written(SECTIONS.iter().map(|(heading, _)| *heading)))?;
    }
    Ok(())
}
