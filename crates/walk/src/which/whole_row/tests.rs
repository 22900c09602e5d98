use plot::{Plot, Status, TreeDraft};
use proptest::prelude::*;

use super::*;
use crate::Rows;
use crate::sample::{gone, ix, plot, tree};

fn tagged(place: i32, tag: &str) -> TreeDraft {
    let mut draft = tree(&format!("1-{place}"), 1, place);
    draft.tag = (!tag.is_empty()).then(|| tag.into());
    draft
}

/// One row; place 4 is dead, 8 is listed without a tag, 10 is taken out.
fn row() -> Plot {
    plot((1..=12).map(|place| match place {
        4 => gone(tagged(4, "Q-4"), Status::Dead),
        8 => tagged(8, ""),
        10 => gone(tagged(10, "Q-10"), Status::Removed),
        _ => tagged(place, &format!("Q-{place}")),
    }))
}

/// `Q-1, ?, Q-3` as steps.
fn steps(words: &str) -> Vec<Seen> {
    let step = |word: &str| match word.trim() {
        "?" => Seen::NoTag,
        tag => Seen::Tag(tag.into()),
    };
    words.split(',').filter(|word| !word.trim().is_empty()).map(step).collect()
}

fn check(words: &str, begun_at: End, whole: bool) -> RowChecked {
    let plot = row();
    PlantingList::of(&plot, &Rows::of(&plot))
        .check_row(&plot, 1, begun_at, &steps(words), whole)
        .expect("the row")
}

fn what(words: &str, begun_at: End) -> Vec<Differs> {
    check(words, begun_at, true).differences.into_iter().map(|one| one.what).collect()
}

const AS_WRITTEN: &str = "Q-1,Q-2,Q-3,Q-5,Q-6,Q-7,?,Q-9,Q-11,Q-12";
const FROM_THE_OTHER_END: &str = "Q-12,Q-11,Q-9,?,Q-7,Q-6,Q-5,Q-3,Q-2,Q-1";

#[test]
fn a_row_that_is_as_it_is_written_shows_no_difference() {
    for (words, end) in [(AS_WRITTEN, End::Low), (FROM_THE_OTHER_END, End::High)] {
        let checked = check(words, end, true);
        assert_eq!((checked.as_written, checked.differences), (10, Vec::new()), "{words}");
    }
}

#[test]
fn each_difference_is_told_where_it_is() {
    let plot = row();
    let tree = |place: i32| ix(&plot, &format!("1-{place}"));
    let told = what("Q-1,Q-3,?,Q-6,Q-7,N-1,Q-9,Q-9a,Q-10,X-77,Q-12", End::Low);
    let expected = [
        Differs::Missing(tree(2)),
        Differs::NoTag(tree(5)),
        Differs::NewTag(tree(8), "N-1".into()),
        Differs::NotListed {
            after: Some(tree(9)),
            before: Some(tree(10)),
            tag: Some("Q-9a".into()),
        },
        Differs::Stands(tree(10), Some("Q-10".into())),
        Differs::OtherTag(tree(11), "X-77".into()),
    ];
    assert_eq!(told, expected);
}

#[test]
fn each_difference_has_its_words_and_what_may_be_done() {
    let plot = row();
    let day = time::macros::date!(2031 - 06 - 14);
    let said = |words: &str| -> Vec<String> {
        let mut said = Vec::new();
        for differs in what(words, End::Low) {
            said.push(differs.sentence(&plot));
            for (button, act) in differs.proposals(&plot) {
                let plan = plot.plan(&act, day).expect("a plan");
                said.push(format!("  {button}: {}", plan.words));
            }
        }
        said
    };
    let expected = [
        "Place 2: Q-2 is not there.",
        "  It died: Q-2 died",
        "  Taken out: Q-2 was taken out",
        "Place 5: Q-5 shows no tag.",
        "  Note it: Noted of Q-5: no tag",
        "Place 8: the tag says N-1, the list has none.",
        "  Its tag is N-1: Tag of 1-8 is now N-1",
        "Between Q-9 and Q-10: a tree that is not on the list; its tag says Q-9a.",
        "  Enter it: Entered Q-9a in row 1, between places 9 and 10",
        "Place 10: Q-10 is written as removed, yet a tree stands there; its tag says Q-10.",
        "  It lives: State of Q-10 corrected",
        "  Another tree: Entered Q-10 in row 1, place 10",
        "Place 11: the tag says X-77, the list Q-11.",
        "  Its tag is X-77: Tag of Q-11 is now X-77",
    ];
    assert_eq!(said("Q-1,Q-3,?,Q-6,Q-7,N-1,Q-9,Q-9a,Q-10,X-77,Q-12"), expected);
    // A tree before the first one: the place before it.
    let first = said("A-1,Q-1,Q-2,Q-3,Q-5,Q-6,Q-7,?,Q-9,Q-11,Q-12");
    assert_eq!(
        first,
        [
            "Before Q-1, at the row's end: a tree that is not on the list; its tag says A-1.",
            "  Enter it: Entered A-1 in row 1, place 0",
        ]
    );
}

