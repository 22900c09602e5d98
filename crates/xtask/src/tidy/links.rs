//! Each link of a page of Markdown leads to a file of the repository, and to a heading of it.

use std::fs;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, ensure};

use crate::markdown::{headings, is_outside, targets};

/// Folders whose pages are looked through, not the folders in them.
const FOLDERS: [&str; 4] = ["", "docs", "demo-plot", "tests/reference"];

/// Links that lead nowhere.
///
/// # Errors
/// A folder or page that cannot be read, or no page at all.
pub(super) fn faults(top: &Path) -> Result<Vec<String>> {
    let mut pages: Vec<PathBuf> = Vec::new();
    for folder in FOLDERS {
        let folder = top.join(folder);
        for entry in
            fs::read_dir(&folder).with_context(|| format!("cannot read {}", folder.display()))?
        {
            let path = entry?.path();
            if path.extension().is_some_and(|ending| ending == "md") {
                pages.push(path);
            }
        }
    }
    ensure!(!pages.is_empty(), "no page was found below {}", top.display());
    pages.sort();
    let mut faults = Vec::new();
    for page in pages {
        let name = page.strip_prefix(top).unwrap_or(&page).display().to_string();
        for (line, target) in targets(&read(&page)?) {
            if let Some(why) = fault(&page, &target)? {
                faults.push(format!("{name}, line {line}: {target} {why}"));
            }
        }
    }
    Ok(faults)
}

/// What is wrong with a link of a page.
fn fault(page: &Path, target: &str) -> Result<Option<&'static str>> {
    if is_outside(target) {
        return Ok(None);
    }
    let (file, anchor) = target.split_once('#').unwrap_or((target, ""));
    let beside = page.parent().unwrap_or(page);
    let file = if file.is_empty() { page.to_owned() } else { beside.join(file) };
    if !file.exists() {
        return Ok(Some("is no file"));
    }
    let has = |anchor: &str| -> Result<bool> {
        Ok(headings(&read(&file)?).iter().any(|heading| heading.anchor == anchor))
    };
    Ok((!anchor.is_empty() && !has(anchor)?).then_some("is no heading of that page"))
}

fn read(page: &Path) -> Result<String> {
    fs::read_to_string(page).with_context(|| format!("cannot read {}", page.display()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_link_needs_its_file_and_its_heading() {
        let top = std::env::temp_dir().join(format!("links-{}", std::process::id()));
        for folder in FOLDERS {
            fs::create_dir_all(top.join(folder)).unwrap();
        }
        fs::write(top.join("docs/other.md"), "# Other\n\n## What it does\n").unwrap();
        let check = |text: &str, expected: &[&str]| {
            fs::write(top.join("docs/page.md"), text).unwrap();
            assert_eq!(faults(&top).unwrap(), expected, "{text}");
        };
        check("[a](other.md), [b](other.md#what-it-does), [c](https://example.org/x)", &[]);
        check("# One\n\n[a](#one)", &[]);
        check("\n[a](none.md)", &["docs/page.md, line 2: none.md is no file"]);
        check("![a](none.webp)", &["docs/page.md, line 1: none.webp is no file"]);
        check(
            "[a](other.md#what)",
            &["docs/page.md, line 1: other.md#what is no heading of that page"],
        );
        check("[a](#one)", &["docs/page.md, line 1: #one is no heading of that page"]);
        fs::remove_dir_all(&top).unwrap();
    }
}
