//! What acts would do, in words and parts.

use super::*;
use crate::{Head, Layout, Spot, TreeDraft, When};

fn plot() -> Plot {
    let layout = Layout { row_spacing_m: 3.0, place_spacing_m: 0.75, first_row: 1, first_place: 1 };
    let mut plot = Plot::new(Head {
        name: "Test".into(),
        layout,
        origin: None,
        season_starts_month: 1,
        traits: Vec::new(),
        diseases: Default::default(),
        crosses: Vec::new(),
    })
    .expect("a head");
    let at =
        |row, place| WhereGiven { row: Some(row), place: Some(place), ..WhereGiven::default() };
    let mut add = |id: &str, location, change: &dyn Fn(&mut TreeDraft)| {
        let mut draft = TreeDraft { location, ..TreeDraft::new(TreeId::new(id)) };
        change(&mut draft);
        plot.add_tree(draft).expect("a tree");
    };
    add("T00001-8", at(1, 1), &|it| it.tag = Some("MB-1".into()));
    add("T00002-6", at(1, 2), &|it| it.status = Status::Removed);
    add("T00003-4", at(1, 3), &|it| it.note = Some("old".into()));
    let own = WhereGiven { spot: Some(Spot { x_m: 0.1, y_m: 9.0 }), ..at(4, 1) };
    add("Q", own, &|_| ());
    // Numbers at the end of what a number can be, which metres of one's own allow.
    let far = |place| WhereGiven { spot: Some(Spot { x_m: 2.0, y_m: 12.0 }), ..at(5, place) };
    add("L", far(i32::MIN), &|_| ());
    add("M", far(1), &|_| ());
    add("N", far(2), &|_| ());
    add("O", far(i32::MAX), &|_| ());
    add("G", WhereGiven::default(), &|it| it.grafted_on = Some(TreeId::new("T00001-8")));
    plot
}

/// Words, sentences and parts of an act, or the refusal.
fn check(act: Act, expected: &str) {
    let day = When::parse_date("2031-11-20").expect("a day");
    let said = match plot().plan(&act, day) {
        Err(refusal) => refusal.to_string(),
        Ok(plan) => {
            let part = |part: &EditPart| match part {
                EditPart::Add(line) | EditPart::TakeOut(line) => {
                    let cells =
                        line.cells.iter().map(|(field, text)| format!("{}={text}", field.as_str()));
                    format!("+ {} {}", line.id, cells.collect::<Vec<_>>().join(" "))
                }
                EditPart::Set { tree, field, to, .. } => format!("{tree} {}={to}", field.as_str()),
                EditPart::Lie { to, .. } => to.to_string(),
            };
            let parts = plan.parts.iter().map(part);
            [plan.words].into_iter().chain(plan.will_be).chain(parts).collect::<Vec<_>>().join("\n")
        }
    };
    assert_eq!(said, expected, "{act:?}");
}

fn id(text: &str) -> TreeId {
    TreeId::new(text)
}

#[test]
fn a_new_tree_stands_where_it_is_said_to() {
    let tagged = || vec![(TreeField::Tag, " MB-9 ".to_owned()), (TreeField::Note, String::new())];
    check(
        Act::Plant(Stand::At(7, 13), tagged()),
        "Planted MB-9 in row 7, place 13\n\
         Row 7, place 13: a new tree T00004-2, planted 2031-11-20.\n\
         + T00004-2 row=7 place=13 tag=MB-9 planted_on=2031-11-20",
    );
    check(
        Act::Plant(Stand::With(id("T00002-6")), Vec::new()),
        "Planted T00004-2 in row 1, place 2\n\
         Row 1, place 2: a new tree T00004-2, planted 2031-11-20.\n\
         T00002-6, removed, stood there before and keeps its scores; a new tree begins with none.\n\
         + T00004-2 row=1 place=2 planted_on=2031-11-20",
    );
    // In the hole of a graft's tree.
    check(
        Act::Plant(Stand::With(id("G")), Vec::new()),
        "Planted T00004-2 in row 1, place 1\n\
         Row 1, place 1: a new tree T00004-2, planted 2031-11-20.\nMB-1 stands there, too.\n\
         + T00004-2 row=1 place=1 planted_on=2031-11-20",
    );
    check(
        Act::Plant(Stand::With(id("Q")), Vec::new()),
        "Planted T00004-2 in row 4, place 1\n\
         Row 4, place 1: a new tree T00004-2, planted 2031-11-20.\nQ stands there, too.\n\
         + T00004-2 row=4 place=1 x_m=0.1 y_m=9 planted_on=2031-11-20",
    );
    check(
        Act::Plant(Stand::With(id("Z")), Vec::new()),
        "tree_id: found \"Z\", expected a tree_id of trees.csv",
    );
}

