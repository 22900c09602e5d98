//! An append-only log of checksummed records: what was written whole is read back whole, whatever
//! happened to the rest.
//!
//! A record is a head line `+<kind> <length> <CRC-32 of kind and payload, 8 hex digits>`, the
//! payload, and a line feed. It can be read with any text editor when all else fails.
//!
//! A log says its format in a record of kind `V`; one without it is of format 1. A page opens every
//! log of its own format or an older one, and leaves a newer one alone. An older log becomes one of
//! this format when the first edit or decision is added, by such a record before it.

/// The format of the logs that this version writes: 2 may hold edits of trees, 3 also edits of where
/// the plot lies, 4 also decisions.
const FORMAT: u32 = 4;
/// The format of the log, in digits.
const VERSION: u8 = b'V';

/// A record as it stands in a log.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Record<'a> {
    /// What it is, one ASCII letter.
    pub kind: u8,
    /// What it holds.
    pub payload: &'a [u8],
}

/// A log read back.
#[derive(Debug, PartialEq, Eq)]
pub struct Read<'a> {
    /// The records that are whole, in order.
    pub records: Vec<Record<'a>>,
    /// Bytes that belong to no whole record.
    pub torn: usize,
    /// Where the last whole record ends; what lies behind may be cut off.
    pub end: usize,
    /// Whether a newer version of this page has written it.
    pub is_newer: bool,
    /// Whether it is of an older format.
    pub is_older: bool,
}

/// What a record ends with.
pub const END: &[u8] = b"\n";

/// The bytes of a record.
pub fn record(kind: u8, payload: &[u8]) -> Vec<u8> {
    [head(kind, &[payload]).as_bytes(), payload, END].concat()
}

/// The record that a new log begins with.
pub fn version() -> Vec<u8> {
    record(VERSION, FORMAT.to_string().as_bytes())
}

/// Reads a log. Damage in the middle costs the records it hit, none of those behind.
pub fn read(bytes: &[u8]) -> Read<'_> {
    let mut read = Read { records: Vec::new(), torn: 0, end: 0, is_newer: false, is_older: true };
    let mut at = 0;
    while at < bytes.len() {
        match whole(&bytes[at..]) {
            Some((record, length)) => {
                match record.kind {
                    VERSION => {
                        read.is_newer |= is_newer(record.payload);
                        read.is_older &= record.payload != FORMAT.to_string().as_bytes();
                    }
                    _ => read.records.push(record),
                }
                at += length;
                read.end = at;
            }
            None => {
                let next = next_head(bytes, at + 1);
                read.torn += next - at;
                at = next;
            }
        }
    }
    read
}

fn is_newer(format: &[u8]) -> bool {
    let format = std::str::from_utf8(format).ok().and_then(|digits| digits.parse::<u32>().ok());
    format.is_none_or(|format| format > FORMAT)
}

/// The head of a record whose payload comes in parts.
pub fn head(kind: u8, parts: &[&[u8]]) -> String {
    format!("+{} {} {:08x}\n", kind as char, length(parts), checksum(kind, parts))
}

fn length(parts: &[&[u8]]) -> usize {
    parts.iter().map(|part| part.len()).sum()
}

fn checksum(kind: u8, parts: &[&[u8]]) -> u32 {
    let mut sum = crc32fast::Hasher::new();
    sum.update(&[kind]);
    parts.iter().for_each(|part| sum.update(part));
    sum.finalize()
}

/// The record at the start of `bytes`, with its length in the log; none if it is not whole.
fn whole(bytes: &[u8]) -> Option<(Record<'_>, usize)> {
    let line = bytes.iter().take(32).position(|&byte| byte == b'\n')?;
    let mut words = std::str::from_utf8(&bytes[..line]).ok()?.split(' ');
    let &[b'+', kind] = words.next()?.as_bytes() else { return None };
    let length: usize = words.next()?.parse().ok()?;
    let from = line + 1;
    let payload = bytes.get(from..from.checked_add(length)?)?;
    let is_whole = bytes.get(from + length) == Some(&b'\n')
        && bytes[..from] == *head(kind, &[payload]).as_bytes();
    is_whole.then_some((Record { kind, payload }, from + length + 1))
}

fn next_head(bytes: &[u8], from: usize) -> usize {
    let at = bytes.get(from..).unwrap_or_default().iter().position(|&byte| byte == b'+');
    at.map_or(bytes.len(), |at| from + at)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Payloads that look like heads, ends and nothing at all.
    const PAYLOADS: [&[u8]; 5] = [b"a,b\n", b"", b"+L 3 00000000\nabc\n", b"\n+\n+L", b"last"];

    fn log() -> Vec<u8> {
        PAYLOADS.iter().flat_map(|payload| record(b'L', payload)).collect()
    }

    fn payloads<'a>(read: &Read<'a>) -> Vec<&'a [u8]> {
        read.records.iter().map(|record| record.payload).collect()
    }

    #[test]
    fn what_is_written_is_read() {
        let log = log();
        let read = read(&log);
        assert_eq!(payloads(&read), PAYLOADS);
        assert_eq!((read.torn, read.end), (0, log.len()));
    }

    /// The checksum is that of Python's `zlib.crc32(b"L123")`.
    #[test]
    fn a_record_is_text_that_an_editor_shows() {
        assert_eq!(record(b'L', b"123"), b"+L 3 878f8259\n123\n");
    }

    #[test]
    fn a_log_cut_anywhere_gives_its_whole_records() {
        let log = log();
        let ends: Vec<usize> = PAYLOADS
            .iter()
            .scan(0, |end, payload| {
                *end += record(b'L', payload).len();
                Some(*end)
            })
            .collect();
        for cut in 0..=log.len() {
            let whole = ends.iter().filter(|&&end| end <= cut).count();
            let read = read(&log[..cut]);
            assert_eq!(payloads(&read), PAYLOADS[..whole], "cut at {cut}");
            assert_eq!(read.end + read.torn, cut, "cut at {cut}");
        }
    }

    #[test]
    fn a_log_of_a_newer_format_is_told_from_ours() {
        let check = |format: &str, expected: bool| {
            let bytes = [record(VERSION, format.as_bytes()), log()].concat();
            let read = read(&bytes);
            assert_eq!(read.is_newer, expected, "format {format:?}");
            assert_eq!(read.is_older, format != "4", "format {format:?}");
            assert_eq!(payloads(&read), PAYLOADS, "format {format:?}");
        };
        check("1", false);
        check("2", false);
        check("3", false);
        check("4", false);
        check("5", true);
        check("1b", true);
        check("", true);
        assert!(!read(&log()).is_newer, "a log that says none is of format 1");
        assert!(!read(&version()).is_newer, "ours");
        // An older log that an edit was added to.
        let raised = [record(VERSION, b"2"), version(), log()].concat();
        assert!(!read(&raised).is_newer && !read(&raised).is_older);
    }

    #[test]
    fn damage_costs_the_record_it_hit_and_none_behind() {
        let log = log();
        for at in 0..log.len() {
            let mut damaged = log.clone();
            damaged[at] ^= 0x15;
            let read = read(&damaged);
            let found = payloads(&read);
            assert!(found.len() >= PAYLOADS.len() - 1, "byte {at}: {found:?}");
            let mut rest = PAYLOADS.iter();
            let in_order = found.iter().all(|one| rest.any(|payload| payload == one));
            assert!(in_order, "byte {at}: {found:?}");
        }
    }
}
