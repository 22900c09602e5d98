//! What planting lists mean, what is told of wrong ones, and their laws.

use std::collections::BTreeSet;

use plot::{CrossKey, Every, GenotypeId, Planted, Role};
use proptest::prelude::*;

use super::*;

/// A list and how it is printed, or what is told of it.
fn check(list: &str, expect: Result<&str, &[&str]>) {
    let (runs, faults) = read(list);
    let told: Vec<String> = faults.iter().map(ToString::to_string).collect();
    match expect {
        Ok(printed) => {
            assert_eq!(told, Vec::<String>::new(), "{list}");
            assert_eq!(print(&runs), printed, "{list}");
        }
        Err(faults) => assert_eq!(told, faults, "{list}"),
    }
}

#[test]
fn lines_are_read_as_people_write_them() {
    for (written, printed) in [
        ("row 3 places 1 to 40: Marl × TR-9, 2029", "row 3 places 1 to 40: Marl × TR-9, 2029"),
        ("Row 3, places 1-40 : Marl x TR-9, 2029", "row 3 places 1 to 40: Marl × TR-9, 2029"),
        ("rows 3–5:Marl×TR-9", "rows 3 to 5: Marl × TR-9"),
        (
            "rows 3 to 5: Marl Beauty × ?, from no. 41, 2029",
            "rows 3 to 5: Marl Beauty × ?, 2029, from no. 41",
        ),
        (
            "all rows every 10th place: susceptible check Withy Red",
            "all rows every 10th place: susceptible check Withy Red",
        ),
        (
            "every other place from 5: resistant check 7-A",
            "all rows every 2nd place from 5: resistant check 7-A",
        ),
        ("row 2 place 7: Empty", "row 2 place 7: empty"),
        ("place 1: guard", "all rows place 1: guard"),
        ("row 9: 33", "row 9: 33 places"),
        ("row 9: 33 places", "row 9: 33 places"),
        ("row 4: sort Old Reed: early", "row 4: sort Old Reed: early"),
        ("row 4: 12 × 14", "row 4: 12 × 14"),
        ("row 1: Guard × TR-9", "row 1: Guard × TR-9"),
    ] {
        check(written, Ok(&format!("{printed}\n")));
    }
    check("\n# a note: none\n  \nrow 1: empty\n", Ok("row 1: empty\n"));
    assert_eq!(read("\n# a note\nrow 1: empty").0[0].line, 3);
}

#[test]
fn a_wrong_line_is_told_by_line_and_character() {
    check(
        "row 3 places 1 to 4o: Marl × TR-9, 2029\n\
         row 2 place 7 empty\n\
         row : empty\n\
         : empty\n\
         rows 5 to 3: empty\n\
         row 2 tree 7: empty\n\
         row 1 every 1st place: guard\n\
         row 1:\n\
         row 1: Marl\n\
         row 1: Marl × TR-9, 29\n\
         row 1: Marl × TR-9, 2029, 2030\n\
         row 1: Marl × TR-9 × Reed\n\
         row 1: ? × ?\n\
         row 1: × TR-9\n\
         row 1: susceptible check\n\
         row 1: sort Nine × TR-9\n\
         row 1: 33 trees\n\
         row 1: Marl × TR-9, from 7\n\
         row 0: empty\n\
         row 1: check Withy",
        Err(&[
            "planting list, line 1, column places, character 19: found \"4o\", expected a whole number from 1 to 100000",
            "planting list, line 2, column line, character 1: found \"row 2 place 7 empty\", expected where, a colon, and what stands there, such as row 3 places 1 to 40: Marl × TR-9, 2029",
            "planting list, line 3, column rows, character 5: found nothing, expected a whole number from 1 to 100000",
            "planting list, line 4, column rows, character 1: found nothing, expected row 3, rows 3 to 5, all rows, place 7 or every 10th place",
            "planting list, line 5, column rows, character 11: found \"3\", expected 5 or more: the lower number first",
            "planting list, line 6, column where, character 7: found \"tree\", expected places 1 to 40, every 10th place, or a colon and what stands there",
            "planting list, line 7, column every, character 13: found \"1st\", expected 2nd to 100000th",
            "planting list, line 8, column what, character 7: found nothing, expected a cross such as Marl × TR-9, 2029; susceptible check, resistant check or sort with a name; guard; empty; or how many places, such as 33 places",
            "planting list, line 9, column what, character 8: found \"Marl\", expected a cross such as Marl × TR-9, 2029; susceptible check, resistant check or sort with a name; guard; empty; or how many places, such as 33 places",
            "planting list, line 10, column year, character 21: found \"29\", expected the year of the cross, such as 2029, or from no. 41",
            "planting list, line 11, column year, character 27: found \"2030\", expected from no. 41, or nothing more",
            "planting list, line 12, column parents, character 8: found \"Marl × TR-9 × Reed\", expected seed parent × pollen parent, ? for one that is unknown",
            "planting list, line 13, column parents, character 8: found \"? × ?\", expected at least one parent that is known",
            "planting list, line 14, column parents, character 8: found \"× TR-9\", expected seed parent × pollen parent, ? for one that is unknown",
            "planting list, line 15, column name, character 25: found nothing, expected its name",
            "planting list, line 16, column name, character 13: found \"Nine × TR-9\", expected a name, and no cross",
            "planting list, line 17, column what, character 11: found \"trees\", expected places, or nothing more",
            "planting list, line 18, column no., character 26: found \"7\", expected no. and a number, such as no. 41",
            "planting list, line 19, column rows, character 5: found \"0\", expected a whole number from 1 to 100000",
            "planting list, line 20, column what, character 8: found \"check Withy\", expected a cross such as Marl × TR-9, 2029; susceptible check, resistant check or sort with a name; guard; empty; or how many places, such as 33 places",
        ]),
    );
}

