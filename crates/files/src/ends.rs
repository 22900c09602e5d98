//! What people call the two ends of the rows: two optional fields of `plot.json` beside the
//! contract, `layout.low_end` and `layout.high_end`.

use serde_json::Value;

use crate::Book;

impl Book {
    /// The names of the end where place numbers begin and of the one where they stop, such as
    /// `road end`; none where `plot.json` gives no text of its own for it.
    pub fn row_ends(&self) -> [Option<String>; 2] {
        let head = self.files.get("plot.json");
        let json: Option<Value> = head.and_then(|bytes| {
            serde_json::from_slice(bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes)).ok()
        });
        ["low_end", "high_end"].map(|field| {
            let name = json.as_ref()?.get("layout")?.get(field)?.as_str()?.trim();
            (!name.is_empty()).then(|| name.to_owned())
        })
    }
}

#[cfg(test)]
mod tests {
    use crate::{FileSet, open};

    fn check(layout: &str, expect: [Option<&str>; 2]) {
        let head = format!(
            r#"{{"format": "leeward-plot", "version": 1, "name": "Pond Row",
                "layout": {{"row_spacing_m": 3, "place_spacing_m": 1{layout}}}}}"#
        );
        let files = FileSet::from([
            ("pond/plot.json".to_owned(), head.into_bytes()),
            ("pond/trees.csv".to_owned(), b"tree_id,row,place\n".to_vec()),
        ]);
        let (book, problems) = open(files);
        assert!(problems.iter().all(|it| it.weight == plot::Weight::Notice), "{problems:?}");
        let ends = book.expect("a book").row_ends();
        assert_eq!(ends.each_ref().map(Option::as_deref), expect, "{layout}");
    }

    #[test]
    fn ends_are_written_as_they_are_read() {
        let (book, _) = open(FileSet::from([
            (
                "plot.json".to_owned(),
                br#"{"format": "leeward-plot", "version": 1, "name": "Pond Row",
                    "layout": {"row_spacing_m": 3, "place_spacing_m": 1}}"#
                    .to_vec(),
            ),
            ("trees.csv".to_owned(), b"tree_id,row,place\n".to_vec()),
        ]));
        let plot = book.expect("a book").plot().clone();
        let (book, problems) = open(crate::write_with_ends(&plot, [Some("road end"), None]));
        assert_eq!(problems, []);
        assert_eq!(book.expect("a book").row_ends(), [Some("road end".to_owned()), None]);
    }

    #[test]
    fn ends_are_read_where_they_are_named() {
        check("", [None, None]);
        check(r#", "low_end": "road end", "high_end": " ""#, [Some("road end"), None]);
        check(r#", "low_end": 7, "high_end": "hedge end""#, [None, Some("hedge end")]);
    }
}