#[test]
fn a_dead_tree_that_still_stands_is_told() {
    let plot = row();
    let told = what("Q-1,Q-2,Q-3,?,Q-5,Q-6,Q-7,?,Q-9,Q-11,Q-12", End::Low);
    assert_eq!(told, [Differs::Stands(ix(&plot, "1-4"), None)]);
}

#[test]
fn what_was_not_walked_yet_is_not_missed() {
    let checked = check("Q-1,Q-3", End::Low, false);
    let plot = row();
    assert_eq!(checked.as_written, 2);
    let told: Vec<Differs> = checked.differences.into_iter().map(|one| one.what).collect();
    assert_eq!(told, [Differs::Missing(ix(&plot, "1-2"))]);
    assert_eq!(check("Q-12,Q-11", End::High, false).differences, []);
    assert_eq!(check("", End::Low, false).differences, []);
    assert_eq!(check("", End::Low, true).differences.len(), 10, "nothing stands");
}

#[test]
fn two_trees_of_one_place_are_met_one_after_the_other() {
    let mut between = tagged(2, "N-1");
    between.id = plot::TreeId::new("n1");
    between.location.spot = Some(plot::Spot { x_m: 1.5, y_m: 0.0 });
    let trees = (1..=4).map(|place| tagged(place, &format!("Q-{place}"))).chain([between]);
    let plot = plot(trees);
    let list = PlantingList::of(&plot, &Rows::of(&plot));
    let check = |words: &str, end| list.check_row(&plot, 1, end, &steps(words), true).expect("it");
    for (words, end) in [("Q-1,Q-2,N-1,Q-3,Q-4", End::Low), ("Q-4,Q-3,N-1,Q-2,Q-1", End::High)] {
        assert_eq!(check(words, end).as_written, 5, "{words}");
    }
    let missing = check("Q-1,Q-2,Q-3,Q-4", End::Low).differences;
    assert_eq!(missing[0].what, Differs::Missing(ix(&plot, "n1")));
}

#[test]
fn the_next_tags_are_those_ahead() {
    let plot = row();
    let list = PlantingList::of(&plot, &Rows::of(&plot));
    let next = |words: &str, end| list.next_tags(1, end, &steps(words), 3);
    assert_eq!(next("", End::Low), ["Q-1", "Q-2", "Q-3"]);
    assert_eq!(next("", End::High), ["Q-12", "Q-11", "Q-10"]);
    assert_eq!(next("Q-1, q2", End::Low), ["Q-3", "Q-4", "Q-5"]);
    assert_eq!(next("Q-5, ?", End::Low), ["Q-7", "Q-9", "Q-10"], "one without a tag was passed");
    assert_eq!(next("Q-2", End::High), ["Q-1"]);
}

#[test]
fn what_cannot_be_checked_is_said() {
    let plot = row();
    let list = PlantingList::of(&plot, &Rows::of(&plot));
    let check = |row, steps: &[Seen]| list.check_row(&plot, row, End::Low, steps, true);
    assert_eq!(check(2, &[]), Err(CannotCheck::NoSuchRow(2)));
    let many = vec![Seen::NoTag; TREES_AT_MOST + 1];
    assert_eq!(check(1, &many), Err(CannotCheck::TooMany(TREES_AT_MOST + 1)));
}

