//! What parts the cells of a line.

use super::rows::Reading;

/// What parts the cells of a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Separator {
    /// A tab, as sheets paste.
    Tab,
    /// `;`
    Semicolon,
    /// `|`
    Pipe,
    /// `,`
    Comma,
}

/// Text that is looked at, bytes.
const LOOKED_AT_BYTES: usize = 64 << 10;

impl Separator {
    /// All of them; among equals the first is taken.
    pub const ALL: [Self; 4] = [Self::Tab, Self::Semicolon, Self::Pipe, Self::Comma];

    /// As a byte.
    pub fn byte(self) -> u8 {
        match self {
            Self::Tab => b'\t',
            Self::Semicolon => b';',
            Self::Pipe => b'|',
            Self::Comma => b',',
        }
    }

    /// What parts the text into the most lines of equally many cells, and the most cells; a comma
    /// where nothing does.
    pub fn sniff(text: &str) -> Self {
        let mut end = text.len().min(LOOKED_AT_BYTES);
        while !text.is_char_boundary(end) {
            end -= 1;
        }
        let whole =
            if end < text.len() { text[..end].rfind('\n').map_or(end, |at| at + 1) } else { end };
        let text = &text[..whole];
        let mut best = (0.0, Self::Comma);
        for separator in Self::ALL {
            let evenness = evenness(text, separator);
            if evenness > best.0 {
                best = (evenness, separator);
            }
        }
        best.1
    }
}

/// The share of lines that have the most common number of cells, squared, times how often the
/// separator stands in these.
fn evenness(text: &str, separator: Separator) -> f64 {
    let rows = Reading::new(text.to_owned(), separator).to_end();
    let mut counts = std::collections::BTreeMap::<usize, usize>::new();
    let filled = (0..rows.len()).filter(|&nth| rows.filled(nth) > 0);
    filled.for_each(|nth| *counts.entry(rows.cells(nth)).or_default() += 1);
    let lines: usize = counts.values().sum();
    let parted = counts.into_iter().filter(|&(cells, _)| cells > 1);
    let Some((cells, alike)) = parted.max_by_key(|&(cells, alike)| (alike, cells)) else {
        return 0.0;
    };
    let share = alike as f64 / lines as f64;
    share * share * (cells - 1) as f64
}

#[cfg(test)]
mod tests {
    use super::Separator::{self, Comma, Pipe, Semicolon, Tab};

    #[test]
    fn separators_are_told() {
        let check =
            |text: &str, expect: Separator| assert_eq!(Separator::sniff(text), expect, "{text}");
        check("", Comma);
        check("tag\nQ-1\nQ-2", Comma);
        check("row,place\n1,2", Comma);
        check("row;place;x\n1;2;0,75\n1;3;1,50", Semicolon);
        check("row\tplace\n1\t2", Tab);
        check("row|place|note\n1|2|a, b; c\n1|3|d", Pipe);
        check("row,place,note\n1,2,\"a; b; c; d\"\n1,3,\"e;f\"", Comma);
        check("Plan, as planted; spring\n\nrow;place\n1;2\n1;3\n", Semicolon);
        check("row;place;note\n1;2;\"over\ntwo, three, four\nlines\"\n", Semicolon);
    }
}
