//! Out to a spreadsheet and back in: what was not edited changes nothing, what was changes alone.

use files::list::{Draft, Intake, Source};
use files::{Book, guarded, unguarded};
use plot::EditPart;
use proptest::prelude::*;

use crate::sheets::records;
use crate::spreadsheet;
use crate::testing::{book, head, lantern};

/// Reads a table as a person brings it in.
fn brought(book: &Book, source: Source) -> Intake {
    let intake = Intake::new("table.csv", source).for_columns(book.tree_columns());
    intake.to_end(book.plot())
}

fn draft(intake: &Intake) -> &Draft {
    intake.draft().expect("read to its end")
}

/// Edits that a person sees: tree, column, what it will say.
fn edits(intake: &Intake) -> Vec<(String, String, String)> {
    let said = |part: EditPart| match part {
        EditPart::Set { tree, field, to, .. } => {
            (tree.to_string(), field.as_str().to_owned(), to.to_string())
        }
        other => panic!("{other:?}"),
    };
    intake.parts().into_iter().map(said).collect()
}

/// The same cells as another spreadsheet saves them.
fn saved(table: &[Vec<String>], separator: u8, crlf: bool, utf16: bool) -> Vec<u8> {
    let end = if crlf { csv::Terminator::CRLF } else { csv::Terminator::Any(b'\n') };
    let mut writer =
        csv::WriterBuilder::new().delimiter(separator).terminator(end).from_writer(Vec::new());
    table.iter().for_each(|row| writer.write_record(row).expect("memory takes every line"));
    let text = writer.into_inner().expect("memory takes every line");
    if !utf16 {
        return text;
    }
    let text = String::from_utf8(text).expect("UTF-8");
    format!("\u{feff}{text}").encode_utf16().flat_map(u16::to_le_bytes).collect()
}

fn is_unchanged(book: &Book, source: Source) -> Result<(), TestCaseError> {
    let intake = brought(book, source);
    let draft = draft(&intake);
    prop_assert_eq!(draft.problems(), &[]);
    prop_assert_eq!(edits(&intake), vec![]);
    prop_assert_eq!(draft.counts().same, book.plot().trees().len());
    Ok(())
}

#[test]
fn the_demo_plot_comes_back_without_a_change() {
    let book = lantern();
    let bytes = spreadsheet(&book).bytes;
    let table = records(&bytes);
    is_unchanged(&book, Source::Bytes(bytes)).expect("unchanged");
    for (separator, crlf, utf16) in [(b';', false, false), (b'\t', true, true)] {
        let saved = saved(&table, separator, crlf, utf16);
        is_unchanged(&book, Source::Bytes(saved)).expect("unchanged");
    }
}

#[test]
fn what_the_plot_wrote_is_known_by_its_header() {
    // Words that a list would take for a state, a title, a total, a tag, a note of its own.
    let trees = "tree_id,row,place,health,Etikett,cross,note\n\
        Total,1,1,dead,7,A × B,old; older\nrow,1,2,alive,8,,\n=x,1,3,dead,9,,'t Zand\n";
    let scores = "score_id,tree_id,trait,value,scored_on,round\ns1,row,bloom,3,2031-05-02,note\n";
    let book = book(head(false), trees, scores);
    let text = String::from_utf8(spreadsheet(&book).bytes).expect("UTF-8");
    is_unchanged(&book, Source::Pasted(text.clone())).expect("unchanged");
    let edited = text.replace("old; older", "old and mended").replace("'=x,1,3", "'=x,1,4");
    let intake = brought(&book, Source::Pasted(edited));
    let edit = |tree: &str, field: &str, to: &str| (tree.into(), field.into(), to.into());
    assert_eq!(edits(&intake), [edit("Total", "note", "old and mended"), edit("=x", "place", "4")]);
    // Of a list of one's own, notes come behind those that are there.
    let list = Source::Pasted("tree_id,note\nTotal,leaves curl\n".to_owned());
    let said = edits(&brought(&book, list));
    assert_eq!(said, [edit("Total", "note", "old; older; leaves curl")]);
}

