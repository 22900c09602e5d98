//! What is read more than written on: the report, and the copy.

use std::path::Path;

use files::{Book, pack};
use paper::{EXPLAINED, ReadingCopy, Reported};
use proof::Report;

use super::asked::Call;
use crate::folder::is_zip;

/// The report as a file.
pub(super) fn report(call: &Call, book: &Book, reports: &[Report]) -> String {
    let document = paper::report(&Reported {
        plot: book.plot(),
        ends: &book.row_ends().into(),
        weather: book.weather(),
        reports,
        explained: EXPLAINED,
    });
    paper::document_html(&document, call.paper())
}

/// The copy as a file; the folder in it is called as the one on disk.
pub(super) fn copy(call: &Call, book: &Book, reports: &[Report]) -> String {
    let folder = &call.plot;
    let mut files = book.to_files();
    files.retain(|name, _| !call.no_photos || !files::is_photo(name));
    let own = if is_zip(folder) { Path::file_stem } else { Path::file_name };
    let name = folder.canonicalize().ok().and_then(|path| Some(own(&path)?.to_owned()));
    let name = name.map_or_else(|| "plot".to_owned(), |name| name.to_string_lossy().into_owned());
    let zip = pack(&files, &name);
    paper::reading_copy(&ReadingCopy {
        plot: book.plot(),
        ends: &book.row_ends().into(),
        reports,
        zip: &zip,
        zip_name: &format!("{name}.zip"),
    })
}
