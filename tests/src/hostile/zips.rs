//! Zips written by the letter (APPNOTE.TXT 6.3.10, 4.3.7, 4.3.12 and 4.3.16), so that they can lie.

use std::io::Write as _;

use flate2::write::DeflateEncoder;

/// A file as an archive says that it is, whatever it is.
#[derive(Clone, Debug)]
pub struct Said {
    /// Its path.
    pub path: String,
    /// The bytes in the archive.
    pub packed: Vec<u8>,
    /// How many it unpacks to.
    pub bytes: u32,
    /// Their checksum.
    pub crc: u32,
    /// Whether they are deflated; else stored.
    pub is_deflated: bool,
    /// The file whose bytes it says are its own.
    pub at: Option<usize>,
}

impl Said {
    /// A file stored as it is.
    pub fn stored(path: &str, content: &[u8]) -> Self {
        let (packed, crc) = (content.to_vec(), crc32fast::hash(content));
        let (path, bytes) = (path.to_owned(), content.len() as u32);
        Self { path, packed, bytes, crc, is_deflated: false, at: None }
    }

    /// A file deflated as it should be.
    pub fn deflated(path: &str, content: &[u8]) -> Self {
        let mut encoder = DeflateEncoder::new(Vec::new(), flate2::Compression::best());
        encoder.write_all(content).expect("memory takes it");
        let packed = encoder.finish().expect("memory takes it");
        Self { packed, is_deflated: true, ..Self::stored(path, content) }
    }
}

/// So many MiB of zeros, deflated; said to be of another size where one is given.
pub(super) fn zeros(path: &str, mib: usize, said: Option<u32>) -> Said {
    let piece = vec![0; 1 << 20];
    let mut checksum = crc32fast::Hasher::new();
    let mut encoder = DeflateEncoder::new(Vec::new(), flate2::Compression::fast());
    for _ in 0..mib {
        checksum.update(&piece);
        encoder.write_all(&piece).expect("memory takes it");
    }
    Said {
        path: path.to_owned(),
        packed: encoder.finish().expect("memory takes it"),
        bytes: said.unwrap_or((mib << 20) as u32),
        crc: checksum.finalize(),
        is_deflated: true,
        at: None,
    }
}

/// Files that unpack to so many GiB in all.
pub(super) fn gigabytes(gib: usize) -> Vec<Said> {
    let one = zeros("p/photos/0", 256, None);
    (0..gib * 4).map(|nth| Said { path: format!("p/photos/{nth}"), ..one.clone() }).collect()
}

/// So many files that all say that the bytes of the first, a MiB of zeros, are theirs.
pub(super) fn shared(files: usize) -> Vec<Said> {
    let one = zeros("p/photos/0", 1, Some(1 << 17));
    let others =
        (1..files).map(|nth| Said { path: format!("p/photos/{nth}"), at: Some(0), ..one.clone() });
    std::iter::once(one.clone()).chain(others).collect()
}

/// The archive of these files.
pub fn written(files: &[Said]) -> Vec<u8> {
    let (mut bytes, mut starts, mut directory) = (Vec::new(), Vec::new(), Vec::new());
    let facts = |file: &Said| {
        let method: u16 = if file.is_deflated { 8 } else { 0 };
        let mut facts = [20, 0, method, 0, 33].map(u16::to_le_bytes).concat();
        let sizes = [file.crc, file.packed.len() as u32, file.bytes];
        facts.extend(sizes.map(u32::to_le_bytes).concat());
        facts.extend([file.path.len() as u16, 0].map(u16::to_le_bytes).concat());
        facts
    };
    for file in files {
        starts.push(bytes.len() as u32);
        if file.at.is_none() {
            let parts = [b"PK\x03\x04", &facts(file)[..], file.path.as_bytes(), &file.packed];
            bytes.extend(parts.concat());
        }
    }
    for (nth, file) in files.iter().enumerate() {
        let start = starts[file.at.unwrap_or(nth)];
        directory.extend([b"PK\x01\x02\x14\0", &facts(file)[..], &[0; 10]].concat());
        directory.extend([&start.to_le_bytes(), file.path.as_bytes()].concat());
    }
    let counts = [0, 0, files.len() as u16, files.len() as u16].map(u16::to_le_bytes).concat();
    let end = [directory.len() as u32, bytes.len() as u32].map(u32::to_le_bytes).concat();
    [bytes, directory, b"PK\x05\x06".to_vec(), counts, end, vec![0, 0]].concat()
}