#[test]
fn behind_a_tree_is_the_next_place_or_between() {
    check(
        Act::Plant(Stand::Behind(id("T00003-4")), Vec::new()),
        "Planted T00004-2 in row 1, place 4\n\
         Row 1, place 4: a new tree T00004-2, planted 2031-11-20.\n\
         + T00004-2 row=1 place=4 planted_on=2031-11-20",
    );
    check(
        Act::Plant(Stand::Behind(id("Q")), Vec::new()),
        "Planted T00004-2 in row 4, place 2\n\
         Row 4, place 2: a new tree T00004-2, planted 2031-11-20.\n\
         + T00004-2 row=4 place=2 x_m=0.85 y_m=9 planted_on=2031-11-20",
    );
    check(
        Act::Plant(Stand::Behind(id("T00001-8")), Vec::new()),
        "Planted T00004-2 in row 1, between places 1 and 2\n\
         Row 1, between places 1 and 2: a new tree T00004-2, planted 2031-11-20.\n\
         + T00004-2 row=1 place=1 x_m=0.375 y_m=0 planted_on=2031-11-20",
    );
    check(
        Act::Plant(Stand::BehindMovingOn(id("T00001-8")), Vec::new()),
        "Planted T00004-2 in row 1, place 2\n\
         Row 1, place 2: a new tree T00004-2, planted 2031-11-20.\n\
         T00002-6, removed, stood there before and keeps its scores; a new tree begins with none.\n\
         2 trees behind it count one place further, from T00002-6 to T00003-4. Their scores stay \
         with them.\n\
         + T00004-2 row=1 place=2 planted_on=2031-11-20\nT00002-6 place=3\nT00003-4 place=4",
    );
}

#[test]
fn no_place_is_counted_past_the_last_number() {
    let last = "place: found 2147483647, expected a place that can be followed by another";
    check(Act::Plant(Stand::Behind(id("O")), Vec::new()), last);
    check(Act::Plant(Stand::BehindMovingOn(id("M")), Vec::new()), last);
    check(
        Act::Plant(Stand::Behind(id("L")), Vec::new()),
        "Planted T00004-2 in row 5, place -2147483647\n\
         Row 5, place -2147483647: a new tree T00004-2, planted 2031-11-20.\n\
         + T00004-2 row=5 place=-2147483647 x_m=2.75 y_m=12 planted_on=2031-11-20",
    );
}

#[test]
fn a_tree_is_followed_by_what_stands_or_stood_in_the_next_place() {
    let plot = plot();
    for (tree, expected) in [
        ("T00001-8", true),
        ("G", true), // as the tree that carries it
        ("T00002-6", true),
        ("T00003-4", false),
        ("O", false),
        ("Z", false),
    ] {
        assert_eq!(plot.is_followed(&id(tree)), expected, "{tree}");
    }
}

