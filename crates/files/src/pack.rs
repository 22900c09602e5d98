//! A plot folder as one ZIP archive.

use std::io::Write;

use flate2::write::DeflateEncoder;
use rawzip::path::EntryPath;
use rawzip::{CompressionMethod, Error, ZipArchiveWriter};

use crate::FileSet;

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
