//! Finding trees of the sample plot as people ask for them.

use super::*;
use crate::sample::{self, orchard};

/// The tags (ids where there is no tag) of the best hits.
fn ask(typed: &str) -> Vec<String> {
    let plot = orchard();
    let found = Finder::new(&plot).find(&plot, &Rows::of(&plot), typed, 5);
    let name = |hit: &Hit| {
        let tree = plot.tree(hit.tree);
        tree.tag().unwrap_or(tree.id().as_str()).to_owned()
    };
    found.hits.iter().map(name).collect()
}

/// The first hit and how its pieces matched.
fn first(typed: &str) -> (String, Vec<(Field, String, How)>) {
    let plot = orchard();
    let found = Finder::new(&plot).find(&plot, &Rows::of(&plot), typed, 1);
    let hit = found.hits.first().unwrap_or_else(|| panic!("nothing for {typed}"));
    let matched = hit.matched.iter().map(|it| (it.field, it.text.clone(), it.how)).collect();
    (plot.tree(hit.tree).id().to_string(), matched)
}

fn check(typed: &str, expect: &str) {
    assert_eq!(ask(typed).first().map(String::as_str), Some(expect), "{typed}: {:?}", ask(typed));
}

#[test]
fn a_tag_is_found_however_it_is_typed() {
    for typed in ["Q-12", "q12", "q 12", "Q 012", "q-12 ", "ｑ12"] {
        check(typed, "Q-12");
    }
}

#[test]
fn a_tag_that_is_the_same_comes_before_one_that_contains_it() {
    assert_eq!(ask("Q-1")[0], "Q-1");
    assert!(ask("Q-1").contains(&"Q-10".to_owned()), "typing on goes somewhere");
    assert_eq!(ask("q-14"), ["Q-14", "Q-14b", "Q-1", "Q-4", "Q-10"]);
}

#[test]
fn a_slip_of_the_thumb_is_forgiven_and_said() {
    let (id, matched) = first("q 116");
    assert_eq!(id, "t02006", "Q-16 with a digit too many");
    assert!(matched.iter().any(|it| it.2 == How::Close), "{matched:?}");
    check("old sixpense", "g1");
    check("pnod row", "g2");
}

#[test]
fn accents_and_case_do_not_matter() {
    check("ecarlate 3", "E-03");
    check("ÉCARLATE no. 3", "E-03");
    check("E\u{301}carlate 3", "E-03");
}

#[test]
fn a_cross_is_found_in_either_order() {
    for typed in ["marl beauty x tr-9 7", "TR9 × Marl 7", "tr 9 marl beauty no 7", "marlbeauty 7"]
    {
        check(typed, "Q-7");
    }
    let (_, matched) = first("tr 9 x marl no 7");
    let fields: Vec<Field> = matched.iter().map(|it| it.0).collect();
    assert_eq!(fields, [Field::Parent, Field::Parent, Field::SeedlingNo]);
    assert_eq!(matched[0].1, "TR-9");
}

#[test]
fn a_number_with_its_year_is_found() {
    check("marl 2029 9", "Q-9");
}

#[test]
fn a_place_is_found_as_it_is_said() {
    for typed in ["row 2 place 6", "r2 6", "r2p6", "rwo 2 palce 6", "Row 2, no. 6"] {
        check(typed, "Q-16");
        assert_eq!(first(typed).1, [(Field::Place, "row 2, place 6".to_owned(), How::Same)]);
    }
    check("3/4", "E-01");
}

#[test]
fn the_present_tree_of_a_place_comes_first_and_its_grafts_are_listed() {
    assert_eq!(ask("row 2 place 4"), ["Q-14b", "Q-14"]);
    assert_eq!(ask("row 2 place 2"), ["g1", "g2", "Q-12"].map(str::to_owned), "by id at one place");
}

#[test]
fn a_whole_row_comes_in_order() {
    assert_eq!(ask("row 3"), ["E-01", "E-02", "E-03", "E-04", "E-05"]);
}

#[test]
fn a_place_that_is_not_there_is_said() {
    let plot = orchard();
    let (finder, rows) = (Finder::new(&plot), Rows::of(&plot));
    let ask = |typed| finder.find(&plot, &rows, typed, 5);
    let expect = OnTheSpot::NoSuchPlace { row: 3, place: 9, first: 4, last: 8 };
    assert_eq!(ask("row 3 place 9"), Found { place: Some(expect), ..Found::default() });
    let expect = OnTheSpot::NoSuchRow { row: 12, first: 1, last: 3 };
    assert_eq!(ask("row 12"), Found { place: Some(expect), ..Found::default() });
    assert_eq!(ask("9 9").place, None, "two bare numbers may mean something else");
}

