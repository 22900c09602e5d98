//! Which plots are meant by the folders of a call, each by a name that no other has.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use anyhow::{Context, bail};
use serde_json::Value;

use super::hive;
use crate::folder::Folder;

/// A plot that is to be judged.
pub(super) struct Found {
    /// Its folder.
    pub(super) path: PathBuf,
    /// What plot.json calls it; none where that cannot be read, which is told when it is judged.
    pub(super) name: Option<String>,
}

/// The plots in the order of the call; those of a folder that holds plots by the names of their
/// folders.
///
/// # Errors
/// A folder that cannot be listed; plots that would go into one partition, all of them told.
pub(super) fn plots(folders: &[PathBuf]) -> anyhow::Result<Vec<Found>> {
    let mut plots = Vec::new();
    for folder in folders {
        for path in within(folder)? {
            let name = name(&path);
            plots.push(Found { path, name });
        }
    }
    let mut taken: BTreeMap<String, &Path> = BTreeMap::new();
    let mut doubles = Vec::new();
    for Found { path, name } in &plots {
        let Some(name) = name else { continue };
        // Some file systems take names apart from case for the same.
        let folder = hive::partition("plot", name).to_lowercase();
        match taken.get(&folder) {
            Some(other) => doubles.push(format!(
                "{}: found \"{name}\" as its name, as {} has, expected a name of its own in \
                 plot.json",
                path.display(),
                other.display()
            )),
            None => _ = taken.insert(folder, path),
        }
    }
    if !doubles.is_empty() {
        bail!("{}\nnothing done", doubles.join("\n"));
    }
    Ok(plots)
}

/// The folder itself where it is a plot or holds none, else the plots right below it.
fn within(folder: &Path) -> anyhow::Result<Vec<PathBuf>> {
    if !folder.is_dir() || is_plot(folder) {
        return Ok(vec![folder.to_owned()]);
    }
    let context = || folder.display().to_string();
    let mut plots = Vec::new();
    for entry in fs::read_dir(folder).with_context(context)? {
        let entry = entry.with_context(context)?;
        let is_hidden = entry.file_name().to_string_lossy().starts_with('.');
        if !is_hidden && is_plot(&entry.path()) {
            plots.push(entry.path());
        }
    }
    plots.sort();
    Ok(if plots.is_empty() { vec![folder.to_owned()] } else { plots })
}

fn is_plot(folder: &Path) -> bool {
    ["plot.json", "trees.csv"].iter().any(|name| folder.join(name).is_file())
}

/// What plot.json calls the plot, without reading the rest where it need not be read.
fn name(path: &Path) -> Option<String> {
    let quick = || {
        let bytes = fs::read(path.join("plot.json")).ok()?;
        let head: Value = serde_json::from_slice(&bytes).ok()?;
        Some(head.get("name")?.as_str()?.to_owned())
    };
    quick().or_else(|| Some(Folder::read(path).ok()?.book?.plot().head().name.clone()))
}
