//! Two folders of one plot made one: lines united by their ids, nothing dropped.
//!
//! Which of two versions of a line the merged file holds does not depend on whose folder is named
//! first, so that merging is commutative, associative and idempotent, and any number of phones
//! come to the same plot whatever the order in which they meet. The other versions stay in
//! `conflicts.csv` until a person has decided.

mod decide;
mod head;
mod news;
mod rows;
mod united;

use std::collections::{BTreeMap, BTreeSet};

use language::say;
use plot::{Problem, Weight};

use crate::head::FILE;
use crate::{FileSet, decisions, events, scores, trees, weather};
pub use decide::{Choice, decide, undecided};
pub use news::{NewScores, News, news};
use rows::{Row, Rows};

/// What two folders make.
#[derive(Clone, Debug, PartialEq)]
pub struct Merged {
    /// The files of the merged folder. A file of ours to which nothing is added is as it was, byte
    /// for byte; one to which lines are added keeps its own lines so.
    pub files: FileSet,
    /// Every id that was found with different content, here or in a merge before.
    pub conflicts: Vec<Conflict>,
    /// By file: lines, or whole files, that ours did not have.
    pub added: BTreeMap<String, usize>,
}

/// One id with different content.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Conflict {
    /// The file: `trees.csv`, `scores.csv` …
    pub file: String,
    /// The id of the line; `origin`, where `plot.json` says in two ways where the plot lies.
    pub id: String,
    /// What the merged file holds: cells by column, empty ones left out.
    pub kept: BTreeMap<String, String>,
    /// What `conflicts.csv` holds of it.
    pub other: BTreeMap<String, String>,
}

/// The file that holds what a person has still to decide.
pub const CONFLICTS: &str = "conflicts.csv";

/// The tables that unite line by line, each with the column that tells its lines apart; without
/// one a line is the same only when all of it is.
const TABLES: [(&str, Option<&str>); 5] = [
    (trees::FILE, Some("tree_id")),
    (scores::FILE, Some("score_id")),
    (decisions::FILE, Some("decision_id")),
    (weather::FILE, Some("time")),
    (events::FILE, None),
];

/// Unites two folders of one plot, the files named from within the folder.
///
/// Of several versions of a line, or of the origin, the merged file holds the one with the most
/// cells filled, and among equals the greatest in the order of its columns and cells.
///
/// # Errors
/// The folders are of two plots (name, layout or the start of seasons differ), a trait or
/// a cross is described in two ways, or a file is no table that can be united.
pub fn merge(ours: &FileSet, theirs: &FileSet) -> Result<Merged, Vec<Problem>> {
    let mut merged =
        Merged { files: FileSet::new(), conflicts: Vec::new(), added: BTreeMap::new() };
    let mut problems = Vec::new();
    let open = open_conflicts(&mut problems, [ours, theirs]);
    let mut others: BTreeSet<(String, String, Row)> = BTreeSet::new();
    let mut differ = |merged: &mut Merged, file: &str, conflicts: Vec<united::Differs>| {
        for (id, kept, other) in conflicts {
            others.insert((file.to_owned(), id.clone(), other.clone()));
            merged.conflicts.push(Conflict { file: file.to_owned(), id, kept, other });
        }
    };
    let of_origin = open_of(&open, FILE).remove(head::ORIGIN).unwrap_or_default();
    match head::merged(ours, theirs, &of_origin) {
        Ok((head, conflicts)) => {
            merged.files.insert(FILE.to_owned(), head);
            differ(&mut merged, FILE, conflicts);
        }
        Err(differ) => problems.extend(differ),
    }
    for (file, key) in TABLES {
        let read = |files: &FileSet, problems: &mut Vec<Problem>| {
            files
                .get(file)
                .map(|bytes| Rows::read(file, bytes))
                .and_then(|rows| rows.map_err(|problem| problems.push(problem)).ok())
        };
        let (own, their) = (read(ours, &mut problems), read(theirs, &mut problems));
        let (base, more) = match (own, their) {
            (Some(own), their) => (own, their),
            (None, Some(their)) => (their.empty(), Some(their)),
            (None, None) => continue,
        };
        let united = united::united(&base, more.as_ref(), key, &open_of(&open, file));
        if united.added > 0 {
            merged.added.insert(file.to_owned(), united.added);
        }
        differ(&mut merged, file, united.conflicts);
        merged.files.insert(file.to_owned(), united.bytes);
    }
    unite_others(ours, theirs, &mut merged);
    if !problems.is_empty() {
        return Err(problems);
    }
    if !others.is_empty() {
        merged.files.insert(CONFLICTS.to_owned(), conflicts_csv(&others));
    }
    Ok(merged)
}

