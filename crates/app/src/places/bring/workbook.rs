//! A workbook: read by a worker of its own, which is fetched when the first one is brought in.

use files::list::Source;
use judge::link;
use language::say;
use leptos::prelude::*;
use serde_bytes::ByteBuf;
use sheets::{FromSheets, Sheet, ToSheets};
use web_sys::Worker;

use super::state::{Bring, READING};

/// The workbook whose sheet is brought in.
#[derive(Clone)]
pub(super) struct Workbook {
    name: String,
    worker: StoredValue<Option<Worker>, LocalStorage>,
    pub(super) names: Vec<String>,
    pub(super) nth: usize,
}

impl Bring {
    /// Has a workbook read: its first sheet with a list.
    pub(super) fn open_workbook(self, name: String, bytes: Vec<u8>) {
        self.put_away();
        self.taken.set(None);
        self.trouble.set(None);
        self.say(language::said(READING), (0, 0));
        let worker = StoredValue::new_local(None::<Worker>);
        let waiting = StoredValue::new_local(Some(ToSheets::Workbook(ByteBuf::from(bytes))));
        let workbook = Workbook { name: name.clone(), worker, names: Vec::new(), nth: 0 };
        // Not once its list was put away, or the screen is gone.
        let is_wanted = move || self.turn.is_alive() && worker.with_value(Option::is_some);
        let hear = move |message: FromSheets| {
            if !is_wanted() {
                return;
            }
            match message {
                FromSheets::Ready => {
                    let first = waiting.try_update_value(Option::take).flatten();
                    worker.with_value(|worker| {
                        if let (Some(worker), Some(first)) = (worker, first) {
                            link::tell(worker, &first);
                        }
                    });
                }
                FromSheets::Sheet(sheet) => self.sheet(sheet),
                FromSheets::Unusable(why) => {
                    self.refuse(say!(
                        "found {found}; expected {expected}",
                        found = why.found,
                        expected = why.expected
                    ));
                }
            }
        };
        let broke = move || {
            if is_wanted() {
                self.refuse(
                    say!("it needs more memory than is given, or its reader could not be fetched")
                        .to_owned(),
                );
            }
        };
        match link::start(&self.app.sheets_address(), hear, broke) {
            Ok(started) => worker.set_value(Some(started)),
            Err(_) => return self.refuse(say!("this browser gives no background work").to_owned()),
        }
        self.workbook.set(Some(workbook));
    }

    /// Ends the worker of a workbook that is no longer wanted.
    pub(super) fn forget_workbook(self) {
        let workbook = self.workbook.try_update(Option::take).flatten();
        if let Some(workbook) = workbook {
            workbook.worker.update_value(|worker| {
                if let Some(worker) = worker.take() {
                    worker.terminate();
                }
            });
        }
    }

    /// Has another sheet of it read.
    pub(super) fn other_sheet(self, nth: usize) {
        self.say(language::said(READING), (0, 0));
        self.workbook.with_untracked(|workbook| {
            if let Some(workbook) = workbook {
                workbook.worker.with_value(|worker| {
                    if let Some(worker) = worker {
                        link::tell(worker, &ToSheets::Sheet(nth));
                    }
                });
            }
        });
    }

    fn sheet(self, sheet: Sheet) {
        let mut name = String::new();
        self.workbook.update(|workbook| {
            if let Some(workbook) = workbook {
                (workbook.names, workbook.nth) = (sheet.names, sheet.nth);
                let of = workbook.names.get(workbook.nth).map_or("", String::as_str);
                name = match workbook.names.len() {
                    1 => workbook.name.clone(),
                    _ => say!("{name}, sheet {of}", name = workbook.name),
                };
            }
        });
        self.read(&name, Source::Sheet(sheet.csv, sheet.first_row));
    }

    fn refuse(self, why: String) {
        let name = self.workbook.with_untracked(|it| it.as_ref().map(|it| it.name.clone()));
        let name = name.unwrap_or_else(|| say!("The workbook").to_owned());
        self.put_away();
        self.trouble.set(Some(say!("{name} cannot be read: {why}. Nothing was changed.")));
    }
}
