//! Pictures that go with scores: files of the folder below `photos/`, never written over.

use language::say;
use plot::Refusal;

use crate::{Book, PHOTO_BYTES};

/// Where pictures lie.
const FOLDER: &str = "photos/";

impl Book {
    /// Where a picture goes that belongs to a score: `photos/<score_id>.<ending>`, or
    /// `photos/<score_id>_2.<ending>` for a second one. No file is there yet.
    ///
    /// # Errors
    /// An id or ending that is no plain name: letters, digits and dashes.
    pub fn photo_path(&self, score_id: &str, ending: &str) -> Result<String, Refusal> {
        let is_plain = |name: &str| {
            !name.is_empty() && name.bytes().all(|it| it.is_ascii_alphanumeric() || it == b'-')
        };
        if let Some(name) = [score_id, ending].into_iter().find(|name| !is_plain(name)) {
            return Err(Refusal::new(
                "photo",
                format!("\"{name}\""),
                say!("letters, digits, dashes"),
            ));
        }
        let path = |nth: u32| match nth {
            1 => format!("{FOLDER}{score_id}.{ending}"),
            nth => format!("{FOLDER}{score_id}_{nth}.{ending}"),
        };
        let free = (1..).map(path).find(|path| !self.files.contains_key(path));
        Ok(free.expect("some number is free"))
    }

    /// Puts a picture into the folder, at a path that [`photo_path`](Self::photo_path) gave.
    ///
    /// # Errors
    /// No bytes or more than [`PHOTO_BYTES`]; a path that is no picture's, or
    /// is taken.
    pub fn add_photo(&mut self, path: &str, bytes: Vec<u8>) -> Result<(), Refusal> {
        if bytes.is_empty() || bytes.len() > PHOTO_BYTES {
            let expected = say!("1 to {most} bytes", most = PHOTO_BYTES);
            return Err(Refusal::new(
                "photo",
                say!("{bytes} bytes", bytes = bytes.len()),
                expected,
            ));
        }
        if !is_photo(path) || self.files.contains_key(path) {
            return Err(Refusal::new(
                "photo",
                format!("\"{path}\""),
                say!("a free path below photos/"),
            ));
        }
        self.files.insert(path.to_owned(), bytes);
        Ok(())
    }
}

/// The score that a photo named in a note was taken for; none where the note names none.
pub fn photographed(note: &str) -> Option<&str> {
    let (_, name) = note.split_once(FOLDER)?;
    let id = name.split(['.', '_']).next().unwrap_or_default();
    (!id.is_empty()).then_some(id)
}

/// Whether a path of the folder is a picture's.
pub fn is_photo(path: &str) -> bool {
    path.starts_with(FOLDER)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{FileSet, open, pack, unpack};

    #[test]
    fn a_picture_lies_in_the_folder_by_the_name_of_its_score() {
        let head = br#"{"format": "leeward-plot", "version": 1, "name": "P",
            "layout": {"row_spacing_m": 3, "place_spacing_m": 1}}"#;
        let trees = b"tree_id,row,place\nA,1,1\n";
        let files = FileSet::from([
            ("plot.json".to_owned(), head.to_vec()),
            ("trees.csv".to_owned(), trees.to_vec()),
        ]);
        let mut book = open(files).0.expect("a book");
        for path in ["photos/019a-7f.jpg", "photos/019a-7f_2.jpg"] {
            assert_eq!(book.photo_path("019a-7f", "jpg").as_deref(), Ok(path));
            book.add_photo(path, path.into()).expect("a picture");
        }
        for (id, ending) in [("../x", "jpg"), ("x", "j/g"), ("", "jpg")] {
            book.photo_path(id, ending).expect_err("no plain name");
        }
        for (path, bytes) in [
            ("photos/019a-7f.jpg", vec![1]),
            ("plot.json", vec![1]),
            ("photos/x.jpg", Vec::new()),
            ("photos/x.jpg", vec![0; PHOTO_BYTES + 1]),
        ] {
            book.add_photo(path, bytes).expect_err(path);
        }
        let packed = unpack("copy.zip", &pack(book.files(), "p")).expect("an archive");
        assert_eq!(packed["p/photos/019a-7f_2.jpg"], b"photos/019a-7f_2.jpg");
        assert_eq!(open(packed).0.expect("a book").files(), book.files());
    }

    #[test]
    fn a_note_names_the_score_of_its_photo() {
        assert_eq!(photographed("two stems; photos/019a-7f_2.jpg"), Some("019a-7f"));
        assert_eq!(photographed("photos/"), None);
        assert_eq!(photographed("no photo"), None);
        assert!(is_photo("photos/x.jpg") && !is_photo("plot.json"));
    }
}
