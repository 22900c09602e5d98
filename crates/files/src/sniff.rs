//! What bytes look like that are not the text one hoped for.

use language::say;

/// Names the kind of file when `bytes` are plainly not UTF-8 text with a first line.
pub(crate) fn not_text(bytes: &[u8]) -> Option<&'static str> {
    let signatures: [(&[u8], &str); 9] = [
        (b"\x89PNG\r\n\x1a\n", say!("a PNG picture")),
        (b"\xff\xd8\xff", say!("a JPEG picture")),
        (b"GIF8", say!("a GIF picture")),
        (b"RIFF", say!("a RIFF file (a WebP picture is one)")),
        (b"%PDF-", say!("a PDF document")),
        (b"PK\x03\x04", say!("a ZIP archive (a spreadsheet workbook is one)")),
        (b"\xd0\xcf\x11\xe0", say!("an old spreadsheet workbook")),
        (b"\xff\xfe", say!("UTF-16 text")),
        (b"\xfe\xff", say!("UTF-16 text")),
    ];
    let signed = signatures.into_iter().find(|(signature, _)| bytes.starts_with(signature));
    if let Some((_, name)) = signed {
        return Some(name);
    }
    let first_line = bytes.split(|&byte| byte == b'\n').next().unwrap_or_default();
    first_line.contains(&0).then(|| say!("binary bytes"))
}

#[cfg(test)]
mod tests {
    use super::not_text;

    #[test]
    fn kinds_of_files_are_told_by_their_first_bytes() {
        let check = |bytes: &[u8], expected: Option<&str>| assert_eq!(not_text(bytes), expected);
        check(b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", Some("a PNG picture"));
        check(b"\xff\xd8\xff\xe0", Some("a JPEG picture"));
        check(b"PK\x03\x04\x14", Some("a ZIP archive (a spreadsheet workbook is one)"));
        check(b"\xff\xfet\0r\0", Some("UTF-16 text"));
        check(b"tree\0id,row\n", Some("binary bytes"));
        check(b"tree_id,row\nA\0,1\n", None);
        check(b"\xef\xbb\xbftree_id,row\n", None);
        check(b"", None);
    }
}
