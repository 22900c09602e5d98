//! Two folders of one plot united: whose folder comes first does not matter, meeting again changes
//! nothing, and no line is lost.

use std::collections::{BTreeMap, BTreeSet};

use files::{CONFLICTS, Choice, Conflict, FileSet, decide, merge as unite, undecided};

use crate::folder::sound;
use crate::{laws, parts};

/// The files that the parts of an input stand for; the first two are ours alone, the next theirs,
/// the last in both.
const PARTS: [(&str, [bool; 2]); 7] = [
    ("trees.csv", [true, false]),
    ("scores.csv", [true, false]),
    ("trees.csv", [false, true]),
    ("scores.csv", [false, true]),
    (CONFLICTS, [true, false]),
    ("decisions.csv", [false, true]),
    ("events.csv", [true, true]),
];

/// Unites two folders.
pub fn merge(bytes: &[u8]) {
    let base = sound().into_files();
    let mut both = [base.clone(), base];
    for ((name, whose), part) in PARTS.iter().zip(parts(bytes)) {
        for (files, is_in) in both.iter_mut().zip(whose) {
            if *is_in && !part.is_empty() {
                files.insert((*name).to_owned(), part.to_vec());
            }
        }
    }
    let [ours, theirs] = &both;
    let (one, other) = match (unite(ours, theirs), unite(theirs, ours)) {
        (Ok(one), Ok(other)) => (one, other),
        (Err(one), Err(_)) => {
            assert!(!one.is_empty(), "what cannot be united says why");
            return;
        }
        (one, other) => panic!("{:?} and {:?}", one.err(), other.err()),
    };
    assert_eq!(said(&one.files), said(&other.files), "whose folder comes first does not matter");
    let set = |conflicts: &[Conflict]| conflicts.iter().cloned().collect::<BTreeSet<_>>();
    assert_eq!(set(&one.conflicts), set(&other.conflicts));
    for again in [ours, theirs, &one.files] {
        let again = unite(&one.files, again).expect("what was united is united again");
        assert_eq!(again.files, one.files, "meeting again changes nothing");
    }
    kept(&one.files, [ours, theirs]);
    if let Some(book) = files::open(one.files.clone()).0 {
        laws::as_read(&book);
    }
    decided(one.files);
}

/// Every line of both stands in the united file, or waits for a person.
fn kept(united: &FileSet, both: [&FileSet; 2]) {
    let of = said(united);
    let waiting: BTreeSet<Row> = { of.get(CONFLICTS).into_iter().flatten() }
        .filter_map(|row| serde_json::from_str(row.get("line")?).ok())
        .collect();
    for (name, rows) in both.into_iter().flat_map(said) {
        if name != CONFLICTS {
            for row in rows {
                assert!(of[&name].contains(&row) || waiting.contains(&row), "{name}: {row:?}");
            }
        }
    }
}

/// A person decides one by one, now for this, now for that, until nothing waits.
fn decided(mut files: FileSet) {
    let mut waiting = undecided(&files);
    let mut choices = [Choice::Other, Choice::Kept].into_iter().cycle();
    while let (Some(one), Some(choice)) = (waiting.first().cloned(), choices.next()) {
        files = decide(files, &[(one.clone(), choice)]);
        let left = undecided(&files);
        assert!(left.len() < waiting.len(), "decided: {one:?}");
        waiting = left;
    }
    assert!(!decide(files, &[]).contains_key(CONFLICTS), "nothing waits");
}

type Row = BTreeMap<String, String>;

/// The rows of each table, in any order, empty cells left out.
fn said(files: &FileSet) -> BTreeMap<String, BTreeSet<Row>> {
    let tables = files.iter().filter(|(name, _)| name.ends_with(".csv"));
    let rows = |bytes: &[u8]| {
        let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
        let mut reader = csv::Reader::from_reader(bytes);
        let header = reader.headers().cloned().unwrap_or_default();
        let row = |record: csv::StringRecord| {
            let cells = header.iter().zip(&record).filter(|(_, cell)| !cell.is_empty());
            cells.map(|(column, cell)| (column.to_owned(), cell.to_owned())).collect::<Row>()
        };
        reader.records().filter_map(Result::ok).map(row).collect()
    };
    tables.map(|(name, bytes)| (name.clone(), rows(bytes))).collect()
}
