//! `trees.csv` laid open for changes: which record is which tree's, cells and records written anew,
//! every other byte as it was.

use std::collections::HashMap;
use std::ops::Range;

use language::say;
use plot::{Plot, Refusal, TreeField, TreeLine};

use crate::findings::Findings;
use crate::table::{Column, Header, Table, cell_range, cell_text, header_end};
use crate::trees::{self, TreeColumn};

/// A piece of the file.
#[derive(Clone, Debug)]
enum Piece {
    /// As it was read.
    Kept(Range<usize>),
    /// Written anew.
    Written(Vec<u8>),
    /// No longer there.
    Gone,
}

/// `trees.csv` laid open. The header is the first piece; every record, blank line and faulty line
/// is a piece with its line end.
#[derive(Debug)]
pub(crate) struct TreeSheet<'a> {
    bytes: &'a [u8],
    header: Header,
    pieces: Vec<Piece>,
    of_tree: HashMap<String, usize>,
    has_more_columns: bool,
}

impl<'a> TreeSheet<'a> {
    /// Lays a file open from which the trees of the plot were read.
    ///
    /// # Errors
    /// A file that is no table of trees.
    pub(crate) fn of(bytes: &'a [u8], plot: &Plot) -> Result<Self, Refusal> {
        let mut findings = Findings::of(trees::FILE);
        let mut table =
            Table::new(bytes, &[TreeColumn::TreeId], &mut findings).ok_or_else(|| {
                Refusal::new("tree_id", say!("no table of trees"), say!("trees.csv with one"))
            })?;
        let header = table.header().clone();
        let mut pieces = vec![Piece::Kept(0..table.at())];
        let mut of_tree = HashMap::with_capacity(plot.trees().len());
        while table.at() < bytes.len() {
            let (start, faults) = (table.at(), findings.faults());
            let mut id = None;
            table.step(bytes, 1, &mut findings, &mut |line| {
                let said = line.text(TreeColumn::TreeId);
                let found = said.and_then(|id| Some((id, plot.tree_ix(id)?)));
                match found.filter(|&(id, ix)| {
                    !of_tree.contains_key(id) && trees::is_line_of(line, plot, ix)
                }) {
                    Some((found, _)) => id = Some(found.to_owned()),
                    // As it was when it was read: only so a stray quote gives back what it took.
                    None => line.refuse(Refusal::new("tree_id", "no tree", "a tree")),
                }
            });
            if let Some(id) = id.filter(|_| findings.faults() == faults) {
                of_tree.insert(id, pieces.len());
            }
            pieces.push(Piece::Kept(start..table.at()));
        }
        Ok(Self { bytes, header, pieces, of_tree, has_more_columns: false })
    }

    /// Whether a tree has a record.
    pub(crate) fn has(&self, tree: &str) -> bool {
        self.of_tree.contains_key(tree)
    }

    /// Whether a column was added.
    pub(crate) fn has_more_columns(&self) -> bool {
        self.has_more_columns
    }

    /// What a cell says; empty where the file has no such column, none without such a tree.
    pub(crate) fn text(&self, tree: &str, field: TreeField) -> Option<String> {
        let record = self.piece(*self.of_tree.get(tree)?);
        let nth = self.header.place_of(field);
        Some(nth.and_then(|nth| cell_text(record, nth)).unwrap_or_default())
    }

    /// Whether the record of a tree says what the line says, and nothing else.
    pub(crate) fn says(&self, line: &TreeLine) -> bool {
        let is_same = |&field: &TreeField| {
            let text = self.text(line.id.as_str(), field);
            text.is_some_and(|text| field.says_the_same(&text, line.cell(field)))
        };
        TreeField::ALL.iter().all(is_same)
    }

    /// The first column that is not known here and yet filled in a tree's record.
    pub(crate) fn filled_unknown(&self, tree: &str) -> Option<&str> {
        let record = self.piece(*self.of_tree.get(tree)?);
        let mut unknown = self.header.known.iter().enumerate().filter(|(_, known)| known.is_none());
        let is_filled = |nth| cell_text(record, nth).is_some_and(|text| !text.is_empty());
        let (nth, _) = unknown.find(|&(nth, _)| is_filled(nth))?;
        Some(&self.header.names[nth])
    }

    /// Makes a cell say something else; a column that is missing is added, empty in each tree's
    /// record.
    pub(crate) fn set(&mut self, tree: &str, field: TreeField, text: &str) {
        let Some(&at) = self.of_tree.get(tree) else { return };
        let nth = self.need(field);
        let mut record = self.piece(at).to_vec();
        if let Some(range) = cell_range(&record, 0, nth) {
            record.splice(range, written(text));
            self.pieces[at] = Piece::Written(record);
        }
    }

