//! The laws of every folder that is read: nothing lost, a plot that is valid, problems that name
//! lines there are, and the same when it is written and read again.

use files::{Book, FileSet, Opening};
use plot::{Kind, Plot, Problem, TreeIx, Weather, Weight};

/// Opens a folder and holds what was read to the laws.
pub(crate) fn opened(files: &FileSet) -> Option<Book> {
    let (book, problems) = files::open(files.clone());
    told(files, &problems);
    let mut slowly = Opening::new(files.clone());
    while {
        let (done, of) = slowly.step(1);
        done < of
    } {}
    let (step_by_step, told_again) = slowly.finish();
    assert_eq!(problems, told_again, "line by line the same is told");
    assert_eq!(book.is_some(), step_by_step.is_some(), "line by line the same is read");
    let book = book?;
    assert_eq!(book.files(), files, "nothing touched, nothing changed");
    valid(book.plot());
    assert_eq!(Weather::new(book.weather().hours().to_vec()).as_ref(), Ok(book.weather()));
    written_again(book.plot());
    Some(book)
}

/// Reads a folder that must be without a fault.
pub(crate) fn without_fault(files: FileSet) -> Book {
    let (book, problems) = files::open(files);
    let faults: Vec<String> = problems
        .iter()
        .filter(|problem| problem.weight == Weight::Fault)
        .map(ToString::to_string)
        .collect();
    assert_eq!(faults, [""; 0]);
    book.expect("a folder without a fault has a book")
}

/// Every problem names a file of the folder, or one that should be there, and a line that it has.
pub(crate) fn told(files: &FileSet, problems: &[Problem]) {
    for problem in problems {
        assert!(!problem.found.is_empty() && !problem.expected.is_empty(), "{problem}");
        let Some(line) = problem.line else { continue };
        let lines = files.get(&problem.file).map(|bytes| lines(bytes));
        let lines = lines.unwrap_or_else(|| panic!("no such file: {problem}"));
        assert!((1..=lines).contains(&line), "{problem}: the file has {lines} lines");
    }
}

pub(crate) fn lines(bytes: &[u8]) -> u64 {
    1 + bytes.iter().filter(|&&byte| byte == b'\n').count() as u64
}

/// What the types of a plot promise and do not show.
fn valid(plot: &Plot) {
    for (ix, tree) in plot.trees_ix() {
        assert_eq!(plot.tree_ix(tree.id().as_str()), Some(ix), "ids are unique");
        assert!(!tree.id().as_str().is_empty());
        let spot = tree.spot();
        assert!(spot.x_m.is_finite() && spot.y_m.is_finite(), "{tree:?}");
        if let Some(carrier) = tree.carrier() {
            assert!(carrier < ix, "a graft comes after its carrier: {tree:?}");
            assert_eq!(plot.tree(carrier).spot(), spot, "and stands where it stands");
        }
        let draft = tree.draft();
        assert_eq!(tree.carrier().is_some(), draft.grafted_on.is_some());
        if let (Some(planted), Some(removed)) = (draft.planted_on, draft.removed_on) {
            assert!(planted <= removed, "{tree:?}");
        }
    }
    for (nth, score) in plot.scores().iter().enumerate() {
        let ix = plot.score_ix(score.id.as_str());
        assert_eq!(ix.map(plot::ScoreIx::get), Some(nth), "ids are unique");
        assert!(score.tree < TreeIx::new(plot.trees().len()));
        let of = plot.trait_of(score.trait_ix);
        let is_allowed = score.value.is_none_or(|value| match &of.kind {
            Kind::Ordinal(scale) => scale.step(value).is_some(),
            Kind::Number { min, max, .. } => {
                value.is_finite()
                    && min.is_none_or(|min| min <= value)
                    && max.is_none_or(|max| value <= max)
            }
        });
        assert!(is_allowed, "{score:?} of {of:?}");
        let severity = plot.shown_severity(score);
        assert!(severity.is_none_or(|share| (0.0..=1.0).contains(&share)), "{score:?} of {of:?}");
    }
    for decision in plot.decisions().all() {
        assert!(plot.tree_ix(decision.tree.as_str()).is_some(), "{decision:?}");
    }
    for event in plot.events() {
        assert!(event.from <= event.to && !event.kind.is_empty(), "{event:?}");
        assert!(event.rows.iter().all(|rows| !rows.is_empty()), "{event:?}");
    }
}

/// A plot written as a folder is read as the same, without a fault.
fn written_again(plot: &Plot) {
    let again = without_fault(files::write(plot));
    assert_eq!(again.plot().head(), plot.head(), "plot.json written and read again");
    assert_eq!(again.plot().trees(), plot.trees(), "trees.csv written and read again");
    assert_eq!(again.plot().scores(), plot.scores(), "scores.csv written and read again");
}

/// The plot of a book is the one that its files give.
pub(crate) fn as_read(book: &Book) {
    let read = files::open(book.to_files()).0.expect("what a book writes is read");
    assert_eq!(read.plot().head(), book.plot().head());
    assert_eq!(read.plot().trees(), book.plot().trees());
    assert_eq!(read.plot().scores(), book.plot().scores());
    assert_eq!(read.plot().decisions().all(), book.plot().decisions().all());
}

/// Two tables, of which the second may have columns more that are empty, and lacks quotation marks
/// that the first did not need.
pub(crate) fn same_but_for_quotes(before: &[u8], after: &[u8]) {
    let plain =
        |bytes: &[u8]| -> Vec<u8> { bytes.iter().copied().filter(|&byte| byte != b'"').collect() };
    let (was, is) = (plain(before), plain(after));
    let header = |bytes: &[u8]| {
        let end = bytes.iter().position(|&byte| byte == b'\n').unwrap_or(bytes.len());
        bytes[..end].iter().filter(|&&byte| byte == b',').count()
    };
    let more = header(&is) - header(&was);
    if more == 0 {
        assert_eq!(String::from_utf8_lossy(&was), String::from_utf8_lossy(&is), "taken back");
    }
}
