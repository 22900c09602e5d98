//! Files and folders that a call writes whole or not at all: under another name first, then moved
//! into place.

use std::fs;
use std::path::{Path, PathBuf};

use anyhow::{Context, bail};
use files::FileSet;

use crate::folder;

/// Writes a file under a name that is free.
///
/// # Errors
/// It cannot be written; nothing is left behind then.
pub(crate) fn write_file(out: &Path, bytes: &[u8]) -> anyhow::Result<()> {
    let part = beside(out)?;
    let folder = part.parent().unwrap_or(Path::new(""));
    let begun = fs::create_dir_all(folder)
        .and_then(|()| fs::write(&part, bytes))
        .with_context(|| out.display().to_string());
    // What was begun is of no use to anyone.
    begun.and_then(|()| moved(&part, out)).inspect_err(|_| _ = fs::remove_file(&part))
}

/// Writes a folder under a name that is free, or that of an empty folder.
///
/// # Errors
/// As [`write_file`].
pub(crate) fn write_folder(out: &Path, files: &FileSet) -> anyhow::Result<()> {
    let part = beside(out)?;
    let begun = folder::write(&part, files);
    begun.and_then(|()| moved(&part, out)).inspect_err(|_| _ = fs::remove_dir_all(&part))
}

/// Writes files as a folder; as one zip with a folder in it where the name ends in `.zip`.
///
/// # Errors
/// As [`write_file`].
pub(crate) fn write_files(out: &Path, files: &FileSet) -> anyhow::Result<()> {
    if !folder::is_zip(out) {
        return write_folder(out, files);
    }
    let name = out.file_stem().unwrap_or_default().to_string_lossy();
    write_file(out, &files::pack(files, &files::plain_name(&name)))
}

/// Whether a name is free.
///
/// # Errors
/// Something is there, also a link that leads nowhere.
pub(crate) fn must_be_free(out: &Path) -> anyhow::Result<()> {
    let Ok(there) = fs::symlink_metadata(out) else { return Ok(()) };
    let found = if there.is_dir() { "a folder" } else { "a file" };
    bail!("{}: found {found}, expected none: nothing is written over", out.display());
}

/// A name beside the one that is meant.
fn beside(out: &Path) -> anyhow::Result<PathBuf> {
    let name = out.file_name().with_context(|| format!("{}: expected a name", out.display()))?;
    let mut name = name.to_owned();
    name.push(format!(".part-{}", std::process::id()));
    Ok(out.with_file_name(name))
}

fn moved(part: &Path, out: &Path) -> anyhow::Result<()> {
    fs::rename(part, out).with_context(|| out.display().to_string())
}