    /// Adds a record at the end. Where the file's last line has no end, the new one has none.
    pub(crate) fn add(&mut self, line: &TreeLine) {
        for &field in line.cells.keys() {
            self.need(field);
        }
        let mut record = Vec::new();
        let is_ended = self.is_ended();
        if !is_ended {
            // The end that it lacks belongs to the line before, so that taking the new one out
            // again leaves no trace.
            let end = self.line_end();
            let last = self.last_piece();
            let mut before = self.piece(last).to_vec();
            before.extend_from_slice(end);
            self.pieces[last] = Piece::Written(before);
        }
        for (nth, known) in self.header.known.iter().enumerate() {
            if nth > 0 {
                record.push(b',');
            }
            let Some(known) = *known else { continue };
            if known == TreeColumn::TreeId.nth() {
                record.extend(written(line.id.as_str()));
            } else if let Some(field) = TreeField::parse(TreeColumn::NAMES[known]) {
                record.extend(written(line.cell(field)));
            }
        }
        if is_ended {
            record.extend_from_slice(self.line_end());
        }
        self.of_tree.insert(line.id.as_str().to_owned(), self.pieces.len());
        self.pieces.push(Piece::Written(record));
    }

    /// Takes a record out, with its line end; that of the last line goes with the one before it.
    pub(crate) fn take_out(&mut self, tree: &str) {
        let Some(at) = self.of_tree.remove(tree) else { return };
        let was_ended = self.piece(at).ends_with(b"\n");
        self.pieces[at] = Piece::Gone;
        if !was_ended {
            let last = self.last_piece();
            let mut before = self.piece(last).to_vec();
            if before.pop_if(|byte| *byte == b'\n').is_some() {
                before.pop_if(|byte| *byte == b'\r');
            }
            self.pieces[last] = Piece::Written(before);
        }
    }

    /// The file as it is now, and the trees that have a record in it.
    pub(crate) fn finish(self) -> (Vec<u8>, HashMap<String, usize>) {
        let mut bytes = Vec::with_capacity(self.bytes.len() + 1024);
        for at in 0..self.pieces.len() {
            bytes.extend_from_slice(self.piece(at));
        }
        (bytes, self.of_tree)
    }

    fn piece(&self, at: usize) -> &[u8] {
        match &self.pieces[at] {
            Piece::Kept(range) => &self.bytes[range.clone()],
            Piece::Written(bytes) => bytes,
            Piece::Gone => &[],
        }
    }

    /// The last piece that holds anything.
    fn last_piece(&self) -> usize {
        (0..self.pieces.len()).rev().find(|&at| !self.piece(at).is_empty()).unwrap_or(0)
    }

    fn is_ended(&self) -> bool {
        self.piece(self.last_piece()).ends_with(b"\n")
    }

    fn line_end(&self) -> &'static [u8] {
        if self.header.crlf { b"\r\n" } else { b"\n" }
    }

    /// Where a column stands, which is added if need be.
    fn need(&mut self, field: TreeField) -> usize {
        if let Some(nth) = self.header.place_of(field) {
            return nth;
        }
        self.has_more_columns = true;
        let mut head = self.piece(0).to_vec();
        let end = header_end(&head);
        head.splice(end..end, format!(",{}", field.as_str()).into_bytes());
        self.pieces[0] = Piece::Written(head);
        let records: Vec<usize> = self.of_tree.values().copied().collect();
        for at in records {
            let mut record = self.piece(at).to_vec();
            let end = record.len() - line_end_of(&record);
            record.insert(end, b',');
            self.pieces[at] = Piece::Written(record);
        }
        self.header.add(field)
    }
}

/// Length of the line end of a record.
fn line_end_of(record: &[u8]) -> usize {
    match record {
        [.., b'\r', b'\n'] => 2,
        [.., b'\n'] => 1,
        _ => 0,
    }
}

impl Column for TreeField {
    const NAMES: &'static [&'static str] = TreeColumn::NAMES;
    fn nth(self) -> usize {
        let place = Self::NAMES.iter().position(|name| *name == self.as_str());
        place.expect("each field is a column")
    }
}

/// A cell as RFC 4180 writes it: in quotes where it must be.
fn written(text: &str) -> Vec<u8> {
    if text.contains([',', '"', '\r', '\n']) {
        return format!("\"{}\"", text.replace('"', "\"\"")).into_bytes();
    }
    text.as_bytes().to_vec()
}
