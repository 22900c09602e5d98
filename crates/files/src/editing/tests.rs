//! Edits of trees.csv: whole or not at all, no other byte touched, back again by undo and by the
//! log.

mod commands;
mod laws;
mod origin;

use plot::{Status, TreeCell, TreeChange, TreeLine};

use super::*;
use crate::{FileSet, TreeRecord, open};

const HEAD: &str = r#"{"format": "leeward-plot", "version": 1, "name": "Test bank",
  "layout": {"row_spacing_m": 3, "place_spacing_m": 1},
  "traits": [{"id": "girth", "label": "Girth", "kind": "number"}]}"#;

fn book_of(trees: &str, scores: &str) -> Book {
    let scores = format!("score_id,tree_id,trait,value,scored_on\n{scores}");
    let files = [("plot.json", HEAD), ("trees.csv", trees), ("scores.csv", &scores)];
    let files: FileSet =
        files.into_iter().map(|(name, text)| (name.to_owned(), text.into())).collect();
    open(files).0.expect("a book")
}

fn text(book: &Book) -> String {
    String::from_utf8_lossy(&book.files()["trees.csv"]).into_owned()
}

fn day() -> When {
    When::parse("2031-06-14").expect("a day")
}

fn line(cells: &[(&str, &str)]) -> TreeLine {
    let (id, cells) = cells.split_first().expect("an id");
    assert_eq!(id.0, "tree_id");
    cells.iter().fold(TreeLine::new(TreeId::new(id.1)), |line, (column, text)| {
        line.with(TreeField::parse(column).expect("a column"), *text)
    })
}

fn add(id: &str, row: &str, place: &str) -> EditPart {
    EditPart::Add(line(&[("tree_id", id), ("row", row), ("place", place)]))
}

fn set(tree: &str, column: &str, to: &str) -> EditPart {
    EditPart::set(&TreeId::new(tree), TreeField::parse(column).expect("a column"), to)
}

fn edit(id: &str, parts: Vec<EditPart>) -> Edit {
    Edit::new(EditId::new(id), format!("Edit {id}"), day(), parts)
}

/// Does it; `after` is the file then, or what is refused. What is done is the same when the log is
/// taken once more, over the file before and over the one after, and undone it leaves no trace.
fn check(before: &str, parts: Vec<EditPart>, after: Result<&str, &str>) {
    let mut book = book_of(before, "");
    let done = book.edit(edit("e", parts));
    match (done, after) {
        (Err(refusal), Err(expected)) => {
            assert_eq!(refusal.to_string(), expected);
            assert_eq!(text(&book), before, "a refusal changes nothing");
            assert_eq!(book.edits().all(), []);
        }
        (Ok(record), Ok(after)) => {
            assert_eq!(text(&book), after);
            same_as_read(&book);
            for start in [before, after] {
                let mut replayed = book_of(start, "");
                assert_eq!(replayed.replay_trees([TreeRecord::Edit(&record)]), []);
                assert_eq!(text(&replayed), after);
                assert_eq!(replayed.plot().trees(), book.plot().trees());
                assert_eq!(replayed.edits(), book.edits());
            }
            book.turn_over(&EditId::new("e"), EditId::new("u"), day()).expect("undone");
            same_as_read(&book);
            if !after.contains("note") || before.contains("note") {
                assert_eq!(text(&book), before, "undone");
            }
            book.turn_over(&EditId::new("e"), EditId::new("r"), day()).expect("again");
            assert_eq!(text(&book), after, "done again");
        }
        (done, after) => panic!("{done:?} instead of {after:?}"),
    }
}

fn same_as_read(book: &Book) {
    let again = open(book.to_files()).0.expect("a book");
    assert_eq!(again.plot().trees(), book.plot().trees(), "what is written is what is held");
    assert_eq!(again.plot().scores(), book.plot().scores());
}

