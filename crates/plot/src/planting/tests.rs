//! Plans and the plots that come of them: what is told, what wins, and laws of any plan.

use std::collections::HashSet;

use proptest::prelude::*;

use super::*;
use crate::{Kind, Layout, Trait, TraitId};

fn girth() -> Trait {
    Trait {
        id: TraitId::new("trunk_girth"),
        disease: None,
        label: "Girth".to_owned(),
        kind: Kind::Number { unit: Some("mm".to_owned()), min: None, max: None },
        needs: None,
    }
}

fn plan(rows: i32, places: i32, runs: Vec<Run>) -> Planting {
    let head = Head {
        name: "Reed Corner".to_owned(),
        layout: Layout { row_spacing_m: 3.0, place_spacing_m: 0.75, first_row: 1, first_place: 1 },
        origin: None,
        season_starts_month: 1,
        traits: vec![girth()],
        diseases: Default::default(),
        crosses: Vec::new(),
    };
    Planting { head, rows, places, runs, planted_on: None }
}

fn run(line: u64, what: Planted) -> Run {
    Run { line, rows: None, places: None, every: None, what }
}

fn cross(mother: &str, from_no: Option<u32>) -> Planted {
    let key = CrossKey { seed_parent: Some(mother.into()), pollen_parent: Some("TR-9".into()) };
    Planted::Cross { key, year: Some(2029), from_no }
}

fn check_sort(name: &str) -> Planted {
    Planted::Sort { role: Role::SusceptibleCheck, name: Some(GenotypeId::new(name)) }
}

/// Each row as a word: `m` Marl, `s` Sedge, `c` check, `.` empty, `?` unknown.
fn drawn(plot: &Plot) -> Vec<String> {
    let mut rows: Vec<String> = Vec::new();
    for tree in plot.trees() {
        let (row, place) = (tree.row().expect("a row"), tree.place().expect("a place"));
        if place == 1 {
            rows.push(String::new());
        }
        assert_eq!(rows.len(), row as usize);
        let letter = match (tree.status(), tree.role(), &tree.cross().seed_parent) {
            (Status::Empty, ..) => '.',
            (_, Role::SusceptibleCheck, _) => 'c',
            (_, _, Some(mother)) => mother.chars().next().map_or('!', |it| it.to_ascii_lowercase()),
            _ => '?',
        };
        rows[row as usize - 1].push(letter);
        assert_eq!(rows[row as usize - 1].len(), place as usize);
    }
    rows
}

#[test]
fn what_is_said_of_fewer_places_wins_whatever_the_order() {
    let mut runs = vec![
        Run { rows: Some(2..=2), ..run(1, Planted::Places(4)) },
        Run { rows: Some(1..=2), ..run(2, cross("Marl", None)) },
        Run { rows: Some(3..=3), places: Some(3..=6), ..run(3, cross("Sedge", None)) },
        Run { every: Some(Every { nth: 3, from: None }), ..run(4, check_sort("Withy")) },
        Run { rows: Some(1..=1), places: Some(6..=6), ..run(5, Planted::Empty) },
        Run {
            rows: Some(3..=3),
            every: Some(Every { nth: 4, from: Some(1) }),
            ..run(6, Planted::Empty)
        },
    ];
    let expect = ["mmcmm.", "mmcm", ".?cs.c"];
    let drawing = |runs: &[Run]| drawn(&plan(3, 6, runs.to_vec()).plant().expect("a plot"));
    assert_eq!(drawing(&runs), expect);
    runs.reverse();
    assert_eq!(drawing(&runs), expect);
}

#[test]
fn seedlings_are_numbered_within_cross_and_year() {
    let runs = vec![
        Run { rows: Some(2..=2), ..run(1, cross("Marl", None)) },
        Run { rows: Some(1..=1), places: Some(1..=2), ..run(2, cross("Marl", Some(40))) },
        Run { rows: Some(1..=1), places: Some(4..=4), ..run(3, cross("Marl", None)) },
        Run { rows: Some(2..=2), places: Some(2..=2), ..run(4, Planted::Empty) },
        Run { rows: Some(3..=3), ..run(5, cross("Sedge", None)) },
    ];
    let plot = plan(3, 4, runs).plant().expect("a plot");
    let numbers: Vec<&str> = plot
        .trees()
        .iter()
        .map(|tree| tree.draft().seedling_no.as_deref().unwrap_or("-"))
        .collect();
    assert_eq!(numbers, ["40", "41", "-", "42", "1", "-", "2", "3", "1", "2", "3", "4"]);
    assert_eq!(plot.trees()[5].status(), Status::Empty);
    assert_eq!(plot.trees()[0].name(), "Marl × TR-9, 2029, no. 40");
}

