//! `leeward merge`: two folders of one plot made one, in a third.

use std::collections::BTreeSet;
use std::fs;
use std::path::PathBuf;

use anyhow::bail;
use clap::Args;
use files::{Conflict, Merged};
use plot::Weight;

use crate::Answer;
use crate::folder::{Folder, counted, is_zip, tell};
use crate::out::{must_be_free, write_files};
use crate::progress::timed;
use crate::table::{Format, Table};

/// Two folders of one plot made one: lines united by their ids, nothing dropped.
#[derive(Args)]
pub(crate) struct Call {
    /// A plot folder, or a zip of one.
    ours: PathBuf,
    /// Another folder or zip of the same plot.
    theirs: PathBuf,
    /// The folder to write; it must not be there yet, or be empty. A zip where its name ends in
    /// .zip.
    #[arg(long)]
    out: PathBuf,
    /// How the table of conflicts is written.
    #[arg(long, value_enum, default_value_t = Format::Csv)]
    format: Format,
}

/// Merges and lists every cell in which two versions of a line differ. 1 where there is one, or
/// where the merged plot breaks a rule.
///
/// # Errors
/// A folder with faults, folders of two plots, a folder to write that holds something.
pub(crate) fn run(call: &Call) -> anyhow::Result<Answer> {
    if fs::read_dir(&call.out).is_ok_and(|mut entries| entries.next().is_some()) {
        bail!(
            "{}: found files, expected an empty folder: nothing is written over",
            call.out.display()
        );
    }
    if is_zip(&call.out) {
        must_be_free(&call.out)?;
    }
    let (ours, theirs) = (Folder::whole(&call.ours)?, Folder::whole(&call.theirs)?);
    let merged = match timed("merging", || files::merge(ours.files(), theirs.files())) {
        Ok(merged) => merged,
        Err(problems) => {
            tell(&call.theirs, &problems);
            bail!("these two folders cannot be made one, nothing done");
        }
    };
    write_files(&call.out, &merged.files)?;
    let table = conflicts(&merged);
    table.print(call.format)?;
    for (file, added) in &merged.added {
        match file.ends_with(".csv") {
            true => eprintln!("{file}: {} added", counted(*added, "line")),
            false => eprintln!("{file}: added"),
        }
    }
    let lines: BTreeSet<(&str, &str)> =
        merged.conflicts.iter().map(|one| (one.file.as_str(), one.id.as_str())).collect();
    if !lines.is_empty() {
        let are = if lines.len() == 1 { "is" } else { "are" };
        let said = counted(lines.len(), "line");
        eprintln!(
            "{said} {are} not the same in both; the other versions are in {}",
            files::CONFLICTS
        );
    }
    let (_, problems) = files::open(merged.files);
    tell(&call.out, &problems);
    let is_sound = !problems.iter().any(|problem| problem.weight == Weight::Fault);
    Ok(if lines.is_empty() && is_sound { Answer::Done } else { Answer::No })
}

/// One line for each cell that differs.
fn conflicts(merged: &Merged) -> Table {
    let mut table = Table::new(&["file", "id", "column", "kept", "other"]);
    for Conflict { file, id, kept, other } in &merged.conflicts {
        let columns: BTreeSet<&String> = kept.keys().chain(other.keys()).collect();
        for column in columns.into_iter().filter(|column| kept.get(*column) != other.get(*column)) {
            let (kept, other) = (kept.get(column).cloned(), other.get(column).cloned());
            table.push(vec![
                file.as_str().into(),
                id.as_str().into(),
                column.as_str().into(),
                kept.into(),
                other.into(),
            ]);
        }
    }
    table
}
