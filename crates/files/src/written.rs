//! A plot made from scratch written as a folder, and records as lines of CSV.

use plot::Plot;

use crate::scores::ScoreColumn;
use crate::table::Column;
use crate::trees::TreeColumn;
use crate::{FileSet, head, scores, trees};

/// The plot folder of a plot: `plot.json`, `trees.csv` and `scores.csv`, trees and scores in the
/// plot's order.
pub fn write(plot: &Plot) -> FileSet {
    write_with_ends(plot, [None, None])
}

/// The same, with what people call the end where place numbers begin and the one where they stop.
pub fn write_with_ends(plot: &Plot, ends: [Option<&str>; 2]) -> FileSet {
    FileSet::from([
        ("plot.json".to_owned(), head::to_json(plot.head(), ends)),
        (trees::FILE.to_owned(), trees_csv(plot)),
        (scores::FILE.to_owned(), scores_csv(plot)),
    ])
}

fn trees_csv(plot: &Plot) -> Vec<u8> {
    let columns = trees::columns_of(plot);
    let mut lines = Lines::new(false);
    lines.push(columns.iter().map(|&nth| TreeColumn::NAMES[nth]));
    for tree in plot.trees() {
        let cells = trees::cells(tree);
        lines.push(columns.iter().map(|&nth| cells[nth].as_str()));
    }
    lines.into_bytes()
}

fn scores_csv(plot: &Plot) -> Vec<u8> {
    let mut lines = Lines::new(false);
    lines.push(ScoreColumn::NAMES.iter().copied());
    for score in plot.scores() {
        lines.push(scores::cells(plot, score).iter().map(String::as_str));
    }
    lines.into_bytes()
}

/// Lines of CSV in the making.
pub(crate) struct Lines(csv::Writer<Vec<u8>>);

impl Lines {
    pub(crate) fn new(crlf: bool) -> Self {
        let terminator = if crlf { csv::Terminator::CRLF } else { csv::Terminator::Any(b'\n') };
        Self(csv::WriterBuilder::new().terminator(terminator).from_writer(Vec::new()))
    }

    /// Appends a record; every record has as many cells as the first.
    pub(crate) fn push<'a>(&mut self, cells: impl Iterator<Item = &'a str>) {
        self.0.write_record(cells).expect("memory takes every line");
    }

    pub(crate) fn into_bytes(self) -> Vec<u8> {
        self.0.into_inner().expect("memory takes every line")
    }
}
