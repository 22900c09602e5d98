//! A plot folder as one ZIP archive and back; what comes out of an archive is never trusted.

use std::io::{Read, Write};

use flate2::bufread::DeflateDecoder;
use flate2::write::DeflateEncoder;
use plot::{Problem, Weight};
use rawzip::path::EntryPath;
use rawzip::{CompressionMethod, Error, ZipArchive, ZipArchiveWriter};

use crate::{FileSet, caps};

/// Packs files into a ZIP archive, below a folder of the name `folder` (empty: at the top). The
/// same files give the same bytes: no clock is read.
pub fn pack(files: &FileSet, folder: &str) -> Vec<u8> {
    try_pack(files, folder).expect("memory takes every archive")
}

fn try_pack(files: &FileSet, folder: &str) -> Result<Vec<u8>, Error> {
    let mut bytes = Vec::new();
    let mut archive = ZipArchiveWriter::new(&mut bytes);
    for (name, content) in files {
        let path = if folder.is_empty() { name.clone() } else { format!("{folder}/{name}") };
        let file = archive.new_file(EntryPath::verbatim(path.into_bytes()));
        let (mut file, config) = file.compression_method(CompressionMethod::DEFLATE).start()?;
        let mut data = config.wrap(DeflateEncoder::new(&mut file, flate2::Compression::default()));
        data.write_all(content)?;
        let (encoder, descriptor) = data.finish()?;
        encoder.finish()?;
        file.finish(descriptor)?;
    }
    archive.finish()?;
    Ok(bytes)
}

/// Unpacks a ZIP archive; `name` is what problems call it.
///
/// # Errors
/// No archive; one that is encrypted or packed by another method than deflate; a path that leads
/// out of the folder; the same path twice; a file whose checksum is wrong; more files than
/// [`ARCHIVE_FILES`](crate::ARCHIVE_FILES), more bytes than
/// [`ARCHIVE_BYTES`](crate::ARCHIVE_BYTES) in all, or a file of the plot folder that is too large,
/// all counted while inflating, whatever the archive says of itself.
pub fn unpack(name: &str, bytes: &[u8]) -> Result<FileSet, Problem> {
    unpack_at_most(name, bytes, caps::ARCHIVE_BYTES)
}

/// The same with at most so many bytes in all.
///
/// # Errors
/// As [`unpack`].
pub fn unpack_at_most(name: &str, bytes: &[u8], most_bytes: u64) -> Result<FileSet, Problem> {
    try_unpack(bytes, most_bytes).map_err(|Refused { found, expected }| Problem {
        weight: Weight::Fault,
        file: name.to_owned(),
        line: None,
        column: None,
        found,
        expected,
    })
}

struct Refused {
    found: String,
    expected: String,
}

impl Refused {
    fn new(found: impl Into<String>, expected: impl Into<String>) -> Self {
        Self { found: found.into(), expected: expected.into() }
    }
}

impl From<Error> for Refused {
    fn from(error: Error) -> Self {
        Self::new(format!("no sound archive ({error})"), "a ZIP archive of a plot folder")
    }
}

fn try_unpack(bytes: &[u8], most_bytes: u64) -> Result<FileSet, Refused> {
    let archive = ZipArchive::from_slice(bytes)?;
    let mut files = FileSet::new();
    let mut room = most_bytes;
    let mut entries = archive.entries();
    while let Some(entry) = entries.next_entry()? {
        let path = String::from_utf8_lossy(entry.file_path().as_bytes()).into_owned();
        if !stays_inside(&path) {
            let expected = "paths that stay within the folder, parted by /";
            return Err(Refused::new(format!("the path {path:?}"), expected));
        }
        if entry.is_dir() {
            continue;
        }
        if files.len() == caps::ARCHIVE_FILES {
            let expected = format!("at most {} files", caps::ARCHIVE_FILES);
            return Err(Refused::new("more files", expected));
        }
        let own = path.split_once('/').map_or(path.as_str(), |(_, below)| below);
        let allowed = caps::bytes_allowed(own).unwrap_or(room).min(room);
        let packed = archive.get_entry(entry.wayfinder())?;
        let encrypted = entry.flags().is_encrypted();
        let data: Box<dyn Read + '_> = match entry.compression_method() {
            CompressionMethod::STORE if !encrypted => Box::new(packed.data()),
            CompressionMethod::DEFLATE if !encrypted => {
                Box::new(DeflateDecoder::new(packed.data()))
            }
            _ => {
                let found = format!("{path:?}, encrypted or packed by a rare method");
                return Err(Refused::new(found, "files without a password, deflated or stored"));
            }
        };
        let mut content = Vec::new();
        // One byte more than allowed is enough to know.
        packed
            .verifying_reader(data)
            .take(allowed + 1)
            .read_to_end(&mut content)
            .map_err(|error| Refused::new(format!("{path:?}: {error}"), "a file that unpacks"))?;
        if content.len() as u64 > allowed {
            let found = format!("{path:?}, which unpacks to more");
            return Err(Refused::new(found, format!("at most {allowed} bytes in it")));
        }
        room -= content.len() as u64;
        if files.contains_key(&path) {
            return Err(Refused::new(format!("{path:?} twice"), "each path once"));
        }
        files.insert(path, content);
    }
    Ok(files)
}

/// Whether a path names something below the folder it is unpacked into, on every system.
fn stays_inside(path: &str) -> bool {
    let named = path.strip_suffix('/').unwrap_or(path);
    let plain = |part: &str| !part.is_empty() && part != "." && part != "..";
    !path.contains(['\\', ':', '\0']) && named.split('/').all(plain)
}

#[cfg(test)]
mod tests;
