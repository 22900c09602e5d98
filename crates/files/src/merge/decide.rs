//! What merges left open, and a person's decisions on it.

use std::collections::{BTreeMap, BTreeSet};

use super::rows::{self, Row, Rows};
use super::{CONFLICTS, Conflict, TABLES, conflicts_csv, head, open_conflicts};
use crate::FileSet;
use crate::head::{FILE, with_origin};

/// Which version of a line a person wants.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Choice {
    /// The one that the file holds.
    Kept,
    /// The one that `conflicts.csv` holds.
    Other,
}

/// What waits for a person in a folder: every version of a line that the files do not hold. Lines
/// that are no longer there, and versions that agree by now, are left out.
pub fn undecided(files: &FileSet) -> Vec<Conflict> {
    let open = open_conflicts(&mut Vec::new(), [files]);
    let mut conflicts = Vec::new();
    let mut wait = |file: &str, id: &str, kept: &Row, other: &Row| {
        let (file, id) = (file.to_owned(), id.to_owned());
        conflicts.push(Conflict { file, id, kept: kept.clone(), other: other.clone() });
    };
    if let Some(kept) = files.get(FILE).and_then(|bytes| head::origin(bytes)) {
        let open = open.iter().filter(|one| one.0 == FILE && one.1 == head::ORIGIN);
        for (file, id, other) in open.filter(|one| one.2 != kept) {
            wait(file, id, &kept, other);
        }
    }
    for (file, key) in TABLES {
        let (Some(key), Some(bytes)) = (key, files.get(file)) else { continue };
        let wanted: BTreeSet<&String> =
            open.iter().filter(|one| one.0 == file).map(|one| &one.1).collect();
        if wanted.is_empty() {
            continue;
        }
        let Ok(table) = Rows::read(file, bytes) else { continue };
        let held: BTreeMap<String, Row> = table
            .rows()
            .filter_map(|row| Some((row.get(key)?.clone(), row)))
            .filter(|(id, _)| wanted.contains(id))
            .collect();
        for (_, id, other) in open.iter().filter(|one| one.0 == file) {
            if let Some(kept) = held.get(id).filter(|kept| *kept != other) {
                wait(file, id, kept, other);
            }
        }
    }
    conflicts
}

/// The files once a person has decided: a version that is wanted stands in its file, one that is
/// not is gone, and what is not decided stays open.
pub fn decide(mut files: FileSet, decided: &[(Conflict, Choice)]) -> FileSet {
    let is_origin = |one: &Conflict| (&*one.file, &*one.id) == (FILE, head::ORIGIN);
    let origin = decided.iter().find(|(one, choice)| is_origin(one) && *choice == Choice::Other);
    let origin = origin.and_then(|(one, _)| head::text(&one.other));
    if let (Some(origin), Some(head)) = (origin, files.get_mut(FILE)) {
        *head = with_origin(head, &origin);
    }
    for (file, key) in TABLES {
        let chosen: BTreeMap<&str, &Row> = decided
            .iter()
            .filter(|(conflict, choice)| conflict.file == file && *choice == Choice::Other)
            .map(|(conflict, _)| (conflict.id.as_str(), &conflict.other))
            .collect();
        let (Some(key), Some(bytes)) = (key, files.get(file)) else { continue };
        if chosen.is_empty() {
            continue;
        }
        if let Ok(table) = Rows::read(file, bytes) {
            files.insert(file.to_owned(), rows::replaced(&table, key, &chosen));
        }
    }
    let is_decided = |open: &Conflict| {
        let same = |one: &Conflict| {
            (&one.file, &one.id, &one.other) == (&open.file, &open.id, &open.other)
        };
        decided.iter().any(|(one, _)| same(one))
    };
    let open: BTreeSet<_> = undecided(&files)
        .into_iter()
        .filter(|open| !is_decided(open))
        .map(|one| (one.file, one.id, one.other))
        .collect();
    if open.is_empty() {
        files.remove(CONFLICTS);
    } else {
        files.insert(CONFLICTS.to_owned(), conflicts_csv(&open));
    }
    files
}