#[test]
fn a_tree_moves_leaves_and_carries() {
    let moved = |tree: &str, truly| Act::Move { tree: id(tree), row: 1, place: 3, truly };
    check(
        moved("T00001-8", true),
        "Moved MB-1 from row 1, place 1 to row 1, place 3\n\
         Row 1, place 3: MB-1, so far in row 1, place 1.\nT00003-4 stands there, too.\n\
         Its grafts go with it: 1.\n\
         T00001-8 row=1\nT00001-8 place=3\nT00001-8 note=2031-11-20: moved from row 1, place 1",
    );
    check(
        moved("Q", false),
        "Q is in row 1, place 3, not in row 4, place 1\n\
         Row 1, place 3: Q, so far in row 4, place 1.\nT00003-4 stands there, too.\n\
         Q row=1\nQ place=3\nQ x_m=\nQ y_m=",
    );
    check(
        moved("G", true),
        "grafted_on: found a graft, expected a tree: a graft moves with its tree",
    );
    check(
        moved("T00003-4", true),
        "place: found the place where it stands, expected another place",
    );
    check(
        Act::Gone(id("T00001-8"), Status::Dead),
        "MB-1 died\n\
         MB-1, row 1, place 1: died on 2031-11-20. Its line and its scores stay; the place can be \
         planted anew.\nWhat is grafted on it goes with it: G.\n\
         T00001-8 status=dead\nT00001-8 removed_on=2031-11-20\nG status=dead\nG removed_on=2031-11-20",
    );
    check(Act::Gone(id("Q"), Status::Empty), "status: found empty, expected dead or removed");
    let scion = |genotype: &str, limb: &str| Scion {
        genotype: genotype.into(),
        limb: limb.into(),
        tag: String::new(),
    };
    check(
        Act::Graft(id("Q"), vec![scion("TR-9 ", "north limb"), scion("", "x"), scion("TR-7", "")]),
        "Grafted TR-9, TR-7 on Q\n\
         On Q, north limb: TR-9, a new graft T00004-2, grafted 2031-11-20.\n\
         On Q: TR-7, a new graft T00005-9, grafted 2031-11-20.\n\
         + T00004-2 genotype=TR-9 grafted_on=Q planted_on=2031-11-20 note=limb: north limb\n\
         + T00005-9 genotype=TR-7 grafted_on=Q planted_on=2031-11-20",
    );
    check(
        Act::Graft(id("Q"), vec![scion(" ", "")]),
        "genotype: found nothing, expected the name of what is grafted",
    );
    check(
        Act::Graft(id("T00002-6"), vec![scion("a", "")]),
        "status: found removed, expected a tree that stands",
    );
}

#[test]
fn another_tag_leaves_the_old_one_in_the_note() {
    let relabel = |tree: &str, cells: &[(TreeField, &str)], truly| Act::Relabel {
        tree: id(tree),
        cells: cells.iter().map(|&(field, text)| (field, text.to_owned())).collect(),
        truly,
    };
    use TreeField as F;
    check(
        relabel("T00001-8", &[(F::Tag, "MB-2"), (F::Role, "seedling")], true),
        "Tag of MB-1 is now MB-2\nTag: \"MB-2\", so far \"MB-1\".\n\
         T00001-8 tag=MB-2\nT00001-8 note=2031-11-20: tag was MB-1",
    );
    check(
        relabel("T00003-4", &[(F::Tag, "MB-2"), (F::Note, "new"), (F::CrossYear, "2029")], true),
        "Tag, Note, Year of the cross of T00003-4 corrected\nTag: \"MB-2\", so far nothing.\n\
         Note: \"new\", so far \"old\".\nYear of the cross: \"2029\", so far nothing.\n\
         T00003-4 tag=MB-2\nT00003-4 cross_year=2029\nT00003-4 note=new; 2031-11-20: tagged",
    );
    check(
        relabel("T00001-8", &[(F::Tag, "MB-2")], false),
        "Tag of MB-1 is now MB-2\nTag: \"MB-2\", so far \"MB-1\".\nT00001-8 tag=MB-2",
    );
    check(
        relabel("T00001-8", &[(F::Tag, "MB-1")], true),
        "edit: found nothing that would change, expected something else than it says",
    );
}
