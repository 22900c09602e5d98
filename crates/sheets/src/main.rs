//! The worker that reads workbooks beside the page: a wasm of its own, fetched when a workbook is
//! first brought in. What breaks or fills its memory breaks nothing else.

use std::cell::RefCell;

use judge::link;
use sheets::{FromSheets, ToSheets, read};

thread_local! {
    static WORKBOOK: RefCell<Vec<u8>> = const { RefCell::new(Vec::new()) };
}

/// Hears the page from now on.
fn main() {
    link::listen(|bytes| {
        if let Some(message) = link::message(bytes) {
            hear(message);
        }
    });
    link::tell_page(&FromSheets::Ready);
}

fn hear(message: ToSheets) {
    let answer = WORKBOOK.with_borrow_mut(|workbook| match message {
        ToSheets::Workbook(bytes) => {
            *workbook = bytes.into_vec();
            read(workbook, None)
        }
        ToSheets::Sheet(nth) => read(workbook, Some(nth)),
    });
    link::tell_page(&match answer {
        Ok(sheet) => FromSheets::Sheet(sheet),
        Err(unusable) => FromSheets::Unusable(unusable),
    });
}
