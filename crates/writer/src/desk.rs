//! What the worker holds of a plot between two things that the page says, and its answers.

use std::collections::BTreeMap;

use files::{Book, FileSet, pack};
use paper::ReadingCopy;
use proof::Report;

use crate::print::printed;
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
        ends: &book.row_ends().into(),
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

#[cfg(test)]
mod tests {
    use serde_bytes::Bytes;

    use super::*;
    use crate::{Format, MapLayer, PrintWish, Printed, What};
    use paper::LabelSize;

    const HEAD: &str = r#"{"format": "leeward-plot", "version": 1, "name": "Withy Corner",
        "layout": {"row_spacing_m": 3, "place_spacing_m": 1},
        "traits": [{"id": "girth", "label": "Girth", "kind": "number"}]}"#;

    /// A desk with a plot of so many trees in one row, the third of them faulty.
    fn desk(trees: usize) -> Desk {
        let mut desk = Desk::default();
        let lines = (1..=trees).map(|nth| format!("T{nth},1,{nth}\n"));
        let trees = format!("tree_id,row,place\n{}", lines.collect::<String>());
        let trees = trees.replace("T3,1,3\n", "T3,one,3\n");
        for (file, text) in [("plot.json", HEAD), ("trees.csv", &trees)] {
            for piece in text.as_bytes().chunks(40) {
                assert!(desk.hear(ToWriter::Piece { file, bytes: Bytes::new(piece) }).is_none());
            }
        }
        desk
    }

    fn wish(what: What) -> PrintWish {
        PrintWish { what, is_letter: false, is_landscape: true, rows: String::new() }
    }

    fn pages(desk: &mut Desk, wish: PrintWish) -> (Vec<String>, usize) {
        match desk.hear(ToWriter::Print(wish)) {
            Some(FromWriter::Printed(Printed::Pages { pages, of })) => (pages, of),
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn what_is_sound_is_printed_and_printed_again() {
        let mut desk = desk(30);
        let traits = vec!["girth".to_owned()];
        let sheets = wish(What::FieldSheets { traits, sick_last: false });
        let (sheets, of) = pages(&mut desk, sheets);
        assert_eq!(sheets.len(), of);
        assert!(sheets[0].contains("width=\"297mm\" height=\"210mm\""), "on its long side");
        let tags = What::Tags { size: LabelSize::Medium, start: 24, no_tag: false };
        let (tags, of) = pages(&mut desk, wish(tags));
        // One of 29 on the last label of the first sheet; tags lie on paper that stands.
        assert_eq!((tags.len(), of), (3, 3));
        assert!(tags[0].contains("width=\"210mm\" height=\"297mm\""));
        assert_eq!(pages(&mut desk, wish(What::Map(MapLayer::Cross))).1, 1);
        let report = desk.hear(ToWriter::Print(wish(What::Report)));
        assert!(matches!(report, Some(FromWriter::Printed(Printed::Report(_)))), "{report:?}");
    }

    #[test]
    fn more_pages_than_are_shown_are_counted() {
        let of_all = What::Tags { size: LabelSize::Large, start: 1, no_tag: true };
        let (shown, of) = pages(&mut desk(1801), wish(of_all));
        assert_eq!((shown.len(), of), (crate::MOST_PAGES, 225));
    }

    #[test]
    fn what_cannot_be_printed_is_said() {
        let mut desk = desk(4);
        let mut rows = wish(What::Tags { size: LabelSize::Small, start: 1, no_tag: false });
        rows.rows = "three".to_owned();
        let said = desk.hear(ToWriter::Print(rows));
        let Some(FromWriter::CannotPrint(why)) = said else { panic!("{said:?}") };
        assert_eq!(why, "rows: found \"three\", expected numbers and ranges as 3-7");
        let said = Desk::default().hear(ToWriter::Print(wish(What::Report)));
        assert!(matches!(said, Some(FromWriter::Refused(_))), "{said:?}");
    }

    #[test]
    fn a_copy_holds_the_folder_byte_for_byte_and_the_desk_goes_on() {
        let mut desk = desk(4);
        let said = desk.hear(ToWriter::Copy { name: "withy" });
        let Some(FromWriter::Written(copy)) = said else { panic!("{said:?}") };
        assert_eq!((copy.name.as_str(), copy.trees), ("withy-copy.html", 3));
        let html = String::from_utf8(copy.bytes).expect("UTF-8");
        assert!(html.contains("withy.zip") && html.contains("Withy Corner"));
        let said = desk.hear(ToWriter::Write { format: Format::Zip, name: "withy" });
        let Some(FromWriter::Written(zip)) = said else { panic!("{said:?}") };
        let files = files::unpack("a.zip", &zip.bytes).expect("an archive");
        assert_eq!(files["withy/plot.json"], HEAD.as_bytes());
    }
}
