//! Laws of edits in random order: what is held is what the log gives, and undoing all of it leaves
//! the file as it was.

use proptest::prelude::*;
use proptest::sample::Index;

use super::*;

#[derive(Clone, Debug)]
pub(super) enum Act {
    Add(Option<Index>, u8),
    Set(Index, Index, Index),
    Move(Index, u8),
    Undo,
    UndoAny(Index),
    Redo,
}

const SETTABLE: [TreeField; 5] =
    [TreeField::Tag, TreeField::Note, TreeField::Status, TreeField::RemovedOn, TreeField::Genotype];
pub(super) const WORDS: [&str; 6] = ["", "dead", "2031-06-14", "a, \"b\"", "line\nend", "alive"];

pub(super) fn act() -> impl Strategy<Value = Act> {
    prop_oneof![
        (proptest::option::of(any::<Index>()), any::<u8>()).prop_map(|(on, at)| Act::Add(on, at)),
        (any::<Index>(), any::<Index>(), any::<Index>()).prop_map(|(a, b, c)| Act::Set(a, b, c)),
        (any::<Index>(), any::<u8>()).prop_map(|(tree, at)| Act::Move(tree, at)),
        Just(Act::Undo),
        any::<Index>().prop_map(Act::UndoAny),
        Just(Act::Redo),
    ]
}

pub(super) const FILES: [&str; 4] = [
    "tree_id,row,place,tag,note,status,removed_on,genotype,grafted_on\nA,1,1,,,,,,\nB,1,2,x,,,,,\nG,,,,,,,,A\n",
    "\u{feff}hue,tree_id,row,place,tag,note,status,removed_on,genotype,grafted_on\r\n\
     red,A,1,1,,,alive,,,\r\n\r\nfaulty,A,x,1,,,,,,\r\n,B,1,2,,\"say \"\"no\"\"\",,,,",
    "tree_id,row,place,tag,note,status,removed_on,genotype,grafted_on",
    // Columns are missing, and a line is cut short.
    "tree_id,row,place\nA,1,1\nB,1\nC,1,3\n",
];

pub(super) fn perform(book: &mut Book, act: &Act, name: &str) -> Option<Vec<u8>> {
    let tree = |book: &Book, at: &Index| {
        let trees = book.plot().trees();
        (!trees.is_empty()).then(|| at.get(trees).id().clone())
    };
    let over =
        |book: &mut Book, of: Option<EditId>| book.turn_over(&of?, EditId::new(name), day()).ok();
    let parts = match act {
        Act::Add(on, at) => {
            let line = TreeLine::new(book.plot().next_tree_id());
            let carrier = on.as_ref().and_then(|on| tree(book, on));
            vec![EditPart::Add(match carrier {
                Some(carrier) => line.with(TreeField::GraftedOn, carrier.as_str()),
                None => line.with(TreeField::Row, "9").with(TreeField::Place, at.to_string()),
            })]
        }
        Act::Set(of, field, words) => {
            vec![EditPart::set(&tree(book, of)?, *field.get(&SETTABLE), *words.get(&WORDS))]
        }
        Act::Move(of, at) => {
            let tree = tree(book, of)?;
            let set = |field, to: String| EditPart::set(&tree, field, to);
            vec![set(TreeField::Row, "8".to_owned()), set(TreeField::Place, at.to_string())]
        }
        Act::Undo => return over(book, book.edits().to_undo().map(|it| it.id.clone())),
        Act::Redo => return over(book, book.edits().to_redo().map(|it| it.id.clone())),
        Act::UndoAny(at) => {
            let made: Vec<EditId> = book.edits().made().map(|(it, _)| it.id.clone()).collect();
            let of = (!made.is_empty()).then(|| at.get(&made).clone());
            return over(book, of);
        }
    };
    let before = book.clone();
    let done = book.edit(edit(name, parts));
    if done.is_err() {
        assert_eq!((book.files(), book.edits()), (before.files(), before.edits()));
        assert_eq!(book.plot().trees(), before.plot().trees());
    }
    done.ok()
}

/// A cell that was empty and one that stands in needless quotes say the same; so do a file and the
/// same one with columns more that are empty.
pub(super) fn cells(text: &str) -> Vec<Vec<String>> {
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .from_reader(text.trim_start_matches('\u{feff}').as_bytes());
    reader.records().map(|it| it.expect("a record").iter().map(str::to_owned).collect()).collect()
}

proptest! {
    #[test]
    fn edits_are_what_their_log_gives_and_undoing_all_gives_the_file_back(
        file in 0..FILES.len(),
        acts in proptest::collection::vec(act(), 0..25),
    ) {
        let start = FILES[file];
        let mut book = book_of(start, "");
        let mut log = Vec::new();
        for (nth, act) in acts.iter().enumerate() {
            log.extend(perform(&mut book, act, &nth.to_string()));
            same_as_read(&book);
        }
        let records = || log.iter().map(|record| TreeRecord::Edit(record));
        let mut replayed = book_of(start, "");
        prop_assert_eq!(replayed.replay_trees(records()), []);
        prop_assert_eq!(replayed.files(), book.files());
        prop_assert_eq!(replayed.plot().trees(), book.plot().trees());
        prop_assert_eq!(replayed.edits(), book.edits());
        prop_assert_eq!(replayed.plot().next_tree_id(), book.plot().next_tree_id());
        // One by one gives the same as all at once.
        let mut slowly = book_of(start, "");
        for record in records() {
            prop_assert_eq!(slowly.replay_trees([record]), []);
        }
        prop_assert_eq!(slowly.files(), book.files());
        let made = text(&book);
        let mut nth = acts.len();
        while let Some(last) = book.edits().to_undo().map(|it| it.id.clone()) {
            let undone = book.turn_over(&last, EditId::new(nth.to_string()), day());
            prop_assert!(undone.is_ok(), "{:?} of {:?}", undone, book.edits());
            nth += 1;
        }
        let end = text(&book);
        let (columns, wide) = (cells(start)[0].len(), cells(&end));
        if wide[0].len() == columns {
            prop_assert_eq!(end, start);
        } else {
            let (was, is) = (cells(start), wide);
            prop_assert_eq!(was.len(), is.len());
            for (was, is) in was.iter().zip(&is).skip(1) {
                prop_assert!(is[..was.len()] == was[..], "{:?} {:?}", was, is);
                prop_assert!(is[was.len()..].iter().all(String::is_empty));
            }
        }
        let undone = nth - acts.len();
        for redone in 0..undone {
            let last = book.edits().to_redo().map(|it| it.id.clone()).expect("an edit to do again");
            let again = book.turn_over(&last, EditId::new(format!("{redone} again")), day());
            prop_assert!(again.is_ok(), "{:?} of {:?}", again, book.edits());
        }
        prop_assert_eq!(text(&book), made, "done again");
    }
}
