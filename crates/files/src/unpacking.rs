//! A ZIP archive unpacked in bounded steps, so that a page stays alive; it never gives more than it
//! was allowed, whatever it says of itself.

mod directory;

use std::ops::Range;

use flate2::{Decompress, FlushDecompress, Status};
use language::say;
use plot::{Problem, Weight};

use crate::{FileSet, caps};
use directory::Entry;

/// Bytes that are unpacked between two looks at how many there are.
const CHUNK: usize = 64 << 10;

/// Unpacks a ZIP archive; `name` is what problems call it.
///
/// # Errors
/// No archive; one that is encrypted or packed by another method than deflate; a path that leads
/// out of the folder, has a control character, or is longer than file systems take; the same path
/// twice; a file whose checksum or size is another than the archive says, or that shares bytes with
/// another; more files than [`ARCHIVE_FILES`](crate::ARCHIVE_FILES), more bytes than
/// [`ARCHIVE_BYTES`](crate::ARCHIVE_BYTES) in all, or a file of the plot folder that is too large.
/// What is said to be too much is refused before anything is unpacked; what is more than was said,
/// on the way.
pub fn unpack(name: &str, bytes: &[u8]) -> Result<FileSet, Problem> {
    unpack_at_most(name, bytes, caps::ARCHIVE_BYTES)
}

/// The same with at most so many bytes in all.
///
/// # Errors
/// As [`unpack`].
pub fn unpack_at_most(name: &str, bytes: &[u8], most_bytes: u64) -> Result<FileSet, Problem> {
    let mut unpacking = Unpacking::new(name, bytes, most_bytes)?;
    while unpacking.step(usize::MAX)? {}
    Ok(unpacking.finish())
}

/// Unpacks in bounded steps: [`step`](Self::step) until it says that nothing is left, then
/// [`finish`](Self::finish).
#[derive(Debug)]
pub struct Unpacking<B> {
    name: String,
    archive: B,
    /// What is left to do, the next one last.
    waiting: Vec<Entry>,
    begun: Option<Begun>,
    files: FileSet,
    done: u64,
    of: u64,
}

impl<B: AsRef<[u8]>> Unpacking<B> {
    /// Reads what the archive says of itself; at most `most_bytes` may come out of it.
    ///
    /// # Errors
    /// As [`unpack`], but for what only unpacking shows.
    pub fn new(name: &str, archive: B, most_bytes: u64) -> Result<Self, Problem> {
        let mut waiting = directory::entries(archive.as_ref(), most_bytes)
            .map_err(|refused| refused.problem(name))?;
        let of = waiting.iter().map(|entry| entry.bytes).sum();
        waiting.reverse();
        let files = FileSet::new();
        Ok(Self { name: name.to_owned(), archive, waiting, begun: None, files, done: 0, of })
    }

    /// Unpacks about so many bytes further; gives whether more is left.
    ///
    /// # Errors
    /// As [`unpack`]; then all of the archive is refused.
    pub fn step(&mut self, bytes: usize) -> Result<bool, Problem> {
        self.try_step(bytes).map_err(|refused| refused.problem(&self.name))
    }

    /// Bytes unpacked, and bytes in all.
    pub fn progress(&self) -> (u64, u64) {
        (self.done, self.of)
    }

    /// The files by their paths.
    pub fn finish(self) -> FileSet {
        self.files
    }

    fn try_step(&mut self, bytes: usize) -> Result<bool, Refused> {
        let until = self.done.saturating_add(bytes as u64);
        while self.done < until {
            let Some(mut begun) = self.begun.take().or_else(|| self.waiting.pop().map(Begun::new))
            else {
                return Ok(false);
            };
            let before = begun.content.len();
            let is_done = begun.go_on(self.archive.as_ref())?;
            self.done += (begun.content.len() - before) as u64;
            match is_done {
                true => _ = self.files.insert(begun.entry.path, begun.content),
                false => self.begun = Some(begun),
            }
        }
        Ok(self.begun.is_some() || !self.waiting.is_empty())
    }
}

/// A file that is being unpacked.
#[derive(Debug)]
struct Begun {
    entry: Entry,
    content: Vec<u8>,
    checksum: crc32fast::Hasher,
    /// None: it is stored as it is.
    inflater: Option<Decompress>,
}

impl Begun {
    fn new(entry: Entry) -> Self {
        let inflater = entry.is_deflated.then(|| Decompress::new(false));
        // The directory has made sure that so much is allowed, and may come out of it.
        let content = Vec::with_capacity(entry.bytes as usize);
        Self { entry, content, checksum: crc32fast::Hasher::new(), inflater }
    }

    /// Unpacks a chunk further; gives whether it was the last.
    fn go_on(&mut self, archive: &[u8]) -> Result<bool, Refused> {
        let Range { start, end } = self.entry.packed;
        let mut chunk = [0; CHUNK];
        let (written, is_last) = match &mut self.inflater {
            None => {
                let rest = &archive[start + self.content.len()..end];
                let written = rest.len().min(CHUNK);
                chunk[..written].copy_from_slice(&rest[..written]);
                (written, written == rest.len())
            }
            Some(inflater) => {
                let (read, before) = (inflater.total_in(), inflater.total_out());
                let rest = &archive[start + read as usize..end];
                let status = inflater
                    .decompress(rest, &mut chunk, FlushDecompress::None)
                    .map_err(|error| self.entry.refused(&error.to_string()))?;
                let written = (inflater.total_out() - before) as usize;
                let is_last = status == Status::StreamEnd;
                if written == 0 && inflater.total_in() == read && !is_last {
                    return Err(self.entry.refused(say!("cut short")));
                }
                (written, is_last)
            }
        };
        self.content.extend_from_slice(&chunk[..written]);
        self.checksum.update(&chunk[..written]);
        let bytes = self.content.len() as u64;
        if bytes > self.entry.bytes || is_last && bytes < self.entry.bytes {
            return Err(self.entry.refused(say!("another size than the archive says")));
        }
        if is_last && self.checksum.clone().finalize() != self.entry.crc {
            return Err(self.entry.refused(say!("another checksum than the archive says")));
        }
        Ok(is_last)
    }
}

/// Why an archive is refused.
struct Refused {
    found: String,
    expected: String,
}

impl Refused {
    fn new(found: impl Into<String>, expected: impl Into<String>) -> Self {
        Self { found: found.into(), expected: expected.into() }
    }

    fn problem(self, name: &str) -> Problem {
        let Self { found, expected } = self;
        let (weight, file) = (Weight::Fault, name.to_owned());
        Problem { weight, file, line: None, column: None, found, expected }
    }
}

impl From<rawzip::Error> for Refused {
    fn from(error: rawzip::Error) -> Self {
        Self::new(say!("no sound archive ({error})"), say!("a ZIP archive of a plot folder"))
    }
}

#[cfg(test)]
mod tests;
