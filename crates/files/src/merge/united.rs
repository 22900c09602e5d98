//! The union of two tables: which lines there are, which version of each is kept, and what is
//! written.

use std::collections::{BTreeMap, BTreeSet, HashMap};

use csv::StringRecord;

use super::rows::{self, Row, Rows};

/// What two tables make.
pub(super) struct United {
    pub(super) bytes: Vec<u8>,
    pub(super) added: usize,
    pub(super) conflicts: Vec<Differs>,
}

/// Id, the version that is kept, one that is not.
pub(super) type Differs = (String, Row, Row);

/// Unites two tables. `key` is the column that tells lines apart; `open` are the versions of a
/// line, by its id, that earlier merges left to be decided.
pub(super) fn united(
    base: &Rows,
    more: Option<&Rows>,
    key: Option<&str>,
    open: &BTreeMap<String, BTreeSet<Row>>,
) -> United {
    let mut gathered = Gathered::default();
    for rows in [Some(base), more].into_iter().flatten() {
        gathered.take(rows, key);
    }
    let (kept, conflicts) = gathered.settle(open);
    let mut columns = base.columns.clone();
    for column in more.iter().flat_map(|more| &more.columns) {
        if !columns.contains(column) {
            columns.push(column.clone());
        }
    }
    let is_new = |line: &Line<'_>| !std::ptr::eq(line.rows, base);
    let row =
        |(nth, line): (usize, &Line<'_>)| kept.get(&nth).cloned().unwrap_or_else(|| line.row());
    let replaced = kept.iter().any(|(&nth, kept)| {
        let line = &gathered.lines[nth];
        !is_new(line) && *kept != line.row()
    });
    let all = gathered.lines.iter().enumerate();
    let crlf = rows::ends_in_crlf(&base.bytes);
    let bytes = if replaced || columns.len() > base.columns.len() {
        rows::lines(&columns, all.map(row), crlf)
    } else {
        rows::appended(base, all.filter(|(_, line)| is_new(line)).map(row), crlf)
    };
    let added = gathered.lines.iter().filter(|line| is_new(line)).count();
    United { bytes, added, conflicts }
}

/// The version that is kept of several, and those that are not, with what is open of it already.
pub(super) fn settled(
    id: &str,
    versions: &BTreeSet<Row>,
    open: &BTreeSet<Row>,
) -> (Option<Row>, Vec<Differs>) {
    let Some(winner) = versions.iter().max_by_key(|row| (row.len(), *row)) else {
        return (None, Vec::new());
    };
    let others = versions.union(open).filter(|other| *other != winner);
    let differ = others.map(|other| (id.to_owned(), winner.clone(), other.clone())).collect();
    (Some(winner.clone()), differ)
}

/// A line as it was met first.
struct Line<'a> {
    id: String,
    rows: &'a Rows,
    record: &'a StringRecord,
}

impl Line<'_> {
    fn row(&self) -> Row {
        self.rows.row(self.record)
    }
}

/// The lines of several tables in the order in which their ids were met.
#[derive(Default)]
struct Gathered<'a> {
    lines: Vec<Line<'a>>,
    nth_of: HashMap<String, usize>,
    /// Lines with several versions: few, and only they are looked at cell by cell.
    several: BTreeMap<usize, BTreeSet<Row>>,
}

impl<'a> Gathered<'a> {
    fn take(&mut self, rows: &'a Rows, key: Option<&str>) {
        for record in &rows.records {
            let id = rows.id(record, key);
            let Some(&nth) = self.nth_of.get(&id) else {
                self.nth_of.insert(id.clone(), self.lines.len());
                self.lines.push(Line { id, rows, record });
                continue;
            };
            let first = &self.lines[nth];
            if first.rows.columns != rows.columns || first.record != record {
                self.several.entry(nth).or_default().extend([first.row(), rows.row(record)]);
            }
        }
    }

    /// The version that is kept of each line that has several, and those that are not.
    fn settle(
        &self,
        open: &BTreeMap<String, BTreeSet<Row>>,
    ) -> (BTreeMap<usize, Row>, Vec<Differs>) {
        let mut several = self.several.clone();
        for nth in open.keys().filter_map(|id| self.nth_of.get(id)) {
            several.entry(*nth).or_default().insert(self.lines[*nth].row());
        }
        let (mut kept, mut conflicts, none) = (BTreeMap::new(), Vec::new(), BTreeSet::new());
        for (nth, versions) in several {
            let id = &self.lines[nth].id;
            let open = open.get(id).unwrap_or(&none);
            let (winner, differ) = settled(id, &versions, open);
            conflicts.extend(differ);
            kept.extend(winner.map(|winner| (nth, winner)));
        }
        (kept, conflicts)
    }
}