#[test]
fn the_lines_of_the_documentation_are_sound() {
    let page = include_str!("../../../../docs/planting-list.md");
    let list = page.split("```").nth(1).and_then(|block| block.strip_prefix("text\n"));
    let form = crate::PlantingForm {
        name: "Reed Corner".to_owned(),
        rows: "9".to_owned(),
        places: "40".to_owned(),
        row_spacing_m: "3".to_owned(),
        place_spacing_m: "0.75".to_owned(),
        list: list.expect("a list on the page").to_owned(),
        traits: crate::usual_traits(),
        ..crate::PlantingForm::default()
    };
    let book = form.plant().expect("a sound plan");
    assert_eq!(book.plot().trees().len(), 8 * 40 + 33);
}

fn name() -> impl Strategy<Value = String> {
    "[A-WYZ0-9é中][a-wyzé'./#?0-9-]{0,6}( [A-W0-9(][a-wyz:)-]{0,4}){0,2}"
}

fn runs() -> impl Strategy<Value = Vec<Run>> {
    let range =
        || proptest::option::of((1..90_i32, 0..9_i32).prop_map(|(from, more)| from..=from + more));
    let every =
        (2..130_i32, proptest::option::of(1..50_i32)).prop_map(|(nth, from)| Every { nth, from });
    let parent = || proptest::option::of(name()).prop_map(|name| name.map(Into::into));
    let key = (parent(), parent())
        .prop_map(|(seed_parent, pollen_parent)| CrossKey { seed_parent, pollen_parent })
        .prop_filter("a known parent", |key| !key.is_unknown());
    let year = proptest::option::of(1900..=2999_i32);
    let role = prop_oneof![
        Just(Role::SusceptibleCheck),
        Just(Role::ResistantCheck),
        Just(Role::Named),
        Just(Role::Guard),
    ];
    let what = prop_oneof![
        (1..=100_000_i32).prop_map(Planted::Places),
        (key, year, proptest::option::of(1..=1_000_000_u32))
            .prop_map(|(key, year, from_no)| Planted::Cross { key, year, from_no }),
        (role, name())
            .prop_map(|(role, name)| Planted::Sort { role, name: Some(GenotypeId::new(name)) }),
        Just(Planted::Sort { role: Role::Guard, name: None }),
        Just(Planted::Empty),
    ];
    let one = (range(), range(), proptest::option::of(every), what);
    proptest::collection::vec(one, 0..8).prop_map(|runs| {
        (1..)
            .zip(runs)
            .map(|(line, (rows, places, every, what))| Run { line, rows, places, every, what })
            .collect()
    })
}

/// Lines that are nearly right.
fn nearly() -> impl Strategy<Value = String> {
    let word = prop_oneof![
        Just("row"),
        Just("rows"),
        Just("place"),
        Just("places"),
        Just("every"),
        Just("3"),
        Just("40"),
        Just("to"),
        Just("-"),
        Just(":"),
        Just("×"),
        Just(" x "),
        Just(","),
        Just("2029"),
        Just("from"),
        Just("no."),
        Just("empty"),
        Just("check"),
        Just("susceptible"),
        Just("guard"),
        Just("é"),
        Just("10th"),
        Just("\n"),
        Just("#"),
        Just("999999999999"),
    ];
    proptest::collection::vec((word, prop_oneof![Just(" "), Just("")]), 0..40)
        .prop_map(|words| words.into_iter().map(|(word, gap)| format!("{word}{gap}")).collect())
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(2000) })]

    #[test]
    fn a_printed_list_reads_back_as_it_was(runs in runs()) {
        let (back, faults) = read(&print(&runs));
        prop_assert_eq!(faults, vec![]);
        prop_assert_eq!(back, runs);
    }

    #[test]
    fn every_line_is_a_run_or_a_fault(text in prop_oneof![nearly(), any::<String>()]) {
        let (runs, faults) = read(&text);
        let lines: BTreeSet<u64> = (1..)
            .zip(text.lines())
            .filter(|(_, line)| !line.trim().is_empty() && !line.trim().starts_with('#'))
            .map(|(nth, _)| nth)
            .collect();
        let read_lines = runs.iter().map(|run| run.line);
        let told: Vec<u64> = faults.iter().filter_map(|fault| fault.line).collect();
        prop_assert_eq!(runs.len() + told.len(), lines.len());
        prop_assert_eq!(read_lines.chain(told).collect::<BTreeSet<_>>(), lines);
        let (again, none) = read(&print(&runs));
        prop_assert_eq!(none, vec![]);
        for (one, other) in runs.iter().zip(&again) {
            prop_assert_eq!(&one.what, &other.what);
            prop_assert_eq!((&one.rows, &one.places, one.every), (&other.rows, &other.places, other.every));
        }
    }
}
