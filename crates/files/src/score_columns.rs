//! A `scores.csv` that lacks columns gets them before a score is taken: what is written down must
//! have a cell to stand in.

use std::collections::HashSet;

use language::say;
use plot::{Plot, Refusal, ScoreDraft};

use crate::Book;
use crate::findings::Findings;
use crate::scores::{self, REQUIRED, ScoreColumn};
use crate::table::{Column, Header, Table, cell_range, with_columns};

impl Book {
    /// Where the file lacks a column that the score fills, gives it every column that a score may
    /// fill: names at the end of the header, and as many empty cells in each line that is part of
    /// the plot. Faulty lines stay as they are.
    ///
    /// # Errors
    /// A faulty line would mean something with more columns; nothing is changed then.
    pub(crate) fn make_room_for(&mut self, draft: &ScoreDraft) -> Result<(), Refusal> {
        let is_filled = |column: &str| match column {
            "round" => draft.round.is_some(),
            "scorer" => draft.scorer.is_some(),
            "note" => draft.note.is_some(),
            _ => draft.replaces.is_some(),
        };
        let lacks = self.scores.as_ref().map_or(Vec::new(), missing);
        if lacks.into_iter().any(is_filled) { self.widen_scores() } else { Ok(()) }
    }

    /// Gives the file every column that a score may fill.
    ///
    /// # Errors
    /// As [`make_room_for`](Self::make_room_for).
    pub(crate) fn widen_scores(&mut self) -> Result<(), Refusal> {
        let (Some(header), Some(bytes)) = (&self.scores, self.files.get(scores::FILE)) else {
            return Ok(());
        };
        let missing = missing(header);
        if missing.is_empty() {
            return Ok(());
        }
        let (bytes, header) = widened(bytes, &self.plot, &missing).ok_or_else(|| {
            let expected = say!(
                "such columns, since a faulty line would mean something else with them added: \
                 mend the faulty lines first"
            );
            Refusal::new(missing[0], say!("no such column in scores.csv"), expected)
        })?;
        self.files.insert(scores::FILE.to_owned(), bytes);
        self.scores = Some(header);
        Ok(())
    }

    /// Whether lines of a log were written under every column, while the file has fewer.
    pub(crate) fn are_wider(&self, lines: &[u8]) -> bool {
        let Some(header) = &self.scores else { return false };
        let width = header.names.len() + missing(header).len();
        cell_range(lines, 0, header.names.len()).is_some() && cell_range(lines, 0, width).is_none()
    }
}

fn missing(header: &Header) -> Vec<&'static str> {
    let has = |name: &&str| header.names.iter().any(|known| known == name);
    ScoreColumn::NAMES.iter().copied().filter(|name| !has(name)).collect()
}

fn widened(bytes: &[u8], plot: &Plot, missing: &[&str]) -> Option<(Vec<u8>, Header)> {
    let part = sound(bytes, |id| plot.score_ix(id).is_some())?;
    let mut seen = HashSet::new();
    let starts: Vec<usize> =
        part.iter().filter(|(id, _)| seen.insert(id)).map(|(_, start)| *start).collect();
    let grown = with_columns(bytes, missing, &starts);
    // Read again: the lines of the plot must be all that can be read.
    let again = sound(&grown, |_| true)?;
    let same = again.iter().map(|(id, _)| id).eq(part.iter().map(|(id, _)| id));
    let header = Table::new(&grown, REQUIRED, &mut Findings::of(scores::FILE))?.header().clone();
    same.then_some((grown, header))
}

/// The ids of lines that read as scores and that `is_wanted`, and where the lines begin.
fn sound(bytes: &[u8], is_wanted: impl Fn(&str) -> bool) -> Option<Vec<(String, usize)>> {
    let mut findings = Findings::of(scores::FILE);
    let mut table = Table::new(bytes, REQUIRED, &mut findings)?;
    let mut lines = Vec::new();
    while table.at() < bytes.len() {
        let (start, faults) = (table.at(), findings.faults());
        let mut id = None;
        table.step(bytes, 1, &mut findings, &mut |line| {
            id = scores::draft(line).map(|draft| draft.id.to_string());
        });
        if findings.faults() == faults {
            lines.extend(id.filter(|id| is_wanted(id)).map(|id| (id, start)));
        }
    }
    Some(lines)
}

#[cfg(test)]
mod tests {
    use plot::{ScoreDraft, ScoreId, TraitId, TreeId, When};

    use crate::{Book, FileSet, open};

