//! `decisions.csv`: what the breeder decided on each tree. Lines are only ever added; the latest on a
//! tree stands.

use language::say;
use plot::{Decision, DecisionId, Fate, Plot, Problem, Refusal, TreeId, When};

use crate::findings::Findings;
use crate::table::{Column, Header, Line, Table, columns};
use crate::{Book, appended, caps};

pub(crate) const FILE: &str = "decisions.csv";

columns!(DecisionColumn:
    DecisionId = "decision_id", TreeId = "tree_id", Decision = "decision",
    DecidedOn = "decided_on", Reason = "reason",
);
use DecisionColumn as C;

/// Columns without which the file cannot be read: all of them, so that a decision that is added has
/// a cell for each.
const REQUIRED: &[C] = &[C::DecisionId, C::TreeId, C::Decision, C::DecidedOn, C::Reason];

/// Reads the whole file into the plot, the faulty lines told; gives its header.
pub(crate) fn read(bytes: &[u8], plot: &mut Plot, findings: &mut Findings) -> Option<Header> {
    let mut table = Table::new(bytes, REQUIRED, findings)?;
    table.step(bytes, u64::MAX, findings, &mut |line| {
        let Some(decision) = decision(line) else { return };
        if let Err(refusal) = plot.decide(decision) {
            line.refuse(refusal);
        }
    });
    Some(table.header().clone())
}

impl Book {
    /// Takes a decision: into the plot, and as one line at the end of `decisions.csv`, which is begun
    /// if need be (one that cannot be read is put aside). Gives the line for a log, as
    /// [`replay_decisions`](Self::replay_decisions) takes it.
    ///
    /// Empty words count as none, as they do in the file.
    ///
    /// # Errors
    /// As [`Plot::decide`]; words longer than a cell may be. Nothing is changed then.
    pub fn decide(&mut self, mut decision: Decision) -> Result<Vec<u8>, Refusal> {
        decision.reason = decision.reason.filter(|words| !words.is_empty());
        caps::check_cell(C::Reason.name(), decision.reason.as_deref().unwrap_or_default())?;
        let cells = cells(&decision);
        self.plot.decide(decision)?;
        let header = self.begin_decisions();
        let line = appended::line(&header, &cells);
        appended::append(&mut self.files, FILE, &line, header.crlf);
        Ok(appended::line(&Header::full::<C>(), &cells))
    }

    /// Takes decisions that [`decide`](Self::decide) gave earlier. One that the book holds already is
    /// passed over; one that is refused is told (lines count from 1) and still kept in the file.
    pub fn replay_decisions(&mut self, lines: &[u8]) -> Vec<Problem> {
        if lines.is_empty() {
            return Vec::new();
        }
        let header = self.begin_decisions();
        let mut findings = Findings::of(FILE);
        let mut table = Table::continued(Header::full::<C>());
        table.step(lines, u64::MAX, &mut findings, &mut |line| {
            let Some(decision) = decision(line) else { return };
            if self.plot.decisions().of(&decision.tree).any(|held| *held == decision) {
                return;
            }
            let record = appended::line(&header, &cells(&decision));
            let taken = self.plot.decide(decision);
            if taken.is_ok() || !appended::has_line(&self.files, FILE, &record) {
                appended::append(&mut self.files, FILE, &record, header.crlf);
            }
            if let Err(refusal) = taken {
                line.refuse(refusal);
            }
        });
        findings.into_problems()
    }

    fn begin_decisions(&mut self) -> Header {
        appended::begun::<C>(&mut self.files, FILE, &mut self.decisions)
    }
}

/// What a line says; none when anything in it was refused.
fn decision(line: &mut Line<'_>) -> Option<Decision> {
    let id = line.needed(C::DecisionId, || say!("an id of its own"));
    let tree = line.needed(C::TreeId, || say!("a tree_id of trees.csv"));
    let fate = line.read(
        C::Decision,
        || say!("keep, watch, cull, or nothing: undecided again"),
        Fate::parse,
    );
    let expected = || say!("a date that exists, such as 2031-06-14 or 2031-06-14T09:31:05+02:00");
    let decided_on = match line.needed(C::DecidedOn, expected) {
        Some(_) => line.read(C::DecidedOn, expected, When::parse),
        None => None,
    };
    let reason = line.text(C::Reason).map(Into::into);
    if !line.is_good() {
        return None;
    }
    let (id, tree) = (DecisionId::new(id?), TreeId::new(tree?));
    Some(Decision { id, tree, fate, decided_on: decided_on?, reason })
}