#[test]
fn lines_and_cells_change_together_and_nothing_else_does() {
    let ugly = "\u{feff}status,colour,tree_id,note,row,place\r\n\
        ,\"red, deep\",A,\"say \"\"no\"\"\",1,1\r\n\r\nalive, ,B,,1,2\r\nfaulty,,C,x,1,3\r\n";
    check(
        ugly,
        vec![set("A", "place", "7"), add("D", "1", "4"), set("B", "note", "a, b")],
        Ok("\u{feff}status,colour,tree_id,note,row,place\r\n\
        ,\"red, deep\",A,\"say \"\"no\"\"\",1,7\r\n\r\nalive, ,B,\"a, b\",1,2\r\nfaulty,,C,x,1,3\r\n\
        ,,D,,1,4\r\n"),
    );
    // The last line has no end, and keeps none.
    let bare = "tree_id,row,place,tag\nA,1,1,x";
    check(bare, vec![add("B", "1", "2")], Ok("tree_id,row,place,tag\nA,1,1,x\nB,1,2,"));
    check("tree_id,row,place", vec![add("B", "1", "2")], Ok("tree_id,row,place\nB,1,2"));
    // A column that is missing.
    check(
        "tree_id,row,place\nA,1,1\nB,1\n",
        vec![EditPart::Add(line(&[
            ("tree_id", "C"),
            ("row", "1"),
            ("place", "3"),
            ("note", "limb 2"),
        ]))],
        Ok("tree_id,row,place,note\nA,1,1,\nB,1\nC,1,3,limb 2\n"),
    );
}

#[test]
fn what_reading_would_fault_is_refused_whole() {
    let trees = "tree_id,row,place,grafted_on,status,planted_on,removed_on,tag\n\
        A,1,1,,,2030-01-01,,\nG,1,1,A,,,,\nH,,,G,,,,\nF,1,x,,,,,\nB,1,2,,,,,two\n";
    let with = |part| vec![set("A", "tag", "new"), part];
    let cases: Vec<(EditPart, &str)> = vec![
        (
            add("B", "1", "9"),
            "tree_id: found \"B\", which another line has, expected an id of its own",
        ),
        (set("Q", "tag", "x"), "tree_id: found \"Q\", expected a tree_id of trees.csv"),
        (set("F", "tag", "x"), "tree_id: found \"F\", expected a tree_id of trees.csv"),
        (
            add("C", "", ""),
            "row: found no position, expected row and place, or x_m and y_m, or lon and lat",
        ),
        (add("C", "9", "x"), "place: found \"x\", expected a whole number"),
        (
            set("B", "planted_on", "2031-02-30"),
            "planted_on: found \"2031-02-30\", expected a date that exists, such as 2031-06-14",
        ),
        (
            set("A", "removed_on", "2029-12-31"),
            "removed_on: found 2029-12-31, expected a day on or after planted_on (2030-01-01)",
        ),
        (
            set("B", "status", "felled"),
            "status: found \"felled\", expected one of alive, dead, removed, empty, or nothing for alive",
        ),
        (
            set("B", "grafted_on", "Q"),
            "grafted_on: found \"Q\", expected the tree_id of another tree",
        ),
        (
            set("A", "grafted_on", "H"),
            "grafted_on: found \"H\", expected the tree_id of a tree that stands in the ground, or of a graft that does",
        ),
        (
            set("G", "row", "2"),
            "row: found a graft in another place than the tree that carries it, expected nothing, or the place of \"A\"",
        ),
        (
            set("B", "row", "900000"),
            "row: found x 1 m, y 2699997 m, expected a position within 100 km of the plot's origin",
        ),
        (
            set("A", "tag", "again"),
            "edit: found tree \"A\" twice, expected each cell and each line once",
        ),
        (
            set("B", "place", "2"),
            "edit: found nothing that would change, expected something else than it says",
        ),
        (
            EditPart::TakeOut(TreeLine::new(TreeId::new("B"))),
            "tree_id: found the line of \"B\" to be taken out, expected a status such as removed",
        ),
        // The faulty line would become a tree.
        (add("F", "1", "5"), ""),
    ];
    for (part, expected) in cases {
        let alone = expected.contains("nothing that would change");
        let parts = if alone { vec![part] } else { with(part) };
        if expected.is_empty() {
            let mut book = book_of(trees, "");
            book.edit(edit("e", parts)).expect("the id of a faulty line is free");
            same_as_read(&book);
            continue;
        }
        check(trees, parts, Err(expected));
    }
    let long = "x".repeat(caps::CELL_BYTES + 1);
    check(
        trees,
        vec![set("B", "tag", &long)],
        Err("tag: found 32769 bytes, expected at most 32768 bytes"),
    );
    // A line too wide would become a tree with a column more.
    check(
        "tree_id,row,place\nA,1,1\nB,1,2,hm\n",
        vec![set("A", "note", "x")],
        Err(
            "trees.csv: found lines that would say something else, expected such a column, or no faulty line that would mean something by the change",
        ),
    );
}