#[test]
fn an_inserted_tree_gets_an_id_that_no_tree_ever_had() {
    let mut plot = plan(2, 3, Vec::new()).plant().expect("a plot");
    let before: Vec<TreeId> = plot.trees().iter().map(|tree| tree.id().clone()).collect();
    let mut tree = TreeDraft::new(plot.next_tree_id());
    tree.location = at(1, 2);
    plot.add_tree(tree).expect("a free id");
    assert_eq!(plot.trees()[6].id().serial(), Some(7));
    assert_eq!(plot.next_tree_id().serial(), Some(8));
    let after = plot.trees()[..6].iter().map(|tree| tree.id().clone());
    assert_eq!(after.collect::<Vec<_>>(), before);
}

fn check(runs: Vec<Run>, expect: &[&str]) {
    let told = plan(3, 6, runs).plant().expect_err("faults");
    let told: Vec<String> = told.iter().map(ToString::to_string).collect();
    assert_eq!(told, expect);
}

#[test]
fn each_fault_is_told_with_its_line() {
    check(
        vec![
            Run { rows: Some(3..=4), ..run(1, Planted::Empty) },
            Run { rows: Some(2..=2), ..run(2, Planted::Places(4)) },
            Run { places: Some(1..=6), ..run(3, cross("Marl", None)) },
            Run { every: Some(Every { nth: 7, from: None }), ..run(4, check_sort("Withy")) },
            Run { every: Some(Every { nth: 1, from: None }), ..run(5, check_sort("Withy")) },
            Run { rows: Some(RangeInclusive::new(2, 1)), ..run(6, check_sort("Withy")) },
            Run { rows: Some(2..=2), ..run(7, Planted::Places(5)) },
            Run { places: Some(2..=2), ..run(8, Planted::Places(5)) },
        ],
        &[
            "planting list, line 1, column rows: found row 4, expected rows 1 to 3, the lower first",
            "planting list, line 3, column places: found place 6 of row 2, expected places 1 to 4, \
             the lower first",
            "planting list, line 4, column every: found an interval of 7 places, expected an \
             interval that meets at least one place",
            "planting list, line 5, column every: found 1, expected 2 or more",
            "planting list, line 6, column rows: found row 1, expected rows 1 to 3, the lower first",
            "planting list, line 7, column rows: found row 2, whose places line 2 has counted, \
             expected each row once",
            "planting list, line 8, column places: found some places of a row, expected whole \
             rows: how many places they have",
        ],
    );
    check(
        vec![
            Run { rows: Some(1..=1), ..run(1, cross("Marl", Some(5))) },
            Run { places: Some(6..=6), ..run(2, cross("Sedge", None)) },
            Run { rows: Some(2..=2), ..run(3, cross("Marl", Some(10))) },
            Run { rows: Some(3..=3), ..run(4, cross("Reed", None)) },
            Run { rows: Some(3..=3), ..run(5, Planted::Empty) },
        ],
        &[
            "planting list, line 2, column places: found row 1 place 6, which line 1 has already, \
             expected each place once",
            "planting list, line 3, column no.: found no. 10 to 15, some of which line 1 gives, \
             expected numbers that no other line of this cross and year gives",
            "planting list, line 4, column places: found a line that has no place left: others \
             take them all, expected a place of its own",
        ],
    );
}