/// What earlier merges left to be decided, by file and id.
type Open = BTreeSet<(String, String, Row)>;

fn open_conflicts<'a>(
    problems: &mut Vec<Problem>,
    folders: impl IntoIterator<Item = &'a FileSet>,
) -> Open {
    let mut open = Open::new();
    for bytes in folders.into_iter().filter_map(|files| files.get(CONFLICTS)) {
        match Rows::read(CONFLICTS, bytes) {
            Ok(rows) => {
                for (nth, row) in rows.rows().enumerate() {
                    let cell = |column: &str| row.get(column).cloned().unwrap_or_default();
                    let file = cell("file");
                    let line = serde_json::from_str::<Row>(&cell("line")).ok();
                    let (line, expected) = match &*file {
                        FILE => (
                            line.filter(|line| head::text(line).is_some()),
                            say!("a line as a JSON object of an origin's fields, each as JSON")
                                .to_owned(),
                        ),
                        _ => (line, say!("a line as a JSON object of column and cell").to_owned()),
                    };
                    match line {
                        Some(line) => _ = open.insert((file, cell("id"), line)),
                        None => problems.push(Problem {
                            weight: Weight::Fault,
                            file: CONFLICTS.to_owned(),
                            line: Some(nth as u64 + 2),
                            column: Some("line".to_owned()),
                            found: format!("\"{}\"", cell("line")),
                            expected,
                        }),
                    }
                }
            }
            Err(problem) => problems.push(problem),
        }
    }
    open
}

fn open_of(open: &Open, file: &str) -> BTreeMap<String, BTreeSet<Row>> {
    let mut by_id: BTreeMap<String, BTreeSet<Row>> = BTreeMap::new();
    for (_, id, row) in open.iter().filter(|one| one.0 == file) {
        by_id.entry(id.clone()).or_default().insert(row.clone());
    }
    by_id
}

fn conflicts_csv(others: &Open) -> Vec<u8> {
    let mut lines = crate::written::Lines::new(false);
    lines.push(["file", "id", "line"].into_iter());
    for (file, id, row) in others {
        let line = serde_json::to_string(row).expect("words make JSON");
        lines.push([file.as_str(), id.as_str(), line.as_str()].into_iter());
    }
    lines.into_bytes()
}

/// Pictures and whatever else lies in the folders: one of each name, and of two that differ the
/// other under a name that tells its content.
fn unite_others(ours: &FileSet, theirs: &FileSet, merged: &mut Merged) {
    let is_other = |name: &str| {
        name != FILE && name != CONFLICTS && TABLES.iter().all(|(table, _)| *table != name)
    };
    let mut all: BTreeMap<&str, BTreeSet<&[u8]>> = BTreeMap::new();
    for (name, bytes) in ours.iter().chain(theirs).filter(|(name, _)| is_other(name)) {
        all.entry(name).or_default().insert(bytes);
    }
    for (name, contents) in all {
        let mut contents = contents.into_iter().rev();
        let kept = contents.next().unwrap_or_default();
        merged.files.insert(name.to_owned(), kept.to_vec());
        for other in contents {
            merged.files.insert(beside(name, other), other.to_vec());
        }
    }
    let new = merged.files.keys().filter(|name| is_other(name) && !ours.contains_key(*name));
    for name in new.cloned().collect::<Vec<_>>() {
        merged.added.insert(name, 1);
    }
}

/// `photos/a-1f2e3d4c.jpg` for `photos/a.jpg`: by the CRC-32 of the content.
fn beside(name: &str, bytes: &[u8]) -> String {
    let sum = crc32fast::hash(bytes);
    match name.rsplit_once('.') {
        Some((stem, ending)) if !ending.contains('/') => format!("{stem}-{sum:08x}.{ending}"),
        _ => format!("{name}-{sum:08x}"),
    }
}

#[cfg(test)]
mod tests;
