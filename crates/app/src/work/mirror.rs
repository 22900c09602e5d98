//! The plot folder on this machine, kept in step: what changed outside is united with ours, then
//! each file that differs is written whole under another name and moved into place. What a person
//! has decided is no longer among its conflicts.

mod handle;

use language::say;
use std::collections::BTreeMap;

use files::{Book, CONFLICTS, FileSet};
use web_sys::FileSystemDirectoryHandle;

pub use handle::{may_write, remember, remembered};

use super::folders;
use super::pick::{self, NotPicked};
use crate::state::App;

/// How often it begins anew when something else writes at the same time.
const TRIES: usize = 3;

/// A folder, and its files as they were when they were last looked at.
#[derive(Clone, Debug)]
pub struct Mirror {
    folder: FileSystemDirectoryHandle,
    seen: BTreeMap<String, Seen>,
}

/// A file as it was seen.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Seen {
    stamp: handle::Stamp,
    sum: u32,
}

/// Why a folder is not in step.
#[derive(Debug)]
pub enum NotInStep {
    /// Something changed meanwhile: once more, a little later.
    Again,
    /// In words.
    Because(String),
}

impl Mirror {
    /// A folder that was not looked at yet.
    pub fn new(folder: FileSystemDirectoryHandle) -> Self {
        Self { folder, seen: BTreeMap::new() }
    }

    /// The folder.
    pub fn folder(&self) -> FileSystemDirectoryHandle {
        self.folder.clone()
    }

    /// Puts ours in place of what is now as it was last written or seen: nothing outside changed it,
    /// so nothing of it is to be united. What we have no longer, as conflicts that were decided, does
    /// not come back.
    fn put_ours(&self, now: &BTreeMap<String, Seen>, ours: &FileSet, theirs: &mut FileSet) {
        let sum = |of: &BTreeMap<String, Seen>, name: &str| of.get(name).map(|seen| seen.sum);
        let is_seen =
            |name: &str| sum(now, name).is_some_and(|it| sum(&self.seen, name) == Some(it));
        theirs.retain(|name, bytes| match ours.get(name) {
            Some(own) => {
                if is_seen(name) {
                    bytes.clone_from(own);
                }
                true
            }
            None => !is_seen(name),
        });
    }

    /// Whether the files are as they were seen.
    fn is_as_seen(&self, stamps: &BTreeMap<String, handle::Stamp>) -> bool {
        self.seen.len() == stamps.len()
            && self.seen.iter().all(|(name, seen)| stamps.get(name) == Some(&seen.stamp))
    }
}

/// Brings folder and plot in step.
///
/// # Errors
/// See [`NotInStep`]; nothing that is there is written over then.
pub async fn step(app: App) -> Result<(), NotInStep> {
    for _ in 0..TRIES {
        let Some(folder) = app.with_mirror(|mirror| mirror.folder()) else { return Ok(()) };
        let stamps = handle::stamps(&folder).await.map_err(because)?;
        let is_as_seen = app.with_mirror(|mirror| mirror.is_as_seen(&stamps)).unwrap_or(true);
        if !is_as_seen {
            take_in(app, &folder, &stamps).await?;
        }
        let ours = app.book_now(Book::to_files).unwrap_or_default();
        if write_all(app, &folder, &ours).await? {
            return Ok(());
        }
    }
    Err(NotInStep::Again)
}

/// Unites what the folder holds with the open plot.
async fn take_in(
    app: App,
    folder: &FileSystemDirectoryHandle,
    stamps: &BTreeMap<String, handle::Stamp>,
) -> Result<(), NotInStep> {
    let picked = pick::of_folder(folder).await.map_err(not_picked)?;
    if let Some((name, _)) = picked.left_out.first() {
        return Err(NotInStep::Because(say!("{name} in it is too large to be read")));
    }
    let mut theirs = picked.files;
    let seen = theirs.iter().filter_map(|(name, bytes)| {
        let stamp = *stamps.get(name)?;
        Some((name.clone(), Seen { stamp, sum: crc32fast::hash(bytes) }))
    });
    let seen: BTreeMap<String, Seen> = seen.collect();
    if !theirs.is_empty() {
        if !theirs.contains_key("plot.json") {
            return Err(NotInStep::Because(
                say!(
                    "it holds other files, but no plot.json: choose the folder of this plot, or an \
                     empty one"
                )
                .to_owned(),
            ));
        }
        let version = app.version_now();
        let ours = app.book_now(Book::to_files).unwrap_or_default();
        app.with_mirror(|mirror| mirror.put_ours(&seen, &ours, &mut theirs));
        let merged = files::merge(&ours, &theirs).map_err(|problems| {
            let said: Vec<String> = problems.iter().take(3).map(ToString::to_string).collect();
            NotInStep::Because(say!(
                "it cannot be united with this plot. {why}",
                why = said.join("; ")
            ))
        })?;
        if merged.files != ours && !app.take_merged(merged.files, version).await {
            return Err(NotInStep::Again);
        }
    }
    app.with_mirror(|mirror| mirror.seen = seen);
    Ok(())
}

/// Writes what differs, and removes what a person has decided. False: a file was changed by someone
/// else just now.
async fn write_all(
    app: App,
    folder: &FileSystemDirectoryHandle,
    ours: &FileSet,
) -> Result<bool, NotInStep> {
    for (name, bytes) in ours {
        let sum = crc32fast::hash(bytes);
        let seen = app.with_mirror(|mirror| mirror.seen.get(name).copied()).flatten();
        if seen.is_some_and(|seen| seen.sum == sum) {
            continue;
        }
        let is_untouched = async |file: &FileSystemDirectoryHandle, name: &str| {
            handle::stamp_of(file, name).await == seen.map(|seen| seen.stamp)
        };
        let (within, file) = folders::within(folder, name).await.map_err(because)?;
        let copy = handle::write_copy(&within, file, bytes).await.map_err(because)?;
        if !is_untouched(&within, file).await {
            handle::remove(&within, &copy).await;
            return Ok(false);
        }
        handle::move_into_place(&within, &copy, file, bytes).await.map_err(because)?;
        if let Some(stamp) = handle::stamp_of(&within, file).await {
            app.with_mirror(|mirror| mirror.seen.insert(name.clone(), Seen { stamp, sum }));
        }
    }
    remove_decided(app, folder, ours).await
}

/// Removes conflicts that were decided: in a folder looked at anew they would come back. False: they
/// were changed by someone else just now.
async fn remove_decided(
    app: App,
    folder: &FileSystemDirectoryHandle,
    ours: &FileSet,
) -> Result<bool, NotInStep> {
    let seen = app.with_mirror(|mirror| mirror.seen.get(CONFLICTS).copied()).flatten();
    let Some(seen) = seen.filter(|_| !ours.contains_key(CONFLICTS)) else { return Ok(true) };
    let stamp = handle::stamp_of(folder, CONFLICTS).await;
    if stamp.is_some_and(|stamp| stamp != seen.stamp) {
        return Ok(false);
    }
    handle::remove(folder, CONFLICTS).await;
    if handle::stamp_of(folder, CONFLICTS).await.is_none() {
        app.with_mirror(|mirror| mirror.seen.remove(CONFLICTS));
    }
    Ok(true)
}

fn because(error: wasm_bindgen::JsValue) -> NotInStep {
    not_picked(NotPicked::from(error))
}

fn not_picked(why: NotPicked) -> NotInStep {
    match why {
        NotPicked::Nothing => NotInStep::Because(say!("the browser broke off").to_owned()),
        NotPicked::Unusable(problem) => NotInStep::Because(problem.found),
    }
}
