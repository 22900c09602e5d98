//! Where the plot lies, changed as trees are: with them or alone, back byte for byte, and from the
//! log.

use plot::{Origin, Spot};

use super::*;

const LIES: &str = r#"{"format": "leeward-plot", "version": 1, "name": "Test bank",
  "layout": {"row_spacing_m": 3, "place_spacing_m": 1}, "own": [1.50],
  "origin": {"lon": 5.120, "datum": "WGS 84", "lat": 52.04}}"#;
const TREES: &str = "tree_id,row,place,x_m,y_m,lon,lat\nA,1,1,,,,\nB,1,2,,,5.1201,52.04\n";

fn book_at(head: &str, trees: &str) -> Book {
    let files = [("plot.json", head), ("trees.csv", trees)];
    let files: FileSet =
        files.into_iter().map(|(name, text)| (name.to_owned(), text.into())).collect();
    open(files).0.expect("a book")
}

fn head(book: &Book) -> String {
    String::from_utf8_lossy(&book.files()["plot.json"]).into_owned()
}

const WEST: Origin = Origin { lon: 5.1201, lat: 52.04, row_bearing_deg: 90.0 };

#[test]
fn the_origin_changes_alone_and_the_trees_with_it() {
    let mut book = book_at(LIES, TREES);
    let before = book.clone();
    let parts = vec![EditPart::lie(&WEST), set("A", "x_m", "0.25"), set("A", "y_m", "0")];
    let record = book.edit(edit("e", parts)).expect("an edit");
    let after =
        LIES.replace("5.120,", "5.1201,").replace("52.04}", "52.04, \"row_bearing_deg\": 90}");
    assert_eq!(head(&book), after, "what is not ours stays");
    assert_eq!(book.plot().head().origin, Some(WEST));
    assert_eq!(book.plot().trees()[0].spot(), Spot { x_m: 0.25, y_m: 0.0 });
    assert!(book.plot().trees()[1].spot().distance_m(Spot { x_m: 0.0, y_m: 0.0 }) < 1e-6);
    let (again, _) = open(book.to_files());
    assert_eq!(again.expect("a book").plot().trees(), book.plot().trees());

    // The log, over the files before and after, in one go and as past.
    for start in [&before, &book] {
        let mut replayed = open(start.to_files()).0.expect("a book");
        assert_eq!(replayed.replay_trees([TreeRecord::Edit(&record)]), []);
        assert_eq!((replayed.files(), replayed.edits()), (book.files(), book.edits()));
        assert_eq!(replayed.plot().head(), book.plot().head());
        assert_eq!(replayed.plot().trees(), book.plot().trees());
    }
    let mut past = open(book.to_files()).0.expect("a book");
    assert_eq!(past.replay_trees([TreeRecord::Past(&record)]), []);
    past.turn_over(&EditId::new("e"), EditId::new("u"), day()).expect("undone");
    assert_eq!(past.files(), before.files());

    book.turn_over(&EditId::new("e"), EditId::new("u"), day()).expect("undone");
    assert_eq!((head(&book), book.plot().trees()), (LIES.to_owned(), before.plot().trees()));
    assert_eq!(book.plot().head().origin, before.plot().head().origin);
    book.turn_over(&EditId::new("e"), EditId::new("r"), day()).expect("again");
    assert_eq!(head(&book), after);
}

#[test]
fn a_plot_that_lay_nowhere_gets_an_origin_and_loses_it_again() {
    let mut book = book_of("tree_id,row,place\nA,1,1\n", "");
    let before = book.clone();
    book.edit(edit("e", vec![EditPart::lie(&WEST)])).expect("an edit");
    assert_eq!(book.plot().head().origin, Some(WEST));
    assert!(
        head(&book).contains(
            "\"layout\": {\"row_spacing_m\": 3, \"place_spacing_m\": 1},\n  \"origin\": {"
        )
    );
    assert_eq!(
        book.edit(edit("f", vec![EditPart::lie(&WEST)])).expect_err("no change").to_string(),
        "edit: found nothing that would change, expected something else than it says"
    );
    // A tree that is told by degrees stands in the way of undoing it.
    let by_degrees = line(&[("tree_id", "B"), ("lon", "5.1201"), ("lat", "52.0401")]);
    book.edit(edit("g", vec![EditPart::Add(by_degrees)])).expect("a tree");
    let refused =
        book.turn_over(&EditId::new("e"), EditId::new("u"), day()).expect_err("in the way");
    assert!(refused.found.contains("no origin"), "{refused}");
    book.turn_over(&EditId::new("g"), EditId::new("v"), day()).expect("undone");
    book.turn_over(&EditId::new("e"), EditId::new("w"), day()).expect("undone");
    assert_eq!(book.files()["plot.json"], before.files()["plot.json"]);
}

