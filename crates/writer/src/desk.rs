//! What the worker holds of a plot between two things that the page says, and its answers.

use std::collections::BTreeMap;

use files::{Book, FileSet, pack};
use paper::ReadingCopy;
use proof::Report;

use crate::print::{ends, printed};
use crate::{FromWriter, ToWriter, Written, written};

/// The plot as it was handed over.
#[derive(Debug, Default)]
pub struct Desk {
    folder: FileSet,
    /// Opened when it is first printed from.
    book: Option<Book>,
    reports: BTreeMap<String, Report>,
}

impl Desk {
    /// Does what the page says; gives what there is to answer.
    pub fn hear(&mut self, message: ToWriter<'_>) -> Option<FromWriter> {
        match message {
            ToWriter::Piece { file, bytes } => {
                self.folder.entry(file.to_owned()).or_default().extend_from_slice(bytes);
                self.book = None;
                None
            }
            ToWriter::Report(report) => {
                self.reports.insert(report.disease.clone(), *report);
                None
            }
            ToWriter::Write { format, name } => {
                Some(match written(format, name, std::mem::take(&mut self.folder)) {
                    Ok(written) => FromWriter::Written(written),
                    Err(problems) => FromWriter::Refused(problems),
                })
            }
            ToWriter::Print(wish) => Some(match self.open() {
                Err(refused) => refused,
                Ok((book, reports)) => match printed(&wish, book, reports) {
                    Ok(printed) => FromWriter::Printed(printed),
                    Err(refusal) => FromWriter::CannotPrint(refusal.to_string()),
                },
            }),
            ToWriter::Copy { name } => {
                let zip = pack(&self.folder, name);
                Some(match self.open() {
                    Err(refused) => refused,
                    Ok((book, reports)) => FromWriter::Written(copy(name, book, reports, &zip)),
                })
            }
        }
    }

    /// The book, which may have faults: what is sound is printed.
    fn open(&mut self) -> Result<(&Book, &BTreeMap<String, Report>), FromWriter> {
        if self.book.is_none() {
            let (book, problems) = files::open(self.folder.clone());
            self.book = Some(book.ok_or(FromWriter::Refused(problems))?);
        }
        Ok((self.book.as_ref().expect("just opened"), &self.reports))
    }
}

/// One HTML file to be looked at without Leeward, with the folder in it.
fn copy(name: &str, book: &Book, reports: &BTreeMap<String, Report>, zip: &[u8]) -> Written {
    let reports: Vec<Report> = reports.values().cloned().collect();
    let zip_name = format!("{name}.zip");
    let html = paper::reading_copy(&ReadingCopy {
        plot: book.plot(),
        ends: &ends(book),
        reports: &reports,
        zip,
        zip_name: &zip_name,
    });
    Written {
        name: format!("{name}-copy.html"),
        bytes: html.into_bytes(),
        trees: book.plot().trees().len(),
        left_out: 0,
    }
}