#[test]
fn two_numbers_are_a_tag_before_they_are_a_place() {
    let plot = sample::plot([
        sample::seedling((7, 12), "A", ("Marl", "TR-9"), "1"),
        sample::seedling((1, 1), "7-12", ("Marl", "TR-9"), "2"),
        sample::seedling((1, 2), "71-2", ("Marl", "TR-9"), "3"),
    ]);
    let found = Finder::new(&plot).find(&plot, &Rows::of(&plot), "7-12", 5);
    let tags: Vec<_> = found.hits.iter().filter_map(|hit| plot.tree(hit.tree).tag()).collect();
    assert_eq!(tags, ["7-12", "71-2", "A"]);
}

#[test]
fn a_short_code_is_its_tree_and_one_with_a_slip_is_none() {
    let plot = sample::plot([
        sample::seedling((1, 1), "Q-1", ("Marl", "TR-9"), "1"),
        sample::tree("T00143-2", 1, 2),
        sample::tree(plot::TreeId::of_serial(144).as_str(), 1, 3),
        sample::tree("W-54", 1, 4),
        sample::tree("W-5", 1, 5),
    ]);
    let finder = Finder::new(&plot);
    let ask = |typed: &str| finder.find(&plot, &Rows::of(&plot), typed, 5);
    let code = |id: &str| plot::Code::of(&plot::TreeId::new(id)).expect("a code").to_string();
    for (typed, id) in [("T00143-2", "T00143-2"), ("t 001432", "T00143-2"), (&code("W-54"), "W-54")]
    {
        let found = ask(typed);
        let ids: Vec<&str> =
            found.hits.iter().map(|hit| plot.tree(hit.tree).id().as_str()).collect();
        assert_eq!((ids.first(), found.is_slip), (Some(&id), false), "{typed}");
    }
    let wrong = format!("W-54-{}", if code("W-54").ends_with('K') { 'L' } else { 'K' });
    for typed in ["T00143-7", "T001437", "T00144-2", &wrong] {
        let found = ask(typed);
        assert!(found.is_slip && found.hits.is_empty(), "{typed}: {found:?}");
    }
    // A name that is just so is no code with a slip, and half a name is none either.
    for typed in ["W-54", "Q-1", "w5", "T00143"] {
        let found = ask(typed);
        assert!(!found.is_slip && !found.hits.is_empty(), "{typed}: {found:?}");
    }
}

#[test]
fn leading_zeros_count_in_a_code() {
    let code = plot::Code::of(&plot::TreeId::new("T0038")).expect("a code").to_string();
    let other = code.replace('-', "").replacen("T00", "T0", 1);
    let plot = sample::plot([sample::tree(&other, 1, 1), sample::tree("T0038", 1, 2)]);
    let finder = Finder::new(&plot);
    for (typed, id) in [(&code, "T0038"), (&other, other.as_str())] {
        let found = finder.find(&plot, &Rows::of(&plot), typed, 5);
        assert_eq!(plot.tree(found.hits[0].tree).id().as_str(), id, "{typed}");
    }
    // A code with a slip is not the name of another tree either.
    let slip = format!("T0038-{}", if code.ends_with('7') { '8' } else { '7' });
    let plot = sample::plot([
        sample::tree(&slip.replacen("T00", "T0", 1).replace('-', ""), 1, 1),
        sample::tree("T0038", 1, 2),
    ]);
    let found = Finder::new(&plot).find(&plot, &Rows::of(&plot), &slip, 5);
    assert!(found.is_slip, "{slip}: {found:?}");
}

#[test]
fn ids_that_read_alike_have_no_code() {
    let plot = sample::plot([sample::tree("A-11", 1, 1), sample::tree("A1-1", 1, 2)]);
    let code = plot::Code::of(&plot::TreeId::new("A-11")).expect("a code").to_string();
    let found = Finder::new(&plot).find(&plot, &Rows::of(&plot), &code, 5);
    assert!(found.hits.iter().all(|hit| hit.matched.iter().all(|it| it.field != Field::Code)));
}

#[test]
fn nothing_comes_of_nothing() {
    assert!(ask("").is_empty());
    assert!(ask(" - ").is_empty());
    assert!(ask("zzzzzz").is_empty());
}

#[test]
fn more_words_narrow_and_half_of_them_are_enough() {
    assert_eq!(ask("ecarlate 2 unknownword"), ask("ecarlate 2"));
    let plot = orchard();
    let found = Finder::new(&plot).find(&plot, &Rows::of(&plot), "marl", 2);
    assert_eq!((found.hits.len(), found.total), (2, 15));
}

proptest::proptest! {
    /// Whatever is typed, one slip in a long name still finds it, and the answer is the same twice.
    #[test]
    fn one_slip_in_a_name_still_finds_it(at in 0usize..11, with in "[a-z]") {
        let mut typed: Vec<char> = "old sixpence".chars().collect();
        typed[at] = with.chars().next().unwrap_or('x');
        let typed: String = typed.into_iter().collect();
        let found = ask(&typed);
        proptest::prop_assert_eq!(found.first().map(String::as_str), Some("g1"), "{}", typed);
        proptest::prop_assert_eq!(found, ask(&typed));
    }

    #[test]
    fn no_question_panics(typed in "\\PC{0,40}") {
        ask(&typed);
    }
}