#[test]
fn a_plan_too_large_is_refused_before_it_is_laid() {
    let told = |plan: Planting| plan.plant().expect_err("faults")[0].to_string();
    assert_eq!(
        told(plan(9999, 11, Vec::new())),
        "form, column rows: found 9999 rows of 11 places, expected at most 100000 trees"
    );
    assert_eq!(
        told(plan(9999, 1, vec![run(1, Planted::Places(100_000))])),
        "form, column places: found 999900000 places, expected at most 100000 trees"
    );
    assert_eq!(told(plan(0, 5, Vec::new())), "form, column rows: found 0, expected 1 or more");
}

fn runs() -> impl Strategy<Value = Vec<Run>> {
    let range =
        || proptest::option::of((0..7_i32, 0..3_i32).prop_map(|(from, more)| from..=from + more));
    let every = proptest::option::weighted(
        0.3,
        (1..5_i32, proptest::option::of(0..7_i32)).prop_map(|(nth, from)| Every { nth, from }),
    );
    let what = prop_oneof![
        (1..8_i32).prop_map(Planted::Places),
        (prop_oneof![Just("Marl"), Just("Sedge")], proptest::option::of(0..30_u32))
            .prop_map(|(mother, from_no)| cross(mother, from_no)),
        Just(check_sort("Withy")),
        Just(Planted::Empty),
    ];
    let one = (range(), range(), every, what);
    proptest::collection::vec(one, 0..6).prop_map(|runs| {
        let lines = (1..).zip(runs);
        lines
            .map(|(line, (rows, places, every, what))| Run { line, rows, places, every, what })
            .collect()
    })
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(2000) })]

    #[test]
    fn ids_are_unique_and_every_line_has_a_tree_or_a_fault(runs in runs()) {
        let made = plan(5, 6, runs.clone()).plant();
        match made {
            Ok(plot) => {
                let ids: HashSet<&str> = plot.trees().iter().map(|tree| tree.id().as_str()).collect();
                prop_assert_eq!(ids.len(), plot.trees().len());
                let spots: HashSet<(Option<i32>, Option<i32>)> =
                    plot.trees().iter().map(|tree| (tree.row(), tree.place())).collect();
                prop_assert_eq!(spots.len(), plot.trees().len());
                let numbered = plot.trees().iter().filter_map(|tree| {
                    let draft = tree.draft();
                    Some((&draft.cross, draft.cross_year, draft.seedling_no.as_deref()?))
                });
                let numbers: Vec<_> = numbered.collect();
                prop_assert_eq!(numbers.iter().collect::<HashSet<_>>().len(), numbers.len());
                let mut places = [6; 5];
                for run in &runs {
                    let rows = run.rows.clone().unwrap_or(1..=5);
                    if let Planted::Places(count) = run.what {
                        rows.for_each(|row| places[row as usize - 1] = count);
                    } else {
                        let stands = |tree: &&crate::Tree| {
                            let said = run.tree(tree.id().clone(), None);
                            rows.contains(&tree.row().unwrap())
                                && run.places.as_ref().is_none_or(|it| it.contains(&tree.place().unwrap()))
                                && said.status == tree.status()
                                && said.role == tree.role()
                                && said.genotype == tree.draft().genotype
                                && said.cross == *tree.cross()
                        };
                        prop_assert!(plot.trees().iter().any(|tree| stands(&tree)), "{:?}", run);
                    }
                }
                prop_assert_eq!(plot.trees().len() as i32, places.iter().sum::<i32>());
            }
            Err(faults) => {
                prop_assert!(!faults.is_empty());
                for fault in faults {
                    let line = fault.line.expect("the form is sound");
                    prop_assert!(runs.iter().any(|run| run.line == line));
                }
            }
        }
    }

    #[test]
    fn the_order_of_lines_does_not_decide_what_stands_where(mut runs in runs()) {
        // Seedlings are numbered in the order of lines; here only what stands is asked for.
        for run in &mut runs {
            if let Planted::Cross { from_no, .. } = &mut run.what {
                *from_no = None;
            }
        }
        let turned: Vec<Run> = runs.iter().rev().cloned().collect();
        let (one, other) = (plan(5, 6, runs).plant(), plan(5, 6, turned).plant());
        prop_assert_eq!(one.is_ok(), other.is_ok());
        if let (Ok(one), Ok(other)) = (one, other) {
            prop_assert_eq!(drawn(&one), drawn(&other));
        }
    }
}
