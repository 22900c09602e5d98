//! Which edits stand, and what is undone and done again next.

use super::*;

fn edit(id: &str) -> Edit {
    let parts = vec![EditPart::set(&TreeId::new("A"), TreeField::Tag, id)];
    Edit::new(EditId::new(id), id, When::parse("2031-06-14").expect("a day"), parts)
}

/// Runs `a b u r …`: a letter makes an edit, `-` undoes, `+` does again; gives what stands, and
/// what would be undone and done again next.
fn check(acts: &str, standing: &str, undo: Option<&str>, redo: Option<&str>) {
    let mut edits = Edits::default();
    for (nth, act) in acts.chars().enumerate() {
        let of = match act {
            '-' => edits.to_undo(),
            '+' => edits.to_redo(),
            made => {
                edits.push(edit(&made.to_string()));
                continue;
            }
        };
        let link = edits.last_link(&of.expect("something to turn over").id).expect("its link");
        edits.push(link.inverse(EditId::new(nth.to_string()), link.done_on));
    }
    for (made, stands) in edits.made() {
        let link = edits.last_link(&made.id).expect("its link");
        assert_eq!((edits.stands(&made.id), edits.stands(&link.id)), (stands, stands), "{acts}");
    }
    let stands: String =
        edits.made().filter(|(_, stands)| *stands).map(|(edit, _)| edit.words.as_ref()).collect();
    assert_eq!(stands.chars().rev().collect::<String>(), standing, "{acts}");
    assert_eq!(edits.to_undo().map(|edit| &*edit.words), undo, "{acts}");
    assert_eq!(edits.to_redo().map(|edit| &*edit.words), redo, "{acts}");
}

#[test]
fn undo_and_redo_run_through_edits_in_their_order() {
    check("", "", None, None);
    check("ab", "ab", Some("b"), None);
    check("ab-", "a", Some("a"), Some("b"));
    check("ab--", "", None, Some("a"));
    check("ab--+", "a", Some("a"), Some("b"));
    check("ab--++", "ab", Some("b"), None);
    check("ab--++-", "a", Some("a"), Some("b"));
    check("ab-c", "ac", Some("c"), None);
    check("ab-c-", "a", Some("a"), Some("c"));
    check("ab-c--", "", None, Some("a"));
}

#[test]
fn an_inverse_of_an_inverse_is_the_edit_again() {
    let added = TreeLine::new(TreeId::new("B")).with(TreeField::Row, "1").with(TreeField::Tag, "");
    assert_eq!(added.cells.len(), 1, "an empty cell says nothing");
    let mut edit = edit("a");
    edit.parts.push(EditPart::Add(added));
    let undone = edit.inverse(EditId::new("u"), edit.done_on);
    assert_eq!(&*undone.words, "Undone: a");
    assert!(matches!(&undone.parts[0], EditPart::TakeOut(line) if line.id.as_str() == "B"));
    let again = undone.inverse(EditId::new("r"), edit.done_on);
    assert_eq!((&again.parts, &again.words), (&edit.parts, &edit.words));
}

#[test]
fn fields_are_known_by_their_columns() {
    for &field in TreeField::ALL {
        assert_eq!(TreeField::parse(field.as_str()), Some(field));
    }
    assert_eq!(TreeField::parse("tree_id"), None);
    assert!(TreeField::Role.says_the_same("", "seedling"));
    assert!(!TreeField::Tag.says_the_same("", "alive"));
}
