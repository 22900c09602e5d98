//! How much is read: limits that keep a hostile or mistaken file from taking the machine along.

use language::say;
use plot::{Problem, Refusal, Weight};

use crate::{decisions, events, head, scores, trees, weather};

/// Largest CSV file of the plot folder, bytes (128 MiB: over a million scores).
pub const CSV_BYTES: u64 = 128 << 20;
/// Largest `plot.json`, bytes (4 MiB).
pub const HEAD_BYTES: u64 = 4 << 20;
/// Most lines of one CSV file.
pub const LINES: u64 = 2_000_000;
/// Most columns of one CSV file.
pub const COLUMNS: usize = 1000;
/// Bytes of a picture that is taken on a walk.
pub const PHOTO_BYTES: usize = 32 << 20;
/// Longest cell of a CSV file, bytes (32 KiB).
pub const CELL_BYTES: usize = 32 << 10;
/// Most files of a ZIP archive.
pub const ARCHIVE_FILES: usize = 20_000;
/// Most bytes that a ZIP archive may unpack to (1 GiB).
pub const ARCHIVE_BYTES: u64 = 1 << 30;
/// Longest path in a ZIP archive, bytes.
pub(crate) const PATH_BYTES: usize = 1024;
/// Longest part of such a path, bytes: what file systems take.
pub(crate) const NAME_BYTES: usize = 255;
/// Most problems of one file that are listed one by one; the rest are counted.
pub const PROBLEMS: usize = 10_000;

/// Most bytes that a file of the plot folder may have; none: any number (it is not read).
pub fn bytes_allowed(name: &str) -> Option<u64> {
    match name {
        head::FILE => Some(HEAD_BYTES),
        trees::FILE | scores::FILE | events::FILE | decisions::FILE | weather::FILE => {
            Some(CSV_BYTES)
        }
        _ => None,
    }
}

/// Whether a file of the plot folder is read at all; others are only kept.
pub fn is_read(name: &str) -> bool {
    bytes_allowed(name).is_some()
}

/// The problem of a file that is too large, from its size alone, so that it need not be loaded.
/// `name` is its path within the plot folder.
pub fn too_large(name: &str, bytes: u64) -> Option<Problem> {
    let allowed = bytes_allowed(name).filter(|&allowed| bytes > allowed)?;
    Some(Problem {
        weight: Weight::Fault,
        file: name.to_owned(),
        line: None,
        column: None,
        found: say!("a file of {size}", size = in_mib(bytes)),
        expected: say!("at most {most}", most = in_mib(allowed)),
    })
}

/// Whether words have room in a cell of `column`.
///
/// # Errors
/// Words longer than [`CELL_BYTES`].
pub(crate) fn check_cell(column: &'static str, words: &str) -> Result<(), Refusal> {
    if words.len() <= CELL_BYTES {
        return Ok(());
    }
    let expected = say!("at most {most} bytes", most = CELL_BYTES);
    Err(Refusal::new(column, say!("{bytes} bytes", bytes = words.len()), expected))
}

fn in_mib(bytes: u64) -> String {
    say!("{size:.1} MiB ({bytes} bytes)", size = bytes as f64 / f64::from(1 << 20))
}
