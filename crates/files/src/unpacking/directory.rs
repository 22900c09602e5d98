//! What a ZIP archive says of itself, held to its limits before anything is unpacked.

use std::collections::HashSet;
use std::ops::Range;

use language::say;
use rawzip::{CompressionMethod, ZipArchive};

use super::Refused;
use crate::caps;

/// Deflate makes at most so many bytes of one: a match of 258 bytes takes two bits at least
/// (RFC 1951, 3.2.5).
const MOST_OF_ONE: u64 = 1032;

/// A file of the archive.
#[derive(Debug)]
pub(super) struct Entry {
    pub(super) path: String,
    /// Where its bytes lie in the archive.
    pub(super) packed: Range<usize>,
    /// Whether they are deflated; else stored as they are.
    pub(super) is_deflated: bool,
    pub(super) crc: u32,
    /// How many bytes it unpacks to.
    pub(super) bytes: u64,
}

impl Entry {
    pub(super) fn refused(&self, why: &str) -> Refused {
        Refused::new(format!("{:?}: {why}", self.path), say!("a file that unpacks"))
    }
}

/// The files of an archive in its own order; folders are left out.
pub(super) fn entries(archive: &[u8], most_bytes: u64) -> Result<Vec<Entry>, Refused> {
    let zip = ZipArchive::from_slice(archive)?;
    let (mut files, mut paths, mut lie) = (Vec::new(), HashSet::new(), Vec::new());
    let mut room = most_bytes;
    let mut entries = zip.entries();
    while let Some(entry) = entries.next_entry()? {
        let path = String::from_utf8_lossy(entry.file_path().as_bytes()).into_owned();
        if let Some(expected) = amiss(&path) {
            return Err(Refused::new(say!("the path {path}", path = shortened(&path)), expected));
        }
        if entry.is_dir() {
            continue;
        }
        if files.len() == caps::ARCHIVE_FILES {
            let expected = say!("at most {most} files", most = caps::ARCHIVE_FILES);
            return Err(Refused::new(say!("more files"), expected));
        }
        if !paths.insert(path.clone()) {
            return Err(Refused::new(say!("{path:?} twice"), say!("each path once")));
        }
        let method = entry.compression_method();
        let is_deflated = method == CompressionMethod::DEFLATE;
        if entry.flags().is_encrypted() || !is_deflated && method != CompressionMethod::STORE {
            let found = say!("{path:?}, encrypted or packed by a rare method");
            return Err(Refused::new(found, say!("files without a password, deflated or stored")));
        }
        let bytes = entry.uncompressed_size_hint();
        let own = path.split_once('/').map_or(path.as_str(), |(_, below)| below);
        if let Some(allowed) = caps::bytes_allowed(own).filter(|&allowed| bytes > allowed) {
            let found = say!("{path:?}, which unpacks to more");
            return Err(Refused::new(found, say!("at most {most} bytes in it", most = allowed)));
        }
        room = room.checked_sub(bytes).ok_or_else(|| {
            let found =
                say!("more than {most} bytes when unpacked, up to {path:?}", most = most_bytes);
            Refused::new(found, say!("at most {most} bytes in all", most = most_bytes))
        })?;
        let (start, end) = zip.get_entry(entry.wayfinder())?.compressed_data_range();
        let packed = start as usize..end as usize;
        lie.push((entry.local_header_offset(), end));
        let file = Entry { path, packed, is_deflated, crc: entry.crc32(), bytes };
        let most = (end - start).saturating_mul(if is_deflated { MOST_OF_ONE } else { 1 });
        if bytes > most {
            return Err(file.refused(say!("another size than its bytes can give")));
        }
        files.push(file);
    }
    lie.sort_unstable();
    if lie.windows(2).any(|two| two[0].1 > two[1].0) {
        return Err(Refused::new(
            say!("files that share their bytes"),
            say!("each file with its own bytes"),
        ));
    }
    Ok(files)
}

/// What is expected of a path, where it names nothing below the folder it is unpacked into on every
/// system, or no system takes it.
fn amiss(path: &str) -> Option<String> {
    let parts = || path.strip_suffix('/').unwrap_or(path).split('/');
    let is_plain = |part: &str| !part.is_empty() && part != "." && part != "..";
    if path.contains(['\\', ':']) || path.contains(char::is_control) || !parts().all(is_plain) {
        return Some(say!("paths that stay within the folder, parted by /").to_owned());
    }
    let is_long = path.len() > caps::PATH_BYTES || parts().any(|it| it.len() > caps::NAME_BYTES);
    let (path, name) = (caps::PATH_BYTES, caps::NAME_BYTES);
    is_long.then(|| say!("paths of at most {path} bytes, and {name} in each part"))
}

fn shortened(path: &str) -> String {
    match path.char_indices().nth(80) {
        Some((cut, _)) => {
            say!("{start:?}… of {bytes} bytes", start = &path[..cut], bytes = path.len())
        }
        None => format!("{path:?}"),
    }
}