#[test]
fn lines_that_lay_nowhere_become_trees() {
    let mut book = book_at(HEAD, &TREES.replace("B,1,2", "B,,"));
    assert_eq!(book.plot().trees().len(), 1, "degrees say nothing without an origin");
    book.edit(edit("e", vec![EditPart::lie(&WEST)])).expect("an edit");
    assert_eq!(book.plot().trees().len(), 2);
}

#[test]
fn trees_that_an_origin_made_of_their_lines_are_lines_again_while_nothing_is_known_of_them() {
    let trees = "tree_id,row,place,lon,lat,tag,status\nA,1,1,,,,\nB,,,5.1201,52.04,,\n";
    let start = book_at(HEAD, trees);
    let mut book = start.clone();
    let mut log = vec![book.edit(edit("e", vec![EditPart::lie(&WEST)])).expect("an edit")];
    let turn_over = |book: &mut Book, edit: &str, name: &str| {
        book.turn_over(&EditId::new(edit), EditId::new(name), day())
    };
    let in_the_way = |book: &mut Book| {
        let before = book.clone();
        let refused = turn_over(book, "e", "x").expect_err("something is known of B");
        assert!(refused.found.contains("no origin"), "{refused}");
        assert_eq!((book.files(), book.plot().trees()), (before.files(), before.plot().trees()));
    };
    log.push(book.edit(edit("t", vec![set("B", "tag", "late")])).expect("a tag"));
    in_the_way(&mut book);

    // The log finds a tree that only its own origin gave.
    let same_by_log = |log: &[Vec<u8>], book: &Book| {
        let mut replayed = open(start.to_files()).0.expect("a book");
        assert_eq!(replayed.replay_trees(log.iter().map(|it| TreeRecord::Edit(it))), []);
        assert_eq!((replayed.files(), replayed.edits()), (book.files(), book.edits()));
        assert_eq!(replayed.plot().trees(), book.plot().trees());
    };
    same_by_log(&log, &book);

    log.push(turn_over(&mut book, "t", "u").expect("undone"));
    log.push(turn_over(&mut book, "e", "v").expect("undone"));
    assert_eq!((book.files(), book.plot().trees()), (start.files(), start.plot().trees()));
    same_by_log(&log, &book);
    log.push(turn_over(&mut book, "e", "w").expect("again"));
    assert_eq!(book.plot().trees().len(), 2);
    same_by_log(&log, &book);

    let status = TreeChange {
        tree: TreeId::new("B"),
        cell: TreeCell::Status,
        from: "".into(),
        to: "dead".into(),
        changed_on: day(),
        round: None,
        scorer: None,
        after: None,
    };
    book.change_tree(status).expect("a change");
    in_the_way(&mut book);
}

#[test]
fn what_is_no_origin_is_refused_and_a_later_one_is_undone_first() {
    let check = |book: &mut Book, parts: Vec<EditPart>, expect: &str| {
        let before = book.clone();
        let refused = book.edit(edit("x", parts)).expect_err("a refusal");
        assert!(refused.to_string().starts_with(expect), "{refused}");
        assert_eq!(book.files(), before.files());
        assert_eq!(book.plot().head(), before.plot().head());
    };
    let mut book = book_at(LIES, TREES);
    let at = |lat: f64| EditPart::lie(&Origin { lat, ..WEST });
    check(&mut book, vec![at(95.0)], "origin: found 95, expected degrees");
    check(&mut book, vec![at(f64::NAN)], "origin: found");
    check(&mut book, vec![at(50.0), at(51.0)], "edit: found the origin twice");
    // B would lie more than 100 km off.
    check(&mut book, vec![at(50.0)], "lon: found");
    book.edit(edit("e", vec![at(52.041)])).expect("an edit");
    book.edit(edit("f", vec![at(52.042)])).expect("an edit");
    let refused = book.turn_over(&EditId::new("e"), EditId::new("u"), day()).expect_err("f first");
    assert_eq!(
        refused.to_string(),
        "origin: found \"Edit f\", made after it, expected nothing that changed it since: undo that first"
    );
}