/// Trees with whatever words people write, and an origin so that degrees are possible, too.
fn trees() -> impl Strategy<Value = String> {
    let words = "[=+@' a-cé0-9;,.\"\t\n-]{0,7}|[A-Z][a-z]{2,6}( [0-9]{1,3})?|\\PC{0,10}";
    let metres = prop_oneof![
        Just(String::new()),
        (0_i64..99_999).prop_map(|mm| { (mm as f64 / 1000.0).to_string() })
    ];
    let day = prop_oneof![Just(""), Just("2031-06-14"), Just("2031-02-03")];
    let state = prop_oneof![Just(""), Just("alive"), Just("dead"), Just("removed"), Just("empty")];
    let tree = (
        ("[=@a-c' ]{0,3}", words, words, words, words),
        (metres, day, state, "(|seedling|guard|susceptible_check)", "(|0?[0-9]{1,2}(\\.0)?)"),
    );
    proptest::collection::vec(tree, 1..9).prop_map(|trees| {
        let mut csv = csv::Writer::from_writer(Vec::new());
        let names = [
            "tree_id",
            "row",
            "place",
            "x_m",
            "y_m",
            "tag",
            "genotype",
            "seed_parent",
            "note",
            "status",
            "role",
            "planted_on",
            "seedling_no",
            "my own",
        ];
        csv.write_record(names).expect("a line");
        for (nth, tree) in trees.iter().enumerate() {
            let ((id, tag, genotype, parent, note), (metres, day, state, role, number)) = tree;
            let (id, place) = (format!("{id}T{nth}"), (nth + 1).to_string());
            let own = [id.as_str(), "1", &place, metres, metres, tag, genotype, parent, note];
            let rest = [state, role.as_str(), day, number, tag];
            csv.write_record(own.into_iter().chain(rest)).expect("a line");
        }
        String::from_utf8(csv.into_inner().expect("memory")).expect("UTF-8")
    })
}

/// The book of such trees, unless a plot refuses one of them.
fn sound(trees: &str) -> Result<Book, TestCaseError> {
    let files = [("plot.json", head(true)), ("trees.csv", trees.to_owned())];
    let (book, problems) =
        files::open(files.map(|(name, text)| (name.to_owned(), text.into_bytes())).into());
    let is_sound = problems.iter().all(|one| one.weight != plot::Weight::Fault);
    book.filter(|_| is_sound).ok_or_else(|| TestCaseError::reject("not sound"))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, ..ProptestConfig::default() })]

    #[test]
    fn whatever_is_written_comes_back_without_a_change(
        trees in trees(), separator in "[,;\t]", crlf: bool, utf16: bool,
    ) {
        let book = sound(&trees)?;
        let bytes = spreadsheet(&book).bytes;
        let table = records(&bytes);
        is_unchanged(&book, Source::Bytes(bytes))?;
        let saved = saved(&table, separator.as_bytes()[0], crlf, utf16);
        is_unchanged(&book, Source::Bytes(saved))?;
    }

    #[test]
    fn what_is_edited_changes_and_nothing_else(
        trees in trees(),
        edited in proptest::collection::vec(proptest::option::of("[=+a-z]{1,3}[0-9]{1,2}"), 9..10),
        column in 0_usize..2,
    ) {
        let book = sound(&trees)?;
        let name = ["tag", "note"][column];
        let mut table = records(&spreadsheet(&book).bytes);
        let at = table[0].iter().position(|head| head == name).expect("the column");
        let mut expected = Vec::new();
        for (row, to) in table[1..].iter_mut().zip(&edited) {
            let Some(to) = to else { continue };
            if unguarded(&row[at]).trim() != to {
                let id = book.plot().tree_ix(unguarded(&row[0])).expect("a tree");
                let id = book.plot().tree(id).id().to_string();
                expected.push((id, name.to_owned(), to.clone()));
            }
            row[at] = guarded(to);
        }
        let intake = brought(&book, Source::Bytes(saved(&table, b',', true, false)));
        prop_assert_eq!(draft(&intake).counts().faulty, 0);
        prop_assert_eq!(edits(&intake), expected);
    }
}