    const HEAD: &str = r#"{"format": "leeward-plot", "version": 1, "name": "Withy Corner",
 "layout": {"row_spacing_m": 3.0, "place_spacing_m": 0.75},
 "traits": [{"id": "girth", "label": "Trunk girth", "kind": "number"}]}"#;

    fn book(scores: &str) -> Book {
        let files = [
            ("plot.json", HEAD),
            ("trees.csv", "tree_id,row,place\nA,1,1\nB,1,2\n"),
            ("scores.csv", scores),
        ];
        let files: FileSet =
            files.map(|(name, text)| (name.to_owned(), text.as_bytes().to_vec())).into();
        open(files).0.expect("a book")
    }

    fn draft(id: &str) -> ScoreDraft {
        ScoreDraft {
            id: ScoreId::new(id),
            tree: TreeId::new("B"),
            trait_id: TraitId::new("girth"),
            value: Some(44.0),
            scored_on: When::parse("2031-03-02").unwrap(),
            round: Some("2".into()),
            scorer: Some("Jo".into()),
            note: Some("leans, badly".into()),
            replaces: None,
        }
    }

    const NARROW: &str = "\u{feff}score_id,tree_id,trait,value,scored_on\r\n\
        s1,A,girth,40,2031-03-01\r\nx,A,girth,forty,2031-03-01\r\ny,Z,girth,1,2031-03-01\r\n\
        s2,\"B\",girth,41,2031-03-01";
    const WIDE: &str = "\u{feff}score_id,tree_id,trait,value,scored_on,round,scorer,note,replaces\r\n\
        s1,A,girth,40,2031-03-01,,,,\r\nx,A,girth,forty,2031-03-01\r\ny,Z,girth,1,2031-03-01\r\n\
        s2,\"B\",girth,41,2031-03-01,,,,\r\n";
    const LINE: &str = "n1,B,girth,44,2031-03-02,2,Jo,\"leans, badly\",\r\n";

    fn text(book: &Book) -> &str {
        std::str::from_utf8(&book.files()["scores.csv"]).expect("UTF-8")
    }

    #[test]
    fn round_scorer_and_note_have_a_cell_to_stand_in() {
        let mut book = book(NARROW);
        let (ix, line) = book.record(draft("n1")).expect("taken");
        assert_eq!(std::str::from_utf8(&line), Ok(LINE));
        assert_eq!(text(&book), format!("{WIDE}{LINE}"));
        let taken = book.plot().score(ix).clone();
        let (again, _) = open(book.files().clone());
        let again = again.expect("a book");
        assert_eq!(again.plot().scores().last(), Some(&taken));
        assert_eq!(again.plot().scores().len(), 3);
    }

    #[test]
    fn a_score_that_fills_no_missing_column_leaves_the_file_as_it_is() {
        let mut book = book(NARROW);
        let bare = ScoreDraft { round: None, scorer: None, note: None, ..draft("n1") };
        book.record(bare).expect("taken");
        assert_eq!(text(&book), format!("{NARROW}\r\nn1,B,girth,44,2031-03-02\r\n"));
    }

    #[test]
    fn a_log_over_the_narrow_file_gives_the_same_again() {
        let mut replayed = book(NARROW);
        assert_eq!(replayed.replay(LINE.as_bytes()), []);
        assert_eq!(text(&replayed), format!("{WIDE}{LINE}"));
        // A log that begins before the file was widened.
        let mut live = book(NARROW);
        let bare = ScoreDraft { round: None, scorer: None, note: None, ..draft("n0") };
        let mut log = live.record(bare).expect("taken").1;
        log.extend(live.record(draft("n1")).expect("taken").1);
        let mut replayed = book(NARROW);
        assert_eq!(replayed.replay(&log), []);
        assert_eq!(text(&replayed), text(&live));
        assert_eq!(replayed.plot().scores(), live.plot().scores());
        // A log whose lines were written under the narrow header is taken as it is.
        let mut earlier = book(NARROW);
        assert_eq!(earlier.replay(b"n2,A,girth,43,2031-03-02\r\n"), []);
        assert_eq!(text(&earlier), format!("{NARROW}\r\nn2,A,girth,43,2031-03-02\r\n"));
    }

    #[test]
    fn a_faulty_line_that_would_mean_something_stops_it() {
        let wide = "score_id,tree_id,trait,value,scored_on\nx,A,girth,1,2031-03-01,,,,\n";
        let mut book = book(wide);
        let refused = book.record(draft("n1")).expect_err("not taken");
        assert_eq!(refused.column, "round");
        assert_eq!(text(&book), wide);
        assert_eq!(book.plot().scores().len(), 0);
    }
}
