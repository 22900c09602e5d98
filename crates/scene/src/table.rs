//! The map as a table: its columns, and its lines in the order of one of them.

use std::cmp::{Ordering, Reverse};
use std::collections::{HashMap, HashSet};

use plot::{CrossKey, Plot, Tree, TreeIx};

use crate::{Kind, Sheet};

/// What a column of the table says of a tree.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Column {
    /// Row and place.
    Place,
    /// Tag.
    Tag,
    /// Parents, year and seedling number.
    Cross,
    /// What the layer shows.
    Class,
}

/// Which column orders the lines, and which way.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sorting {
    /// The column.
    pub column: Column,
    /// Whether its last comes first.
    pub descending: bool,
}

impl Column {
    /// All four, from left to right.
    pub const ALL: [Self; 4] = [Self::Place, Self::Tag, Self::Cross, Self::Class];

    /// How it is ordered when it is first asked for: what matters most on the map comes first.
    pub fn first_sorting(self) -> Sorting {
        Sorting { column: self, descending: self == Self::Class }
    }
}

impl Default for Sorting {
    fn default() -> Self {
        Column::Place.first_sorting()
    }
}

impl Sorting {
    /// After a column was asked for: the other way about, or by another column.
    pub fn asked_for(self, column: Column) -> Self {
        match self.column == column {
            true => Self { descending: !self.descending, ..self },
            false => column.first_sorting(),
        }
    }
}

/// The trees that a sheet shows, in order. Digits count as numbers, `Q-9` before `Q-11`, and large
/// and small letters alike. A tree without what the column says comes last either way; ties go by
/// row and place, then by tree index.
pub fn lines(plot: &Plot, sheet: &Sheet, sorting: Sorting) -> Vec<TreeIx> {
    let mut bytes: Vec<u8> = Vec::new();
    let kinds = by_kind(sheet);
    let crosses = by_name(plot, sorting.column);
    let mut lines: Vec<Line> = sheet
        .order()
        .iter()
        .map(|&tree| {
            let one = plot.tree(tree);
            let from = bytes.len();
            let (missing, kind) = match sorting.column {
                Column::Place => (one.row().is_none() || one.place().is_none(), 0),
                Column::Tag => (natural(one.tag().unwrap_or_default(), &mut bytes), 0),
                Column::Cross => {
                    bytes.extend(one.draft().cross_year.unwrap_or(i32::MAX).to_be_bytes());
                    natural(one.draft().seedling_no.as_deref().unwrap_or_default(), &mut bytes);
                    (one.cross().is_unknown(), crosses.get(one.cross()).copied().unwrap_or(0))
                }
                Column::Class => (false, kinds[usize::from(sheet.codes()[tree.get()])]),
            };
            let place = (one.row().unwrap_or(i32::MAX), one.place().unwrap_or(i32::MAX));
            Line {
                missing,
                kind,
                head: head(&bytes[from..]),
                text: (from, bytes.len()),
                place,
                tree,
            }
        })
        .collect();
    let text = |line: &Line| &bytes[line.text.0..line.text.1];
    let by_column = |a: &Line, b: &Line| match sorting.column {
        Column::Place => a.place.cmp(&b.place),
        _ => (a.kind, a.head).cmp(&(b.kind, b.head)).then_with(|| text(a).cmp(text(b))),
    };
    lines.sort_unstable_by(|a, b| {
        let ordered = match sorting.descending {
            true => by_column(b, a),
            false => by_column(a, b),
        };
        let ties = || (a.place, a.tree).cmp(&(b.place, b.tree));
        let by_column = if a.missing { Ordering::Equal } else { ordered };
        a.missing.cmp(&b.missing).then(by_column).then_with(ties)
    });
    lines.into_iter().map(|line| line.tree).collect()
}

/// What orders one tree: its class or cross, then words; `text` is where in a common store they
/// lie, `head` their beginning.
struct Line {
    missing: bool,
    kind: u32,
    head: u64,
    text: (usize, usize),
    place: (i32, i32),
    tree: TreeIx,
}

/// The rank of every code, the least weighty on the map first.
fn by_kind(sheet: &Sheet) -> Vec<u32> {
    let mut codes: Vec<usize> = (0..sheet.classes().len()).collect();
    // Of unordered classes and of breaks the first in the legend comes first where the last is
    // asked for.
    let weight =
        |code: &usize| -> (Kind, Reverse<usize>) { (sheet.classes()[*code].kind, Reverse(*code)) };
    codes.sort_by_key(weight);
    let mut ranks = vec![0; 256];
    for (rank, code) in (0..).zip(codes) {
        ranks[code] = rank;
    }
    ranks
}

/// The rank of every cross by its name, where the lines are ordered by it.
fn by_name(plot: &Plot, column: Column) -> HashMap<&CrossKey, u32> {
    if column != Column::Cross {
        return HashMap::new();
    }
    let all: HashSet<&CrossKey> = plot.trees().iter().map(Tree::cross).collect();
    let mut named: Vec<(Vec<u8>, &CrossKey)> = Vec::with_capacity(all.len());
    for cross in all {
        let mut key = Vec::new();
        natural(&cross.to_string(), &mut key);
        named.push((key, cross));
    }
    named.sort();
    named.into_iter().zip(0..).map(|((_, cross), rank)| (cross, rank)).collect()
}

/// Writes the key of a text at the end of `out`: small letters, and each run of digits as one
/// number, by its length and its digits. Whether there was nothing to write.
fn natural(text: &str, out: &mut Vec<u8>) -> bool {
    let from = out.len();
    let mut rest = text.trim().chars().peekable();
    while let Some(letter) = rest.next() {
        if !letter.is_ascii_digit() {
            let mut utf8 = [0; 4];
            for small in letter.to_lowercase() {
                out.extend_from_slice(small.encode_utf8(&mut utf8).as_bytes());
            }
            continue;
        }
        out.extend([b'0', 0]);
        let digits = out.len();
        out.push(letter as u8);
        while let Some(digit) = rest.next_if(char::is_ascii_digit) {
            if out[digits..] == [b'0'] {
                out.pop();
            }
            out.push(digit as u8);
        }
        out[digits - 1] = (out.len() - digits).min(255) as u8;
    }
    out.len() == from
}

/// The first eight bytes of a key as a number that orders like them.
fn head(key: &[u8]) -> u64 {
    let mut head = [0; 8];
    let length = key.len().min(8);
    head[..length].copy_from_slice(&key[..length]);
    u64::from_be_bytes(head)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn digits_count_as_numbers_and_letters_alike() {
        let key = |text: &str| {
            let mut key = Vec::new();
            natural(text, &mut key);
            key
        };
        let ordered = [
            "",
            "7",
            "11",
            "A",
            "b-2",
            "B-10",
            "Q",
            "Q-9",
            "q-11",
            "Q-11a",
            "Q-11b",
            "Q-100",
            "Q-20000000000000000000000001",
            "Q-20000000000000000000000002",
            "Qu",
            "Éa",
        ];
        for pair in ordered.windows(2) {
            let (less, more) = (key(pair[0]), key(pair[1]));
            assert!(less < more, "{pair:?}");
            assert!(head(&less) <= head(&more), "{pair:?}");
        }
        assert_eq!(key("Q-007"), key("q-7"));
        assert_eq!(key("0"), key("000"));
        assert!(natural("  ", &mut Vec::new()) && !natural(" x", &mut Vec::new()));
    }
}
