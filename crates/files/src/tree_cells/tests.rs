//! A change of a cell touches that cell and no other byte.

use plot::{Status, TreeCell, TreeId, When};

use super::*;
use crate::{FileSet, open};

const HEAD: &str = r#"{"format": "leeward-plot", "version": 1, "name": "Test bank",
  "layout": {"row_spacing_m": 3, "place_spacing_m": 1}}"#;

fn book(trees: &[u8]) -> Book {
    let files = [("plot.json", HEAD.as_bytes()), ("trees.csv", trees)];
    let files: FileSet =
        files.into_iter().map(|(name, bytes)| (name.to_owned(), bytes.to_vec())).collect();
    open(files).0.expect("a book")
}

fn change(tree: &str, cell: TreeCell, to: &str) -> TreeChange {
    TreeChange {
        tree: TreeId::new(tree),
        cell,
        from: "".into(),
        to: to.into(),
        changed_on: When::parse("2031-06-14T09:31:05+02:00").expect("a moment"),
        round: Some("2".into()),
        scorer: None,
        after: None,
    }
}

/// What `trees.csv` is after a change; a `-` stands for a refusal.
fn check(before: &[u8], tree: &str, cell: TreeCell, to: &str, after: &[u8]) {
    let mut book = book(before);
    let done = book.change_tree(change(tree, cell, to));
    let text = String::from_utf8_lossy(&book.files()["trees.csv"]).into_owned();
    if after == b"-" {
        assert!(done.is_err(), "{text}");
        assert_eq!(book.files()["trees.csv"], before, "a refusal changes nothing");
        return;
    }
    let line = done.unwrap_or_else(|refusal| panic!("{refusal:?}"));
    assert_eq!(text, String::from_utf8_lossy(after));
    let ix = book.plot().tree_ix(tree).expect("the tree");
    assert!(cell.says_the_same(book.plot().cell_of(ix, cell), to));
    let again = open(book.to_files()).0.expect("a book");
    assert_eq!(again.plot().trees(), book.plot().trees(), "what is written is what is held");
    // The log brings it to the file as it was, and leaves the one that has it already alone.
    for start in [before, after] {
        let mut replayed = self::book(start);
        assert_eq!(replayed.replay_trees([crate::TreeRecord::Changes(&line)]), []);
        assert_eq!(replayed.files(), book.files());
        assert_eq!(replayed.plot().changes(), book.plot().changes());
    }
}

use TreeCell::{Note, Status as Standing};

#[test]
fn only_the_cell_is_changed() {
    let csv = b"\xef\xbb\xbfstatus,colour,tree_id,note,row,place\r\n\
        ,\"red, deep\",A,\"say \"\"no\"\"\",1,1\r\n\r\nalive, ,B,,1,2\r\nalive,,C,x,1,3";
    check(
        csv,
        "A",
        Standing,
        "dead",
        b"\xef\xbb\xbfstatus,colour,tree_id,note,row,place\r\n\
        dead,\"red, deep\",A,\"say \"\"no\"\"\",1,1\r\n\r\nalive, ,B,,1,2\r\nalive,,C,x,1,3",
    );
    check(
        csv,
        "A",
        Note,
        "no \"tag\"",
        b"\xef\xbb\xbfstatus,colour,tree_id,note,row,place\r\n\
        ,\"red, deep\",A,\"no \"\"tag\"\"\",1,1\r\n\r\nalive, ,B,,1,2\r\nalive,,C,x,1,3",
    );
    check(
        csv,
        "C",
        Note,
        "",
        b"\xef\xbb\xbfstatus,colour,tree_id,note,row,place\r\n\
        ,\"red, deep\",A,\"say \"\"no\"\"\",1,1\r\n\r\nalive, ,B,,1,2\r\nalive,,C,,1,3",
    );
    check(csv, "Q", Note, "x", b"-");
    check(csv, "A", Standing, "felled", b"-");
    check(csv, "A", Note, &"x".repeat(caps::CELL_BYTES + 1), b"-");
}

#[test]
fn a_faulty_line_of_the_same_tree_is_not_taken_for_it() {
    // Line 2 has no sound row, line 3 breaks RFC 4180, line 6 is A a second time.
    check(
        b"tree_id,row,place,status\nA,seven,1,\nA,1,1,\"de\"ad\nA,1,1,\nB,1,2,\nA,1,1,\n",
        "A",
        Standing,
        "empty",
        b"tree_id,row,place,status\nA,seven,1,\nA,1,1,\"de\"ad\nA,1,1,empty\nB,1,2,\nA,1,1,\n",
    );
}

#[test]
fn a_graft_is_changed_in_its_own_line() {
    check(
        b"tree_id,row,place,grafted_on,status\nG,,,A,\nA,1,1,,\n",
        "G",
        Standing,
        "dead",
        b"tree_id,row,place,grafted_on,status\nG,,,A,dead\nA,1,1,,\n",
    );
}

#[test]
fn a_missing_column_is_added_to_sound_lines_alone() {
    check(
        b"tree_id,row,place\r\nA,1,1\r\n\r\nB,1\r\nC,1,3\r\nA,1,1\r\nD,x,4",
        "C",
        Note,
        "two, here",
        b"tree_id,row,place,note\r\nA,1,1,\r\n\r\nB,1\r\nC,1,3,\"two, here\"\r\nA,1,1\r\nD,x,4",
    );
    // The line of B would become a tree with it.
    check(b"tree_id,row,place\nA,1,1\nB,1,2,hm\n", "A", Note, "x", b"-");
}

#[test]
fn taking_a_change_back_brings_the_very_bytes() {
    for cell in [",alive\n", ",\n", ",\"alive\"\n"] {
        let before = format!("tree_id,row,place,status\nA,1,1{cell}");
        let mut book = book(before.as_bytes());
        book.change_tree(change("A", Standing, "dead")).expect("a change");
        book.change_tree(change("A", Standing, "")).expect("a change");
        let ix = book.plot().tree_ix("A").expect("a tree");
        assert_eq!(book.plot().tree(ix).status(), Status::Alive);
        let plain = before.replace('"', "");
        assert_eq!(String::from_utf8_lossy(&book.files()["trees.csv"]), plain);
    }
}

#[test]
fn a_change_that_no_longer_fits_is_told_and_left_out() {
    let mut first = book(b"tree_id,row,place,status\nA,1,1,\n");
    let line = first.change_tree(change("A", Standing, "dead")).expect("a change");
    let removed = b"tree_id,row,place,status\nA,1,1,removed\n";
    let mut other = book(removed);
    let told: Vec<String> = other
        .replay_trees([crate::TreeRecord::Changes(&line)])
        .iter()
        .map(ToString::to_string)
        .collect();
    assert_eq!(
        told,
        ["changes of trees.csv, column status: found \"removed\" for tree \"A\", \
          expected \"\", as the tree had when it was changed"]
    );
    assert_eq!(other.files()["trees.csv"], removed);
    assert_eq!(
        other
            .replay_trees([crate::TreeRecord::Changes(b"A,colour,,red,2031-06-14,,,\nA,st")])
            .len(),
        2
    );
}
