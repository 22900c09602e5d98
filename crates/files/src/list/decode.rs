//! How text is written in bytes: told by a mark at the start, by what is valid UTF-8, by zeros.

use std::borrow::Cow;

/// How text is written in bytes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Encoding {
    /// UTF-8, with or without a byte order mark.
    Utf8,
    /// UTF-16, the low byte first.
    Utf16Le,
    /// UTF-16, the high byte first.
    Utf16Be,
    /// Windows-1252, of which Latin-1 is a part.
    Windows1252,
}

impl Encoding {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Utf8, Self::Utf16Le, Self::Utf16Be, Self::Windows1252];

    /// What the bytes look like.
    ///
    /// A byte order mark decides. Without one, text in which every second byte is zero more often
    /// than not is UTF-16, what is valid UTF-8 is UTF-8, and all else Windows-1252: Latin-1 text
    /// with an accent is hardly ever valid UTF-8.
    pub fn sniff(bytes: &[u8]) -> Self {
        match bytes {
            [0xff, 0xfe, ..] => return Self::Utf16Le,
            [0xfe, 0xff, ..] => return Self::Utf16Be,
            [0xef, 0xbb, 0xbf, ..] => return Self::Utf8,
            _ => {}
        }
        let start = &bytes[..bytes.len().min(4096)];
        let zeros = |from| start.iter().skip(from).step_by(2).filter(|&&byte| byte == 0).count();
        let (even, odd) = (zeros(0), zeros(1));
        let many = start.len() / 4;
        if odd > many && odd > even {
            Self::Utf16Le
        } else if even > many {
            Self::Utf16Be
        } else if std::str::from_utf8(bytes).is_ok() {
            Self::Utf8
        } else {
            Self::Windows1252
        }
    }
}

/// The text of bytes, its line ends CRLF or LF, without a byte order mark. What the encoding has
/// no letter for becomes U+FFFD.
pub fn decode(bytes: &[u8], encoding: Encoding) -> String {
    let text: Cow<'_, str> = match encoding {
        Encoding::Utf8 => String::from_utf8_lossy(bytes),
        Encoding::Utf16Le => utf16(bytes, u16::from_le_bytes).into(),
        Encoding::Utf16Be => utf16(bytes, u16::from_be_bytes).into(),
        Encoding::Windows1252 => yore::code_pages::CP1252.decode(bytes),
    };
    let text = text.strip_prefix('\u{feff}').unwrap_or(&text);
    // Lists of old machines end their lines with a carriage return alone.
    if text.contains('\r') && !text.contains('\n') {
        return text.replace('\r', "\n");
    }
    text.to_owned()
}

fn utf16(bytes: &[u8], unit: fn([u8; 2]) -> u16) -> String {
    let pairs = bytes.chunks_exact(2).map(|pair| unit([pair[0], pair[1]]));
    let text: String = char::decode_utf16(pairs)
        .map(|letter| letter.unwrap_or(char::REPLACEMENT_CHARACTER))
        .collect();
    match bytes.len() % 2 {
        0 => text,
        _ => text + "\u{fffd}",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn encodings_are_told_and_read() {
        let check = |bytes: &[u8], encoding: Encoding, text: &str| {
            assert_eq!(Encoding::sniff(bytes), encoding, "{bytes:?}");
            assert_eq!(decode(bytes, encoding), text);
        };
        check(b"", Encoding::Utf8, "");
        check("Bäume;Größe".as_bytes(), Encoding::Utf8, "Bäume;Größe");
        check(b"\xef\xbb\xbfrow", Encoding::Utf8, "row");
        check(b"B\xe4ume \x80\x96", Encoding::Windows1252, "Bäume €–");
        check(b"\xff\xfer\0\xe4\0", Encoding::Utf16Le, "rä");
        check(b"\xfe\xff\0r\0\xe4", Encoding::Utf16Be, "rä");
        check(b"r\0o\0w\0", Encoding::Utf16Le, "row");
        check(b"\0r\0o\0w", Encoding::Utf16Be, "row");
        check(b"row\rplace\r", Encoding::Utf8, "row\nplace\n");
        check(b"row\r\nplace", Encoding::Utf8, "row\r\nplace");
    }

    #[test]
    fn what_has_no_letter_is_shown_as_such() {
        assert_eq!(decode(b"a\xe4b", Encoding::Utf8), "a\u{fffd}b");
        assert_eq!(decode(b"a\x81", Encoding::Windows1252), "a\u{81}");
        assert_eq!(decode(b"\x00\xd8x", Encoding::Utf16Le), "\u{fffd}\u{fffd}");
    }
}
