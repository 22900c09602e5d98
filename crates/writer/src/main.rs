//! The worker that writes a plot as one file beside the page: a wasm of its own, fetched when
//! something is first saved. It writes one file and is ended.

use std::cell::RefCell;

use files::FileSet;
use judge::link;
use writer::{FromWriter, ToWriter, written};

thread_local! {
    static FOLDER: RefCell<FileSet> = const { RefCell::new(FileSet::new()) };
}

/// Hears the page from now on.
fn main() {
    link::listen(|bytes| {
        if let Some(message) = link::message(bytes) {
            hear(message);
        }
    });
    link::tell_page(&FromWriter::Ready);
}

fn hear(message: ToWriter<'_>) {
    match message {
        ToWriter::Piece { file, bytes } => FOLDER.with_borrow_mut(|folder| {
            folder.entry(file.to_owned()).or_default().extend_from_slice(bytes);
        }),
        ToWriter::Write { format, name } => {
            let folder = FOLDER.with_borrow_mut(std::mem::take);
            link::tell_page(&match written(format, name, folder) {
                Ok(written) => FromWriter::Written(written),
                Err(problems) => FromWriter::Refused(problems),
            });
        }
    }
}
