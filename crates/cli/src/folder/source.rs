//! Where the files of a plot folder come from: a folder on disk, or a zip of one.

use std::fs::{self, File};
use std::io::Read;
use std::path::{Path, PathBuf};

use anyhow::{Context, bail};
use files::FileSet;

/// The files of a plot, read from disk as they are wanted, or out of a zip at once.
pub(super) enum Source {
    Folder(PathBuf),
    Zip(FileSet),
}

impl Source {
    /// # Errors
    /// Nothing is there, a file that is no zip, or a zip that cannot be unpacked or means harm.
    pub(super) fn of(path: &Path) -> anyhow::Result<Self> {
        if path.is_dir() {
            return Ok(Self::Folder(path.to_owned()));
        }
        if is_zip(path) && path.is_file() {
            let bytes = at_most(path, files::ARCHIVE_BYTES)?;
            return match files::unpack(&path.display().to_string(), &bytes) {
                Ok(files) => Ok(Self::Zip(files)),
                Err(problem) => bail!("{problem}"),
            };
        }
        let found = if path.exists() { "a file" } else { "nothing" };
        bail!("{}: found {found}, expected a plot folder or a zip of one", path.display());
    }

    /// All files with their size in bytes, in order of their names.
    ///
    /// # Errors
    /// A folder that cannot be read.
    pub(super) fn list(&self) -> anyhow::Result<Vec<(String, u64)>> {
        let mut listed = Vec::new();
        match self {
            Self::Folder(path) => {
                let top = fs::canonicalize(path).with_context(|| path.display().to_string())?;
                list(&top, path, "", 0, &mut listed)?;
            }
            Self::Zip(files) => {
                listed.extend(files.iter().map(|(name, bytes)| (name.clone(), bytes.len() as u64)));
            }
        }
        listed.sort();
        Ok(listed)
    }

    /// A file that was listed, once; `own` is its name within the plot folder. Never more is read
    /// than is allowed, whatever its size was said to be.
    ///
    /// # Errors
    /// It cannot be read.
    pub(super) fn take(&mut self, name: &str, own: &str) -> anyhow::Result<Vec<u8>> {
        match self {
            Self::Folder(path) => {
                at_most(&path.join(name), files::bytes_allowed(own).unwrap_or(u64::MAX - 1))
            }
            Self::Zip(files) => files.remove(name).with_context(|| format!("{name}: gone")),
        }
    }
}

/// Whether a path is meant as a zip, by its name.
pub(crate) fn is_zip(path: &Path) -> bool {
    path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("zip"))
}

/// Lists the files below `path` with their sizes; links are followed as long as they stay within
/// `top`, folders only three deep.
fn list(
    top: &Path,
    path: &Path,
    prefix: &str,
    depth: u32,
    listed: &mut Vec<(String, u64)>,
) -> anyhow::Result<()> {
    let read_dir = fs::read_dir(path).with_context(|| path.display().to_string())?;
    for entry in read_dir {
        let entry = entry.with_context(|| path.display().to_string())?;
        let name = format!("{prefix}{}", entry.file_name().to_string_lossy());
        let path: PathBuf = entry.path();
        // A link that leads nowhere is no file of the plot.
        let Ok(metadata) = fs::metadata(&path) else { continue };
        // Nor is one that leads out of it: a plot from elsewhere could name any file of this disk.
        if entry.file_type().is_ok_and(|kind| kind.is_symlink())
            && !fs::canonicalize(&path).is_ok_and(|target| target.starts_with(top))
        {
            eprintln!("notice: {}: a link out of the plot folder, not followed", path.display());
            continue;
        }
        if metadata.is_file() {
            listed.push((name, metadata.len()));
        } else if metadata.is_dir() && depth < 3 {
            list(top, &path, &format!("{name}/"), depth + 1, listed)?;
        }
    }
    Ok(())
}

/// Reads a file up to so many bytes and one more, which tells that it has more.
fn at_most(path: &Path, allowed: u64) -> anyhow::Result<Vec<u8>> {
    let context = || path.display().to_string();
    let mut bytes = Vec::new();
    let file = File::open(path).with_context(context)?;
    file.take(allowed + 1).read_to_end(&mut bytes).with_context(context)?;
    Ok(bytes)
}
