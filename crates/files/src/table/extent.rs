//! How far one record reaches, and whether it keeps RFC 4180.

use std::ops::Range;

use language::say;

use crate::caps;

/// What parts the cells of the plot folder's own files.
pub(super) const COMMA: u8 = b',';

/// One record within the bytes of a file. A broken one is its first physical line only, so that
/// a stray quote cannot take the sound lines below it along.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Extent {
    start: usize,
    end: usize,
    /// Where the next record begins.
    pub(crate) next: usize,
    /// Physical lines that it spans.
    pub(crate) lines: u64,
    pub(crate) broken: Option<Broken>,
}

/// What breaks a record, and in which of its cells.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Broken {
    pub(super) cell: usize,
    how: How,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum How {
    QuoteWithin,
    TextAfterQuote,
    NotClosed,
    LoneReturn,
    TooLong,
    TooMany,
}

impl Broken {
    /// Whether it is a quote in the midst of a cell, which can be read as part of its text.
    pub(crate) fn is_quote_within(self) -> bool {
        matches!(self.how, How::QuoteWithin)
    }

    /// Whether it is a quote that does not fit, whatever parts the cells.
    pub(crate) fn is_of_quotes(self) -> bool {
        matches!(self.how, How::QuoteWithin | How::TextAfterQuote | How::NotClosed)
    }

    pub(crate) fn found(self) -> String {
        match self.how {
            How::QuoteWithin => say!("a quote within a cell that has none around it").to_owned(),
            How::TextAfterQuote => say!("text after a closing quote").to_owned(),
            How::NotClosed => say!("a quote that is not closed").to_owned(),
            How::LoneReturn => say!("a carriage return without a line feed").to_owned(),
            How::TooLong => say!("a cell longer than {most} bytes", most = caps::CELL_BYTES),
            How::TooMany => say!("more than {most} cells", most = caps::COLUMNS),
        }
    }

    pub(crate) fn expected(self) -> String {
        let words = match self.how {
            How::QuoteWithin => say!("the cell in quotes, and each quote within it doubled"),
            How::TextAfterQuote => say!("a comma or the end of the line, or the quote doubled"),
            How::NotClosed => say!("a closing quote"),
            How::LoneReturn => say!("line ends CRLF or LF"),
            How::TooLong => say!("a shorter cell, or a closing quote"),
            How::TooMany => return say!("at most {most}", most = caps::COLUMNS),
        };
        words.to_owned()
    }
}

impl Extent {
    /// The record that begins at `start`, its cells parted by `separator`.
    pub(crate) fn of(bytes: &[u8], start: usize, separator: u8) -> Self {
        let (mut at, mut lines, mut cell) = (start, 1, 0);
        loop {
            let ended = if bytes.get(at) == Some(&b'"') {
                quoted(bytes, at, separator, &mut lines)
            } else {
                bare(bytes, at, separator)
            };
            match ended {
                Err(how) => {
                    let broken = Some(Broken { cell, how });
                    return Self { broken, ..Self::physical_line(bytes, start) };
                }
                Ok(end) if bytes.get(end) == Some(&separator) => {
                    at = end + 1;
                    cell += 1;
                    if cell == caps::COLUMNS {
                        let broken = Some(Broken { cell, how: How::TooMany });
                        return Self { broken, ..Self::physical_line(bytes, start) };
                    }
                }
                Ok(end) => {
                    let next = end + line_end(bytes, end).unwrap_or(0);
                    return Self { start, end, next, lines, broken: None };
                }
            }
        }
    }

    /// Its first physical line.
    pub(crate) fn first_line(&self, bytes: &[u8]) -> Self {
        Self::physical_line(bytes, self.start)
    }

    /// The bytes without the line end.
    pub(crate) fn content(&self) -> Range<usize> {
        self.start..self.end
    }

    /// Whether its line end is CRLF.
    pub(super) fn crlf(&self, bytes: &[u8]) -> bool {
        bytes[self.end..].starts_with(b"\r\n")
    }

    fn physical_line(bytes: &[u8], start: usize) -> Self {
        let feed = bytes[start..].iter().position(|&byte| byte == b'\n');
        let next = feed.map_or(bytes.len(), |feed| start + feed + 1);
        let end = feed.map_or(bytes.len(), |feed| {
            start + feed - usize::from(feed > 0 && bytes[start + feed - 1] == b'\r')
        });
        Self { start, end, next, lines: 1, broken: None }
    }
}

/// Where a cell of the sound record at `start` lies, its quotes with it; none past its last cell.
pub(crate) fn cell_range(bytes: &[u8], start: usize, nth: usize) -> Option<Range<usize>> {
    let mut at = start;
    for cell in 0.. {
        let end = match bytes.get(at) {
            Some(b'"') => quoted(bytes, at, COMMA, &mut 0),
            _ => bare(bytes, at, COMMA),
        }
        .ok()?;
        if cell == nth {
            return Some(at..end);
        }
        if bytes.get(end) != Some(&COMMA) {
            break;
        }
        at = end + 1;
    }
    None
}

/// What the nth cell of a sound record says; none past its last cell, or where it is not UTF-8.
pub(crate) fn cell_text(record: &[u8], nth: usize) -> Option<String> {
    let text = std::str::from_utf8(&record[cell_range(record, 0, nth)?]).ok()?;
    Some(match text.strip_prefix('"').and_then(|text| text.strip_suffix('"')) {
        Some(within) => within.replace("\"\"", "\""),
        None => text.to_owned(),
    })
}

/// Where the record at `start` ends, before its line end.
pub(crate) fn record_end(bytes: &[u8], start: usize) -> usize {
    Extent::of(bytes, start, COMMA).end
}

/// Length of the line end at `at`; none when there is none.
fn line_end(bytes: &[u8], at: usize) -> Option<usize> {
    match (bytes.get(at), bytes.get(at + 1)) {
        (Some(b'\n'), _) => Some(1),
        (Some(b'\r'), Some(b'\n')) => Some(2),
        _ => None,
    }
}

/// End of a cell without quotes around it.
fn bare(bytes: &[u8], start: usize, separator: u8) -> Result<usize, How> {
    let stops = |&byte: &u8| byte == separator || matches!(byte, b'"' | b'\r' | b'\n');
    let length = bytes[start..].iter().position(stops).unwrap_or(bytes.len() - start);
    let end = start + length;
    match bytes.get(end) {
        _ if length > caps::CELL_BYTES => Err(How::TooLong),
        Some(b'"') => Err(How::QuoteWithin),
        Some(b'\r') if line_end(bytes, end).is_none() => Err(How::LoneReturn),
        _ => Ok(end),
    }
}

/// End of a cell in quotes, behind the closing quote; adds the line feeds within it to `lines`.
fn quoted(bytes: &[u8], start: usize, separator: u8, lines: &mut u64) -> Result<usize, How> {
    let mut at = start + 1;
    loop {
        match bytes.get(at) {
            None => return Err(How::NotClosed),
            Some(_) if at - start > caps::CELL_BYTES => return Err(How::TooLong),
            Some(b'"') if bytes.get(at + 1) == Some(&b'"') => at += 2,
            Some(b'"') => break,
            Some(b'\n') => {
                *lines += 1;
                at += 1;
            }
            Some(_) => at += 1,
        }
    }
    match bytes.get(at + 1) {
        None => Ok(at + 1),
        Some(&byte) if byte == separator => Ok(at + 1),
        _ if line_end(bytes, at + 1).is_some() => Ok(at + 1),
        Some(_) => Err(How::TextAfterQuote),
    }
}
