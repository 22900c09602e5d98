//! A folder's files as one file, in a format: the same bytes as `leeward export` writes.

use export::Spreadsheet;
use files::{Book, FileSet, pack};
use plot::{Problem, Weight};
use serde::{Deserialize, Serialize};

/// What a plot is written as.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum Format {
    /// The folder whole, as a zip.
    Zip,
    /// One wide table for spreadsheets.
    Csv,
    /// A workbook with a sheet for each table.
    Xlsx,
    /// A point for each tree.
    Geojson,
    /// Answers of BrAPI, as a zip.
    Brapi,
    /// A Data Package, as a zip.
    DataPackage,
}

/// A plot written as one file.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Written {
    /// The name to save it under.
    pub name: String,
    /// Its bytes.
    #[serde(with = "serde_bytes")]
    pub bytes: Vec<u8>,
    /// How many trees the plot has; 0 in a zip, which is packed unread.
    pub trees: usize,
    /// Scores that the format has no room for, since a later one of the same tree, trait and round
    /// is in it.
    pub left_out: usize,
}

/// Writes a folder's files; `name` is what the file is to be called, without an ending, and in a
/// zip the folder.
///
/// # Errors
/// Every format but the zip: a folder with faults, a plot that the format cannot hold.
pub fn written(format: Format, name: &str, folder: FileSet) -> Result<Written, Vec<Problem>> {
    let file = |rest: &str, bytes: Vec<u8>| Written {
        name: format!("{name}{rest}"),
        bytes,
        trees: 0,
        left_out: 0,
    };
    let zip = |kind: &str, files: &FileSet| {
        file(&format!("{kind}.zip"), pack(files, &format!("{name}{kind}")))
    };
    let of_book = |folder, write: fn(&Book) -> Result<Made, Vec<Problem>>| {
        let book = sound(folder)?;
        let trees = book.plot().trees().len();
        Ok(match write(&book)? {
            Made::File(ending, bytes, left_out) => {
                Written { trees, left_out, ..file(ending, bytes) }
            }
            Made::Folder(kind, files) => Written { trees, ..zip(kind, &files) },
        })
    };
    match format {
        Format::Zip => Ok(zip("", &folder)),
        Format::Csv => of_book(folder, |book| {
            let Spreadsheet { bytes, left_out } = export::spreadsheet(book);
            Ok(Made::File(".csv", bytes, left_out))
        }),
        Format::Xlsx => of_book(folder, |book| Ok(Made::File(".xlsx", export::workbook(book)?, 0))),
        Format::Geojson => {
            of_book(folder, |book| Ok(Made::File(".geojson", export::geojson(book)?, 0)))
        }
        Format::Brapi => of_book(folder, |book| Ok(Made::Folder("-brapi", export::brapi(book)))),
        Format::DataPackage => {
            of_book(folder, |book| Ok(Made::Folder("-datapackage", export::data_package(book))))
        }
    }
}

/// What a format makes of a book: a file with its ending and what it left out, or a folder with
/// what stands behind its name.
enum Made {
    File(&'static str, Vec<u8>, usize),
    Folder(&'static str, FileSet),
}

/// The book of a folder without faults.
fn sound(folder: FileSet) -> Result<Book, Vec<Problem>> {
    let (book, problems) = files::open(folder);
    let faults: Vec<Problem> =
        problems.into_iter().filter(|one| one.weight == Weight::Fault).collect();
    book.filter(|_| faults.is_empty()).ok_or(faults)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn folder() -> FileSet {
        let head = r#"{"format": "leeward-plot", "version": 1, "name": "Withy Corner",
            "layout": {"row_spacing_m": 3, "place_spacing_m": 1},
            "origin": {"lon": -20, "lat": 46, "row_bearing_deg": 12},
            "traits": [{"id": "girth", "label": "Girth", "kind": "number"}]}"#;
        let scores = "score_id,tree_id,trait,value,scored_on\n\
            s1,A,girth,3,2031-06-14\ns2,A,girth,4,2031-06-14\n";
        let files = [
            ("plot.json", head),
            ("trees.csv", "tree_id,row,place\nA,1,1\nB,1,2\n"),
            ("scores.csv", scores),
            ("photos/s1.jpg", "a picture"),
        ];
        files.map(|(name, text)| (name.to_owned(), text.as_bytes().to_vec())).into()
    }

    fn of(format: Format) -> Written {
        written(format, "withy-2031", folder()).expect("it can be written")
    }

    #[test]
    fn each_format_is_one_file_under_its_name() {
        let check = |format, name: &str, left_out| {
            let Written { name: found, bytes, trees, left_out: found_left_out } = of(format);
            assert_eq!((found.as_str(), trees, found_left_out), (name, 2, left_out));
            assert!(!bytes.is_empty());
        };
        check(Format::Csv, "withy-2031.csv", 1);
        check(Format::Xlsx, "withy-2031.xlsx", 0);
        check(Format::Geojson, "withy-2031.geojson", 0);
        check(Format::Brapi, "withy-2031-brapi.zip", 0);
        check(Format::DataPackage, "withy-2031-datapackage.zip", 0);
        assert_eq!(of(Format::Zip).name, "withy-2031.zip");
    }

    #[test]
    fn a_zip_holds_every_file_below_a_folder_of_its_name() {
        let unpacked = files::unpack("a.zip", &of(Format::Zip).bytes).expect("an archive");
        let below = |(name, bytes): (String, Vec<u8>)| (format!("withy-2031/{name}"), bytes);
        assert_eq!(unpacked, folder().into_iter().map(below).collect());
        let answers = files::unpack("a.zip", &of(Format::Brapi).bytes).expect("an archive");
        assert_eq!(
            answers.keys().next().map(String::as_str),
            Some("withy-2031-brapi/observations.json")
        );
    }

    #[test]
    fn a_data_package_opens_as_a_plot() {
        let files = files::unpack("a.zip", &of(Format::DataPackage).bytes).expect("an archive");
        let (book, problems) = files::open(files);
        assert_eq!(problems, []);
        assert_eq!(book.expect("a book").plot().scores().len(), 2);
    }

    #[test]
    fn a_folder_with_faults_is_only_packed() {
        let mut faulty = folder();
        faulty.insert("trees.csv".to_owned(), b"tree_id,row,place\nA,one,1\n".to_vec());
        let problems = written(Format::Csv, "x", faulty.clone()).expect_err("a fault");
        assert_eq!(
            problems[0].to_string(),
            "trees.csv, line 2, column row: found \"one\", expected a whole number"
        );
        assert!(problems.iter().all(|one| one.weight == Weight::Fault));
        written(Format::Zip, "x", faulty).expect("byte for byte");
        let mut nowhere = folder();
        let head = String::from_utf8(nowhere["plot.json"].clone()).expect("UTF-8");
        let head = head.replace("\"origin\"", "\"once\"");
        nowhere.insert("plot.json".to_owned(), head.into_bytes());
        let problems = written(Format::Geojson, "x", nowhere).expect_err("no origin");
        assert_eq!(problems[0].column.as_deref(), Some("origin"));
    }
}
