//! The words of the screens in one place: every text that the code says, and its translations.
//!
//! `crates/language/words/leeward.pot` has all of them in English, with the files that say them;
//! beside it lies one file for each other language, in gettext's form, which translators know.

mod found;
mod translation;

use std::path::{Path, PathBuf};

use anyhow::{Context, Result};
use polib::catalog::Catalog;
use polib::po_file;

use crate::bundle::Bundle;
use crate::shell::top;

/// Where translations are taken from.
#[derive(clap::Args, Clone, Debug)]
pub(crate) struct Wording {
    /// Files of translations to take over, named by their language as `de.po` or `de-mine.po`.
    take: Vec<PathBuf>,
}

/// Writes the list of all texts, and has each translation hold these and no others.
///
/// # Errors
/// Code or a file that cannot be read, or a file that cannot be written.
#[expect(clippy::print_stdout, reason = "the counts are the answer")]
pub(crate) fn words(options: &Wording) -> Result<()> {
    let texts = found::texts(&top())?;
    write(&translation::template(&texts), &folder().join("leeward.pot"))?;
    println!("{} texts", texts.len());
    for (language, file) in languages()? {
        let taken = options.take.iter().filter(|file| language_of(file) == language);
        let known = taken.chain([&file]).map(|file| parsed(file)).collect::<Result<Vec<_>>>()?;
        let catalog = translation::brought_up(&texts, &known, &language);
        write(&catalog, &file)?;
        let done = catalog.messages().filter(|message| message.is_translated()).count();
        println!("{language}: {done} of {} translated", texts.len());
    }
    Ok(())
}

/// What is not as it should be: a list that is behind the code, a text that a language lacks or
/// puts other values into.
///
/// # Errors
/// Code or a file that cannot be read.
pub(crate) fn faults() -> Result<Vec<String>> {
    let texts = found::texts(&top())?;
    let mut faults = translation::behind(&texts, &parsed(&folder().join("leeward.pot"))?);
    for (language, file) in languages()? {
        faults.extend(translation::lacking(&texts, &parsed(&file)?, &language));
    }
    Ok(faults)
}

/// The first file that says each text.
///
/// # Errors
/// Code that cannot be read.
pub(crate) fn sayers() -> Result<Vec<String>> {
    let texts = found::texts(&top())?;
    Ok(texts.into_iter().filter_map(|text| text.files.into_iter().next()).collect())
}

/// How many texts each language has.
///
/// # Errors
/// A translation that cannot be read.
pub(crate) fn translated() -> Result<Vec<(String, usize)>> {
    let count = |(language, file): (String, PathBuf)| {
        Ok((language, parsed(&file)?.messages().filter(|one| one.is_translated()).count()))
    };
    languages()?.into_iter().map(count).collect()
}

/// Adds what the page fetches where another language than English is chosen: `words/de.txt`.
///
/// # Errors
/// A translation that cannot be read.
pub(crate) fn add_to(bundle: &mut Bundle) -> Result<()> {
    for (language, file) in languages()? {
        let records = translation::records(&parsed(&file)?);
        bundle.add(&format!("words/{language}.txt"), records.into_bytes());
    }
    Ok(())
}

/// Whether a file of the page waits until its language is chosen.
pub(crate) fn is_translation(name: &str) -> bool {
    name.starts_with("words/")
}

fn folder() -> PathBuf {
    top().join("crates/language/words")
}

/// The languages that there are beside English, with their files.
fn languages() -> Result<Vec<(String, PathBuf)>> {
    let mut files = Vec::new();
    for entry in std::fs::read_dir(folder())? {
        let file = entry?.path();
        if file.extension().is_some_and(|ending| ending == "po") {
            files.push((language_of(&file), file));
        }
    }
    files.sort();
    Ok(files)
}

fn language_of(file: &Path) -> String {
    let stem = file.file_stem().unwrap_or_default().to_string_lossy();
    stem.split('-').next().unwrap_or_default().to_owned()
}

fn parsed(file: &Path) -> Result<Catalog> {
    let context = || format!("cannot read {}", file.display());
    let text = std::fs::read_to_string(file).with_context(context)?;
    // An empty comment before anything else breaks the parser; some editors write one.
    let lines: Vec<&str> = text.lines().filter(|line| *line != "#").collect();
    let text = lines.join("\n") + "\n\n";
    po_file::parse_from_reader(text.as_bytes())
        .map_err(|error| anyhow::anyhow!("{error}"))
        .with_context(context)
}

fn write(catalog: &Catalog, file: &Path) -> Result<()> {
    po_file::write_to_file(catalog, file)
        .with_context(|| format!("cannot write {}", file.display()))
}
