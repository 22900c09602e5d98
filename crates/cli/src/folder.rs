//! A plot folder on disk, or a zip of one: which of its files are read, and what is said of their
//! problems.

mod source;

use std::path::{Path, PathBuf};

use anyhow::Context;
use files::{Book, FileSet, Opening};
use plot::{Problem, Weight};

pub(crate) use source::is_zip;

use crate::progress::Progress;
use source::Source;

/// Lines read between two looks at the clock.
const LINES_AT_ONCE: usize = 10_000;

/// A plot folder as it lies on disk.
pub(crate) struct Folder {
    /// The book; none when the folder is unusable.
    pub(crate) book: Option<Book>,
    /// Every problem found.
    pub(crate) problems: Vec<Problem>,
    /// Where it lies: the path as it was given, and the folder one level down if that is it.
    place: PathBuf,
    /// All files below the folder with their size in bytes, in order of their names.
    pub(crate) listed: Vec<(String, u64)>,
}

impl Folder {
    /// Reads the folder or zip at `path`, or one level below it.
    ///
    /// # Errors
    /// Nothing is there, it is neither, or a file cannot be read from disk or unpacked.
    pub(crate) fn read(path: &Path) -> anyhow::Result<Self> {
        Self::read_with(path, files::is_read)
    }

    /// The same with those files alone that are wanted by their names within the plot folder.
    fn read_with(path: &Path, is_wanted: fn(&str) -> bool) -> anyhow::Result<Self> {
        let mut source = Source::of(path)?;
        let listed = source.list()?;
        let base = files::base(listed.iter().map(|(name, _)| name.as_str())).unwrap_or_default();
        let mut read = FileSet::new();
        let mut left_out = Vec::new();
        let mut room = files::ARCHIVE_BYTES;
        for (name, bytes) in &listed {
            let Some(own) = name.strip_prefix(&base).filter(|own| is_wanted(own)) else {
                continue;
            };
            if files::too_large(own, *bytes).is_some() {
                left_out.push((own, *bytes));
            } else {
                room = room.checked_sub(*bytes).with_context(|| {
                    let most = files::ARCHIVE_BYTES;
                    format!("{}: found more, expected at most {most} bytes in all", path.display())
                })?;
                read.insert(name.clone(), source.take(name, own)?);
            }
        }
        // A folder whose only plot.json is too large to read is still that folder.
        if left_out.iter().any(|&(own, _)| own == "plot.json") {
            read = read
                .into_iter()
                .map(|(name, bytes)| (name[base.len()..].to_owned(), bytes))
                .collect();
        }
        let mut opening = Opening::new(read);
        for (own, bytes) in left_out {
            opening.leave_out(own, bytes);
        }
        let mut progress = Progress::new("reading");
        loop {
            let (done, of) = opening.step(LINES_AT_ONCE);
            progress.at(done, of);
            if done >= of {
                break;
            }
        }
        let (book, problems) = opening.finish();
        Ok(Self { book, problems, place: path.join(&base), listed })
    }

    /// Reads a folder that must be free of faults, and says what was found.
    ///
    /// # Errors
    /// As [`read`](Self::read), and any fault; all problems are said then.
    pub(crate) fn sound(path: &Path) -> anyhow::Result<Book> {
        Self::read(path)?.into_sound(path)
    }

    /// The same with all other files that are not hidden, such as pictures.
    ///
    /// # Errors
    /// As [`sound`](Self::sound).
    pub(crate) fn whole(path: &Path) -> anyhow::Result<Book> {
        Self::read_with(path, |own| !files::is_hidden(own))?.into_sound(path)
    }

    fn into_sound(self, path: &Path) -> anyhow::Result<Book> {
        let (said, book) = self.checked(path);
        said.iter().for_each(|line| eprintln!("{line}"));
        book
    }

    /// What is to be said of its problems, and the book where it is free of faults.
    pub(crate) fn checked(self, path: &Path) -> (Vec<String>, anyhow::Result<Book>) {
        let said = said(&self.place, &self.problems).collect();
        let faults = self.count(Weight::Fault);
        let book = self.book.filter(|_| faults == 0);
        let fault = || format!("{}: {}, nothing done", path.display(), counted(faults, "fault"));
        (said, book.with_context(fault))
    }

    /// Says every problem of the folder.
    pub(crate) fn tell(&self) {
        tell(&self.place, &self.problems);
    }

    /// How many problems weigh so much.
    pub(crate) fn count(&self, weight: Weight) -> usize {
        self.problems.iter().filter(|problem| problem.weight == weight).count()
    }
}

/// Writes files into a folder, which is made if need be.
///
/// # Errors
/// A file or folder that cannot be written.
pub(crate) fn write(folder: &Path, files: &FileSet) -> anyhow::Result<()> {
    for (name, bytes) in files {
        let path = folder.join(name);
        let context = || path.display().to_string();
        std::fs::create_dir_all(path.parent().unwrap_or(folder)).with_context(context)?;
        std::fs::write(&path, bytes).with_context(context)?;
    }
    Ok(())
}

/// Says problems of the folder at `place`, one a line: `PATH, line 3, column row: found …,
/// expected …`.
pub(crate) fn tell(place: &Path, problems: &[Problem]) {
    said(place, problems).for_each(|line| eprintln!("{line}"));
}

fn said(place: &Path, problems: &[Problem]) -> impl Iterator<Item = String> {
    problems.iter().map(|problem| {
        let notice = if problem.weight == Weight::Notice { "notice: " } else { "" };
        let file = place.join(&problem.file).display().to_string();
        let problem = Problem { file, ..problem.clone() };
        format!("{notice}{problem}")
    })
}

/// The word for it in tables.
pub(crate) fn weight(weight: Weight) -> &'static str {
    match weight {
        Weight::Fault => "fault",
        Weight::Notice => "notice",
    }
}

/// `1 fault`, `2 faults`.
pub(crate) fn counted(how_many: usize, thing: &str) -> String {
    if how_many == 1 { format!("1 {thing}") } else { format!("{how_many} {thing}s") }
}

#[cfg(test)]
mod tests {
    use super::counted;

    #[test]
    fn one_is_told_without_an_s() {
        assert_eq!(
            (counted(1, "round"), counted(0, "round")),
            ("1 round".into(), "0 rounds".into())
        );
    }
}