#[test]
fn a_moved_tree_takes_its_grafts_and_scores_along() {
    let trees = "tree_id,row,place,grafted_on\nG,,,A\nA,1,1,\nB,1,2,\nH,1,1,G\nI,1,,H\n";
    let mut book = book_of(trees, "s1,G,girth,3,2031-01-01\ns2,B,girth,4,2031-01-01\n");
    book.edit(edit("e", vec![set("A", "row", "2"), set("A", "place", "5")])).expect("moved");
    same_as_read(&book);
    let after = "tree_id,row,place,grafted_on\nG,,,A\nA,2,5,\nB,1,2,\nH,2,5,G\nI,2,,H\n";
    assert_eq!(text(&book), after, "lines of grafts that give a place follow");
    let plot = book.plot();
    let graft = plot.tree(plot.tree_ix("G").expect("a graft"));
    assert_eq!((graft.row(), graft.place()), (Some(2), Some(5)));
    assert_eq!(plot.scores_of(plot.tree_ix("G").expect("it")).count(), 1);
}

#[test]
fn the_order_of_the_trees_is_another_one_when_any_gets_another_index() {
    let mut book = book_of("tree_id,row,place,grafted_on\nA,1,1,\nB,1,1,\n", "");
    let mut check = |parts, is_other: bool, ids: &str| {
        let before = book.plot().order();
        book.edit(edit(&format!("to {ids}"), parts)).expect("an edit");
        let now: String = book.plot().trees().iter().map(|tree| tree.id().as_str()).collect();
        assert_eq!(now, ids);
        assert_eq!(book.plot().order() != before, is_other, "{ids}");
    };
    check(vec![set("A", "place", "2")], false, "AB");
    check(vec![set("A", "place", "1"), set("A", "grafted_on", "B")], true, "BA");
    check(vec![add("C", "1", "3")], true, "BAC");
}

#[test]
fn an_added_tree_is_not_taken_out_while_something_refers_to_it() {
    let refused = |book: &mut Book| {
        let undone = book.turn_over(&EditId::new("e"), EditId::new("u"), day());
        undone.expect_err("refused").to_string()
    };
    let trees = "tree_id,row,place,grafted_on,tag,colour\nA,1,1,,,\n";
    let added = |scores: &str| {
        let mut book = book_of(trees, scores);
        book.edit(edit("e", vec![add("B", "1", "2")])).expect("added");
        book
    };
    let mut book = added("");
    let scored = plot::ScoreDraft {
        id: plot::ScoreId::new("s"),
        tree: TreeId::new("B"),
        trait_id: plot::TraitId::new("girth"),
        value: Some(3.0),
        scored_on: day(),
        round: None,
        scorer: None,
        note: None,
        replaces: None,
    };
    book.record(scored).expect("a score");
    assert_eq!(
        refused(&mut book),
        "edit: found 1 score of \"B\", expected no score, also none withdrawn, of a tree whose \
         line is to go"
    );
    let mut book = added("");
    let graft = line(&[("tree_id", "G"), ("grafted_on", "B")]);
    book.edit(edit("g", vec![EditPart::Add(graft)])).expect("grafted");
    assert_eq!(
        refused(&mut book),
        "edit: found \"G\" grafted on \"B\", expected no graft on a tree whose line is to go"
    );
    // One that came in the same edit goes with it.
    let mut book = book_of(trees, "");
    let graft = EditPart::Add(line(&[("tree_id", "G"), ("grafted_on", "B")]));
    book.edit(edit("e", vec![add("B", "1", "2"), graft])).expect("added");
    book.turn_over(&EditId::new("e"), EditId::new("u"), day()).expect("undone");
    assert_eq!(text(&book), trees);
    let mut book = added("");
    book.edit(edit("t", vec![set("B", "tag", "x")])).expect("tagged");
    assert_eq!(
        refused(&mut book),
        "edit: found \"Edit t\", made after it, expected nothing that changed the tree since: \
         undo that first"
    );
    // That undone, and so is the adding.
    book.turn_over(&EditId::new("t"), EditId::new("u1"), day()).expect("undone");
    book.turn_over(&EditId::new("e"), EditId::new("u2"), day()).expect("undone");
    assert_eq!(text(&book), trees);
    assert_eq!(book.plot().trees().len(), 1);
    // A cell that another program filled.
    let before = text(&added("")).replace("B,1,2,,,", "B,1,2,,,red");
    let record = edit_line::line(&added("").edits().all()[0].clone());
    let mut book = book_of(&before, "");
    assert_eq!(book.replay_trees([TreeRecord::Past(&record)]), []);
    assert_eq!(
        refused(&mut book),
        "edit: found a line of \"B\" that says something else by now, also in column colour, \
         expected the line as it was added"
    );
}

