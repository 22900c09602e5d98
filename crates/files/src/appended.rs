//! Tables of the folder to which lines are only ever added.

use crate::FileSet;
use crate::table::{Column, Header};
use crate::written::Lines;

/// The header of a table, which is begun if need be. A file of that name that cannot be read as such
/// is first put aside byte for byte under a free name (`scores-set-aside-1.csv`).
pub(crate) fn begun<C: Column>(
    files: &mut FileSet,
    file: &str,
    header: &mut Option<Header>,
) -> Header {
    if let Some(header) = header {
        return header.clone();
    }
    if let Some(unreadable) = files.remove(file) {
        let stem = file.strip_suffix(".csv").unwrap_or(file);
        let name = |nth| format!("{stem}-set-aside-{nth}.csv");
        let free = (1..).map(name).find(|name| !files.contains_key(name));
        files.insert(free.expect("some number is free"), unreadable);
    }
    let mut lines = Lines::new(false);
    lines.push(C::NAMES.iter().copied());
    files.insert(file.to_owned(), lines.into_bytes());
    header.insert(Header::full::<C>()).clone()
}

/// A line, with its end, in the column order of the file; unknown columns stay empty.
pub(crate) fn line(header: &Header, cells: &[String]) -> Vec<u8> {
    let mut line = Lines::new(header.crlf);
    line.push(header.known.iter().map(|known| known.map_or("", |nth| cells[nth].as_str())));
    line.into_bytes()
}

/// Puts a line behind the last one.
pub(crate) fn append(files: &mut FileSet, file: &str, line: &[u8], crlf: bool) {
    let file = files.entry(file.to_owned()).or_default();
    if !file.is_empty() && !file.ends_with(b"\n") {
        file.extend_from_slice(if crlf { b"\r\n" } else { b"\n" });
    }
    file.extend_from_slice(line);
}

/// Whether a file has such a line, byte for byte.
pub(crate) fn has_line(files: &FileSet, file: &str, line: &[u8]) -> bool {
    let file = files.get(file).map_or(&[][..], Vec::as_slice);
    file.windows(line.len().max(1)).any(|window| window == line)
}
