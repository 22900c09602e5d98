//! A plot folder as one ZIP archive.

use std::collections::BTreeSet;
use std::io::Write;

use flate2::write::DeflateEncoder;
use rawzip::path::EntryPath;
use rawzip::{CompressionMethod, Error, ZipArchiveWriter};

use crate::FileSet;

/// Packs files into a ZIP archive, below a folder of the name `folder` (empty: at the top). The
/// same files give the same bytes: no clock is read. Letters of a name that not every system takes
/// (`\`, `:`, control letters) become `_`, since [`crate::unpack`] would refuse them.
pub fn pack(files: &FileSet, folder: &str) -> Vec<u8> {
    try_pack(files, folder).expect("memory takes every archive")
}

fn try_pack(files: &FileSet, folder: &str) -> Result<Vec<u8>, Error> {
    let mut bytes = Vec::new();
    let mut archive = ZipArchiveWriter::new(&mut bytes);
    let mut taken = BTreeSet::new();
    for (name, content) in files {
        let name = name_for_all(name, |name| files.contains_key(name) || taken.contains(name));
        let path = if folder.is_empty() { name.clone() } else { format!("{folder}/{name}") };
        taken.insert(name);
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

/// A name that every system takes and that no other file has.
fn name_for_all(name: &str, is_taken: impl Fn(&str) -> bool) -> String {
    let is_strange = |letter: char| "\\:".contains(letter) || letter.is_control();
    if !name.contains(is_strange) {
        return name.to_owned();
    }
    let mut plain = name.replace(is_strange, "_");
    while is_taken(&plain) {
        plain.insert(plain.rfind('/').map_or(0, |at| at + 1), '_');
    }
    plain
}