#[test]
fn an_id_that_was_taken_out_is_not_given_again() {
    let mut book = book_of("tree_id,row,place\nT00001-8,1,1\n", "");
    let id = book.plot().next_tree_id();
    assert_eq!(id, TreeId::of_serial(2));
    let one = book.edit(edit("e", vec![add(id.as_str(), "1", "2")])).expect("added");
    let other =
        book.turn_over(&EditId::new("e"), EditId::new("u"), day()).expect("taken out again");
    assert_eq!(book.plot().next_tree_id(), TreeId::of_serial(3));
    let mut replayed = book_of("tree_id,row,place\nT00001-8,1,1\n", "");
    assert_eq!(replayed.replay_trees([TreeRecord::Edit(&one), TreeRecord::Edit(&other)]), []);
    assert_eq!(replayed.plot().next_tree_id(), TreeId::of_serial(3));
    let mut later = book_of("tree_id,row,place\nT00001-8,1,1\n", "");
    assert_eq!(
        later.replay_trees(
            book.edit_records().collect::<Vec<_>>().iter().map(|it| TreeRecord::Past(it))
        ),
        []
    );
    assert_eq!(later.plot().next_tree_id(), TreeId::of_serial(3));
    assert_eq!(later.edits(), book.edits());
}

/// Two edits of one cell, both undone: the one that was done again stands, and is not in the way of
/// the next.
#[test]
fn edits_of_one_cell_are_done_again_one_after_the_other() {
    let mut book = book_of("tree_id,row,place,tag\nA,1,1,a\n", "");
    for to in ["b", "c"] {
        book.edit(edit(to, vec![set("A", "tag", to)])).expect("made");
    }
    let mut said = Vec::new();
    for (nth, redo) in [false, false, true, true, false, true].into_iter().enumerate() {
        let edits = book.edits();
        let next = if redo { edits.to_redo() } else { edits.to_undo() };
        let next = next.expect("something to turn over").id.clone();
        book.turn_over(&next, EditId::new(nth.to_string()), day()).expect("turned over");
        said.push(text(&book).trim_end().rsplit(',').next().unwrap_or_default().to_owned());
    }
    assert_eq!(said, ["b", "a", "b", "c", "b", "c"]);
}

#[test]
fn a_note_keeps_what_was_added_behind_when_an_edit_is_undone() {
    for (before, after) in [("", "2031-06-15: no tag"), ("old", "old; 2031-06-15: no tag")] {
        let mut book = book_of(&format!("tree_id,row,place,note\nA,1,1,{before}\n"), "");
        let moved: Vec<&str> = [before, "moved"].into_iter().filter(|it| !it.is_empty()).collect();
        let moved = moved.join("; ");
        book.edit(edit("e", vec![set("A", "note", &moved), set("A", "place", "2")]))
            .expect("moved");
        let change = TreeChange {
            tree: TreeId::new("A"),
            cell: TreeCell::Note,
            from: "".into(),
            to: format!("{moved}; 2031-06-15: no tag").as_str().into(),
            changed_on: day(),
            round: None,
            scorer: None,
            after: None,
        };
        book.change_tree(change).expect("told");
        book.turn_over(&EditId::new("e"), EditId::new("u"), day()).expect("undone");
        assert_eq!(text(&book), format!("tree_id,row,place,note\nA,1,1,{after}\n"));
    }
}