/// Every way to lay the steps along the places, with its weight, as `Paths` says it in words.
fn ways(steps: &[Step], places: &[&Stand]) -> Vec<(f64, Vec<Laid>)> {
    fn go(
        steps: &[Step],
        places: &[&Stand],
        at: (usize, usize),
        way: &(f64, Vec<Laid>),
        all: &mut Vec<(f64, Vec<Laid>)>,
    ) {
        let (step, place) = at;
        let with = |weight: f64, laid| {
            let mut pieces = way.1.clone();
            pieces.push(laid);
            (way.0 * weight, pieces)
        };
        if (step, place) == (steps.len(), places.len()) {
            all.push(way.clone());
        }
        if step < steps.len() && place < places.len() {
            let weight = places[place].stands * steps[step].at(places[place]);
            go(steps, places, (step + 1, place + 1), &with(weight, Laid::On(step, place)), all);
        }
        if place < places.len() {
            let weight = 1.0 - places[place].stands;
            go(steps, places, (step, place + 1), &with(weight, Laid::Passed(place)), all);
        }
        if step < steps.len() {
            let weight = super::super::align::INSERTED * steps[step].on_unlisted();
            go(steps, places, (step + 1, place), &with(weight, Laid::Between(step)), all);
        }
    }
    let mut all = Vec::new();
    go(steps, places, (0, 0), &(1.0, Vec::new()), &mut all);
    all
}

fn any_steps() -> impl Strategy<Value = Vec<Seen>> {
    let step = prop_oneof![
        Just(Seen::NoTag),
        (1..7_i32).prop_map(|no| Seen::Tag(format!("Q-{no}"))),
        Just(Seen::Tag("Z-9".into())),
    ];
    prop::collection::vec(step, 0..5)
}

proptest! {
    /// The best way and the probabilities are those of all ways counted one by one.
    #[test]
    fn it_agrees_with_all_ways_counted_one_by_one(seen in any_steps(), places in 1..5_usize) {
        let plot = row();
        let list = PlantingList::of(&plot, &Rows::of(&plot));
        let steps: Vec<Step> = seen.iter().map(|seen| Step::new(&list, seen)).collect();
        let places: Vec<&Stand> = list.rows[0].places[..places].iter().collect();
        let paths = Paths::new(&steps, &places, true);
        let ways = ways(&steps, &places);
        let total: f64 = ways.iter().map(|(weight, _)| weight).sum();
        let best = paths.best();
        let weight_of = |way: &[Laid]| ways.iter().find(|(_, one)| one == way).map(|one| one.0);
        let most = ways.iter().map(|(weight, _)| *weight).fold(0.0, f64::max);
        let found = weight_of(&best).expect("one of the ways");
        prop_assert!((found / most - 1.0).abs() < 1e-9, "{best:?}");
        for &laid in &best {
            let with = |way: &&(f64, Vec<Laid>)| way.1.contains(&laid);
            let share: f64 = ways.iter().filter(with).map(|way| way.0).sum::<f64>() / total;
            prop_assert!((paths.probability(laid) - share).abs() < 1e-9, "{laid:?}");
        }
    }

    /// Walked from the other end, all ways together weigh the same, and every step is told once.
    #[test]
    fn it_is_the_same_from_both_ends(seen in any_steps()) {
        let plot = row();
        let list = PlantingList::of(&plot, &Rows::of(&plot));
        let mut back = seen.clone();
        back.reverse();
        let weight = |seen: &[Seen], turned: bool| {
            let steps: Vec<Step> = seen.iter().map(|seen| Step::new(&list, seen)).collect();
            Paths::new(&steps, &in_sense(list.rows[0].places.iter().collect(), turned), true).total()
        };
        prop_assert!((weight(&seen, false) - weight(&back, true)).abs() < 1e-9);
        let up = list.check_row(&plot, 1, End::Low, &seen, true).expect("the row");
        let down = list.check_row(&plot, 1, End::High, &back, true).expect("the row");
        let sum = |checked: &RowChecked| {
            let steps = checked.differences.iter().filter(|one| one.step.is_some()).count();
            checked.as_written + steps
        };
        prop_assert_eq!(sum(&up), seen.len());
        prop_assert_eq!(sum(&down), seen.len());
    }
}