fn cells(decision: &Decision) -> [String; 5] {
    [
        decision.id.to_string(),
        decision.tree.to_string(),
        decision.fate.map_or("", Fate::as_str).to_owned(),
        decision.decided_on.to_string(),
        decision.reason.as_deref().unwrap_or_default().to_owned(),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{FileSet, merge, open};

    const HEAD: &str = r#"{"format": "leeward-plot", "version": 1, "name": "Withy Corner",
 "layout": {"row_spacing_m": 3.0, "place_spacing_m": 0.75}}"#;

    fn folder(decisions: Option<&str>) -> FileSet {
        let trees = "tree_id,row,place\nA,1,1\nB,1,2\n";
        let mut files = vec![
            ("plot.json", HEAD),
            ("trees.csv", trees),
            ("scores.csv", "score_id,tree_id,trait,value,scored_on\n"),
        ];
        files.extend(decisions.map(|text| (FILE, text)));
        files.into_iter().map(|(name, text)| (name.to_owned(), text.as_bytes().to_vec())).collect()
    }

    fn keep(id: &str, tree: &str, reason: &str) -> Decision {
        Decision {
            id: DecisionId::new(id),
            tree: TreeId::new(tree),
            fate: Some(Fate::Keep),
            decided_on: When::parse("2033-10-02T11:00:00+02:00").expect("a moment"),
            reason: Some(reason.into()),
        }
    }

    fn text(book: &Book) -> &str {
        std::str::from_utf8(&book.files()[FILE]).expect("UTF-8")
    }

    #[test]
    fn a_decision_is_a_line_and_is_read_again() {
        let (book, problems) = open(folder(None));
        assert_eq!(problems, []);
        let mut book = book.expect("a book");
        let log = book.decide(keep("d1", "B", "clean, and \"sweet\"")).expect("taken");
        let line = "d1,B,keep,2033-10-02T11:00:00+02:00,\"clean, and \"\"sweet\"\"\"\n";
        assert_eq!(std::str::from_utf8(&log), Ok(line));
        assert_eq!(text(&book), format!("decision_id,tree_id,decision,decided_on,reason\n{line}"));
        let (again, problems) = open(book.files().clone());
        assert_eq!(problems, []);
        let again = again.expect("a book");
        assert_eq!(again.plot().decisions().all(), book.plot().decisions().all());
        // The log over the files of before, once and twice.
        let mut replayed = open(folder(None)).0.expect("a book");
        for _ in 0..2 {
            assert_eq!(replayed.replay_decisions(&log), []);
            assert_eq!(text(&replayed), text(&book));
        }
        book.decide(keep("d1", "A", "again")).expect_err("an id is given once");
        book.decide(keep("d2", "Z", "nobody")).expect_err("no such tree");
        assert_eq!(text(&book), text(&replayed));
    }

    #[test]
    fn columns_of_their_own_and_another_order_are_kept_and_faults_told() {
        let before = "reason,decision,tree_id,decided_on,decision_id,buyer\r\n\
            weak,cull,A,2032-09-01,x1,\r\n\
            ,Keep,A,2032-09-01,x2,\r\n\
            ,keep,Z,2032-09-32,x3,\r\n\
            ,keep,Z,2032-09-30,x4,\r\n\
            ,,,2032-09-30,x1,\r\n";
        let (book, problems) = open(folder(Some(before)));
        let told: Vec<String> = problems.iter().map(ToString::to_string).collect();
        assert_eq!(
            told,
            [
                "decisions.csv, line 3, column decision: found \"Keep\", expected keep, watch, cull, \
                 or nothing: undecided again",
                "decisions.csv, line 4, column decided_on: found \"2032-09-32\", expected a date that \
                 exists, such as 2031-06-14 or 2031-06-14T09:31:05+02:00",
                "decisions.csv, line 5, column tree_id: found \"Z\", expected a tree_id of trees.csv",
                "decisions.csv, line 6, column tree_id: found nothing, expected a tree_id of trees.csv",
            ]
        );
        let mut book = book.expect("a book");
        book.decide(keep("d1", "A", "sweet")).expect("taken");
        let line = "sweet,keep,A,2033-10-02T11:00:00+02:00,d1,\r\n";
        assert_eq!(text(&book), format!("{before}{line}"));
        assert_eq!(book.plot().decisions().fate(&TreeId::new("A")), Some(Fate::Keep));
    }

    #[test]
    fn a_file_that_is_no_such_table_is_put_aside() {
        let (book, problems) = open(folder(Some("tree_id,decision\nA,keep\n")));
        assert_eq!(problems.len(), 3, "{problems:?}");
        let mut book = book.expect("a book");
        book.decide(keep("d1", "A", "")).expect("taken");
        assert_eq!(book.files()["decisions-set-aside-1.csv"], b"tree_id,decision\nA,keep\n");
        assert!(text(&book).ends_with("\nd1,A,keep,2033-10-02T11:00:00+02:00,\n"));
    }

    #[test]
    fn two_phones_unite_their_decisions_and_the_later_stands() {
        let of = |id: &str, fate, on: &str| {
            let mut book = open(folder(None)).0.expect("a book");
            let decided_on = When::parse(on).expect("a date");
            book.decide(Decision { fate, decided_on, ..keep(id, "A", "") }).expect("taken");
            book.into_files()
        };
        let ours = of("d9", Some(Fate::Keep), "2033-10-02");
        let theirs = of("d1", Some(Fate::Cull), "2034-10-02");
        for (one, other) in [(&ours, &theirs), (&theirs, &ours)] {
            let merged = merge(one, other).expect("one plot");
            assert_eq!((merged.conflicts.len(), merged.added[FILE]), (0, 1));
            let book = open(merged.files).0.expect("a book");
            assert_eq!(book.plot().decisions().all().len(), 2);
            assert_eq!(book.plot().decisions().fate(&TreeId::new("A")), Some(Fate::Cull));
        }
    }
}