#[test]
fn what_no_longer_fits_is_told_and_the_rest_is_taken() {
    let trees = "tree_id,row,place,status,tag\nA,1,1,,\nB,1,2,,\n";
    let mut book = book_of(trees, "");
    let one = edit("one", vec![set("A", "tag", "x"), set("B", "tag", "y")]);
    let two = edit("two", vec![add("C", "1", "3")]);
    let records = [one, two].map(|edit| book.edit(edit).expect("an edit"));
    let dead = TreeChange {
        tree: TreeId::new("C"),
        cell: TreeCell::Status,
        from: "".into(),
        to: "dead".into(),
        changed_on: day(),
        round: None,
        scorer: None,
        after: None,
    };
    let dead = book.change_tree(dead).expect("dead");
    let log = || {
        let edits = records.iter().map(|it| TreeRecord::Edit(it));
        edits.chain([TreeRecord::Changes(&dead), TreeRecord::Edit(b"{\"id\":")])
    };
    let mut other = book_of("tree_id,row,place,status,tag\nA,1,1,,\nB,1,2,,other\n", "");
    let told: Vec<String> = other.replay_trees(log()).iter().map(ToString::to_string).collect();
    assert_eq!(told.len(), 2, "{told:?}");
    assert!(told[0].starts_with("changes of trees.csv: found no edit: EOF"), "{told:?}");
    assert_eq!(
        told[1],
        "changes of trees.csv, column tag: found \"other\" for \"Edit one\", expected \"\", as the \
         tree had when it was changed"
    );
    let plot = other.plot();
    assert_eq!(plot.tree(plot.tree_ix("C").expect("added")).status(), Status::Dead);
    assert_eq!(text(&other), "tree_id,row,place,status,tag\nA,1,1,,\nB,1,2,,other\nC,1,3,dead,\n");
    // Two lines that are sound alone and not together: only the second is left out.
    let mut far = book_of("tree_id,row,place,status,tag\nA,1,1,,\nB,1,2,,\nD,x,3,,\n", "");
    let clash = edit_line::line(&edit("bad", vec![add("E", "x", "1")]));
    let told = far.replay_trees([TreeRecord::Edit(&records[1]), TreeRecord::Edit(&clash)]);
    assert_eq!(told.len(), 1);
    assert!(far.plot().tree_ix("C").is_some() && far.plot().tree_ix("E").is_none());
}

#[test]
fn a_record_is_text_that_an_editor_shows() {
    let mut one = edit("e", vec![add("B", "1", "2")]);
    one.parts.push(EditPart::Set {
        tree: TreeId::new("A"),
        field: TreeField::Tag,
        from: "".into(),
        to: "MB-1".into(),
    });
    let record = edit_line::line(&one);
    assert_eq!(
        String::from_utf8_lossy(&record),
        r#"{"id":"e","words":"Edit e","done_on":"2031-06-14","parts":[{"add":{"place":"2","row":"1","tree_id":"B"}},{"set":{"tree_id":"A","column":"tag","from":"","to":"MB-1"}}]}"#
    );
    assert_eq!(edit_line::edit(&record), Ok(one));
    for bad in [
        "",
        "{}",
        r#"{"id":"e","words":"","done_on":"2031-06-14","parts":[{"add":{"row":"1"}}]}"#,
        r#"{"id":"e","words":"","done_on":"2031-06-14","parts":[{"add":{"tree_id":"A","hue":"1"}}]}"#,
    ] {
        assert!(edit_line::edit(bad.as_bytes()).is_err(), "{bad}");
    }
}

#[test]
fn a_list_of_twenty_thousand_lines_is_one_edit_and_one_undo() {
    let trees = "tree_id,row,place,tag\nA,1,1,x\n";
    let mut book = book_of(trees, "s1,A,girth,3,2031-01-01\n");
    let parts = (0..20_000).map(|nth: u32| {
        let id = book.plot().nth_next_tree_id(nth);
        add(id.as_str(), &(2 + nth / 100).to_string(), &(1 + nth % 100).to_string())
    });
    let parts = parts.collect();
    let record = book.edit(edit("list", parts)).expect("a list");
    assert_eq!(book.plot().trees().len(), 20_001);
    let mut replayed = book_of(trees, "s1,A,girth,3,2031-01-01\n");
    assert_eq!(replayed.replay_trees([TreeRecord::Edit(&record)]), []);
    assert_eq!(replayed.plot().trees(), book.plot().trees());
    book.turn_over(&EditId::new("list"), EditId::new("u"), day()).expect("undone");
    assert_eq!(text(&book), trees);
    assert_eq!(book.plot().next_tree_id(), TreeId::of_serial(20_001));
}

#[test]
fn what_was_found_in_the_trees_is_of_the_file_after_an_edit() {
    let trees = "tree_id,row,place,tag\nA,1,1,x\nB,1,2,x\nC,1\n";
    let files = [("plot.json", HEAD), ("trees.csv", trees)];
    let files: FileSet =
        files.into_iter().map(|(name, text)| (name.to_owned(), text.into())).collect();
    let (book, known) = open(files);
    let mut book = book.expect("a book");
    assert_eq!(book.problems_now(known.clone()), known, "as it was opened");
    book.edit(edit("e", vec![add("D", "1", "2")])).expect("an edit");
    let now = book.problems_now(known.clone());
    assert_eq!(now, open(book.to_files()).1);
    assert_ne!(now, known, "two trees stand in one place now");
    book.turn_over(&EditId::new("e"), EditId::new("u"), day()).expect("undone");
    assert_eq!(book.problems_now(now), known);
}
