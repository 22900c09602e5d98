//! Each module opens with a `//!` sentence that says what it owns.

use std::fs;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, ensure};

/// Modules without such a sentence.
///
/// # Errors
/// A folder that cannot be read, or no module at all.
pub(super) fn faults(top: &Path) -> Result<Vec<String>> {
    let mut modules = Vec::new();
    for folder in ["crates", "tests/src", "tests/fuzz"] {
        gather(&top.join(folder), &mut modules)?;
    }
    ensure!(!modules.is_empty(), "no module was found below {}", top.display());
    modules.sort();
    let mut faults = Vec::new();
    for module in modules {
        let text = fs::read_to_string(&module)
            .with_context(|| format!("cannot read {}", module.display()))?;
        let name = module.strip_prefix(top).unwrap_or(&module).display().to_string();
        if !is_test(&name) && !has_sentence(&text) {
            faults.push(format!("{name} does not open with a //! sentence"));
        }
    }
    Ok(faults)
}

/// All Rust files below a folder.
pub(super) fn gather(folder: &Path, modules: &mut Vec<PathBuf>) -> Result<()> {
    for entry in
        fs::read_dir(folder).with_context(|| format!("cannot read {}", folder.display()))?
    {
        let path = entry?.path();
        if path.is_dir() {
            gather(&path, modules)?;
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            modules.push(path);
        }
    }
    Ok(())
}

/// Test modules say what they own by the names of their tests.
fn is_test(name: &str) -> bool {
    name.ends_with("tests.rs") || name.contains("/tests/")
}

/// Whether the first words are a `//!` sentence: a capital or a code word, up to a full stop or
/// colon.
fn has_sentence(text: &str) -> bool {
    let mut lines = text.lines();
    let head: Vec<&str> = lines.by_ref().map_while(|line| line.strip_prefix("//!")).collect();
    let paragraph: Vec<&str> =
        head.iter().map(|line| line.trim()).take_while(|line| !line.is_empty()).collect();
    let sentence = paragraph.join(" ");
    let begins = sentence.starts_with(|letter: char| letter.is_uppercase() || letter == '`');
    begins && sentence.contains(' ') && sentence.ends_with(['.', ':', '?'])
}

#[cfg(test)]
mod tests {
    use super::has_sentence;

    #[test]
    fn a_sentence_is_told_from_what_is_none() {
        let check = |text: &str, expect: bool| assert_eq!(has_sentence(text), expect, "{text:?}");
        check("//! Owns the rows.\nuse std::fs;", true);
        check("//! Owns the rows,\n//! and the places.\n", true);
        check("//! Owns the rows.\n//!\n//! More", true);
        check("//! `Plot` by hand.", true);
        check("use std::fs;\n//! Owns the rows.", false);
        check("// Owns the rows.", false);
        check("//! placeholder", false);
        check("//!\n//! Owns the rows.", false);
        check("", false);
    }
}
