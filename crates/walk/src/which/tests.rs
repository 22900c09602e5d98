use plot::{Plot, Status, TreeDraft};
use proptest::prelude::*;

use super::align::INSERTED;
use super::list::Stand;
use super::odds::Step;
use super::*;
use crate::Rows;
use crate::sample::{gone, graft, ix, plot, tree};

fn list(plot: &Plot) -> PlantingList {
    PlantingList::of(plot, &Rows::of(plot))
}

/// `Q-11, ?, this, Q-14` as steps.
fn steps(words: &str) -> Vec<Seen> {
    let step = |word: &str| match word.trim() {
        "?" => Seen::NoTag,
        "this" => Seen::This,
        tag => Seen::Tag(tag.into()),
    };
    words.split(',').map(step).collect()
}

fn tagged(row: i32, place: i32, tag: &str) -> TreeDraft {
    let mut draft = tree(&format!("{row}-{place}"), row, place);
    draft.tag = (!tag.is_empty()).then(|| tag.into());
    draft
}

/// Two rows of twenty, numbered through.
fn field() -> Plot {
    let tree = |no: i32| tagged(1 + no / 20, 1 + no % 20, &format!("Q-{}", no + 1));
    plot((0..40).map(tree))
}

fn check(plot: &Plot, read: &str, row: Option<i32>, expect: &str, at_least: f64) -> WhichTree {
    let answer = list(plot).which(&steps(read), row).expect("an answer");
    assert_eq!(answer.guesses[0].who, Who::Listed(ix(plot, expect)), "{read}: {answer:?}");
    assert!(answer.guesses[0].probability >= at_least, "{read}: {answer:?}");
    answer
}

#[test]
fn a_few_tags_tell_the_tree_from_either_side() {
    let field = field();
    let up = check(&field, "Q-11, ?, this, Q-14", None, "1-13", 0.95);
    assert!(up.rising > 0.99 && up.towards() == Some(End::High));
    let down = check(&field, "q14, this, ?, Q 011", None, "1-13", 0.95);
    assert!(down.rising < 0.01 && down.towards() == Some(End::Low));
    check(&field, "Q-11, this, Q-13", None, "1-12", 0.98);
    // A slip of the eye, and a tree that hangs another's tag.
    check(&field, "Q-30, Q-37, Q-32, this, Q-34", None, "2-13", 0.95);
    check(&field, "QQ-30, Q-31, this", Some(2), "2-12", 0.85);
}

#[test]
fn one_tag_and_no_direction_leave_two_trees() {
    let field = field();
    let answer = list(&field).which(&steps("Q-10, this"), None).expect("an answer");
    let who: Vec<Who> = answer.guesses[..2].iter().map(|guess| guess.who).collect();
    for either in ["1-9", "1-11"] {
        assert!(who.contains(&Who::Listed(ix(&field, either))), "{answer:?}");
    }
    assert!((answer.guesses[0].probability - answer.guesses[1].probability).abs() < 0.01);
    assert_eq!(Sure::of(answer.guesses[0].probability), Sure::CannotTell);
    assert_eq!((answer.read_on, answer.towards()), (Side::After, None));
}

#[test]
fn one_tree_too_many_was_put_in_and_one_too_few_is_gone() {
    let field = field();
    let answer = list(&field).which(&steps("Q-11, Q-12, this, Q-13, Q-14"), None).expect("it");
    let between =
        Who::NotListed { after: Some(ix(&field, "1-12")), before: Some(ix(&field, "1-13")) };
    assert_eq!(answer.guesses[0].who, between);
    assert!(answer.guesses[0].probability > 0.95, "{answer:?}");
    // Q-12 is gone without a note.
    check(&field, "Q-10, Q-11, Q-13, this, Q-15", None, "1-14", 0.95);
}

#[test]
fn what_is_written_as_gone_is_passed_over_and_a_bare_line_is_preferred() {
    let mut trees: Vec<TreeDraft> = (1..=9).map(|no| tagged(1, no, &format!("M{no}"))).collect();
    trees[3] = gone(tagged(1, 4, "M4"), Status::Removed);
    trees[4] = gone(tagged(1, 5, "M5"), Status::Empty);
    trees[7].tag = None;
    let plot = plot(trees);
    check(&plot, "M2, M3, this, M7", None, "1-6", 0.95);
    // Two trees, one known to be bare: the other one lost its tag or is gone.
    check(&plot, "M6, ?, this, M9", None, "1-8", 0.95);
}

#[test]
fn a_graft_is_read_on_its_carrier() {
    let mut trees: Vec<TreeDraft> = (1..=9).map(|no| tagged(1, no, &format!("M{no}"))).collect();
    let mut limb = graft("limb", "1-3", "Pond Row");
    limb.tag = Some("PR-7".into());
    trees.push(limb);
    check(&plot(trees), "PR-7, this, M5", None, "1-4", 0.95);
}

#[test]
fn a_named_row_is_believed_but_not_blindly() {
    // The same tags in both rows.
    let both = plot((0..40).map(|no| tagged(1 + no / 20, 1 + no % 20, &format!("K{}", no % 20))));
    check(&both, "K4, this, K6, K7", Some(2), "2-6", 0.9);
    check(&field(), "Q-11, this, Q-13, Q-14", Some(2), "1-12", 0.95);
}

#[test]
fn what_cannot_be_asked_is_said() {
    let all = list(&field());
    let refused = |read: &str, row| all.which(&steps(read), row).expect_err(read);
    assert_eq!(refused("Q-1, ?", None), CannotTell::NoThis);
    assert_eq!(refused("Q-1, this, this", None), CannotTell::ThisTwice);
    assert_eq!(refused("?, this", None), CannotTell::NothingRead);
    assert_eq!(refused("Q-1, this", Some(3)), CannotTell::NoSuchRow { row: 3 });
    let long = vec!["?"; STEPS_AT_MOST].join(",");
    assert_eq!(refused(&format!("Q-1,this,{long}"), None), CannotTell::TooMany { found: 42 });
    let nobody = list(&plot([]));
    assert_eq!(nobody.which(&steps("Q-1, this"), None), Err(CannotTell::NoRows));
}

#[test]
fn forty_steps_stay_within_the_range_of_numbers() {
    let field = plot((0..2_000).map(|no| tagged(1, no, &format!("Q-{no}"))));
    for tags in [|no| format!("Q-{}", 900 + no), |_| "zzzzz".to_owned()] {
        let mut steps: Vec<Seen> = (0..STEPS_AT_MOST).map(|no| Seen::Tag(tags(no))).collect();
        steps[20] = Seen::This;
        let answer = list(&field).which(&steps, None).expect("an answer");
        assert!(answer.guesses.iter().all(|it| (0.0..=1.0 + 1e-9).contains(&it.probability)));
    }
}

#[test]
fn tags_are_suggested_by_what_stands_near() {
    let all = list(&field());
    let suggest = |typed, last, row| all.suggest(typed, last, row, 4);
    assert_eq!(suggest("", Some("q11"), None), ["Q-10", "Q-12", "Q-9", "Q-13"]);
    assert_eq!(suggest("", None, Some(2)), ["Q-21", "Q-22", "Q-23", "Q-24"]);
    assert_eq!(suggest("q1", Some("Q-13"), None), ["Q-1", "Q-12", "Q-14", "Q-11"]);
    assert_eq!(suggest("q3", None, Some(2)), ["Q-3", "Q-30", "Q-31", "Q-32"]);
    assert!(suggest("xyz", None, None).is_empty() && suggest("", None, None).is_empty());
    assert!(all.has("q 07") && !all.has("q41"));
}

#[test]
fn probabilities_are_said_in_whole_per_cent() {
    let said: Vec<String> = [1.0, 0.9901, 0.99, 0.874, 0.01, 0.004].map(percent).into();
    assert_eq!(said, ["over 99 %", "over 99 %", "99 %", "87 %", "1 %", "under 1 %"]);
}

/// Everything a step can be laid on, in walking order: gap, place, gap, … gap.
fn by_hand(row: &[Stand], steps: &[Step], this: usize) -> Vec<f64> {
    let slots = 2 * row.len() + 1;
    let mut weights = vec![0.0; slots];
    let mut ways: Vec<Vec<usize>> = vec![vec![]];
    for _ in steps {
        let longer = |way: &Vec<usize>| -> Vec<Vec<usize>> {
            let from = way.last().map_or(0, |&last| last + last % 2);
            (from..slots).map(|slot| [way.as_slice(), &[slot]].concat()).collect()
        };
        ways = ways.iter().flat_map(longer).collect();
    }
    for way in ways {
        let (first, last) = (way[0], way[way.len() - 1]);
        let mut weight = 1.0;
        for slot in first..=last {
            let laid: Vec<usize> = (0..way.len()).filter(|&step| way[step] == slot).collect();
            let is_end = slot == first || slot == last;
            weight *= match (slot % 2 == 1, laid.is_empty()) {
                (true, true) => 1.0 - row[slot / 2].stands,
                (true, false) => row[slot / 2].stands * steps[laid[0]].at(&row[slot / 2]),
                (false, _) => {
                    let each = |&step: &usize| INSERTED * steps[step].on_unlisted();
                    let crossed = if is_end { 1.0 } else { 1.0 - INSERTED };
                    laid.iter().map(each).product::<f64>() * crossed
                }
            };
        }
        if first == last && first.is_multiple_of(2) {
            weight /= 1.0 - INSERTED;
        }
        weights[way[this]] += weight;
    }
    weights
}

fn any_row() -> impl Strategy<Value = Vec<TreeDraft>> {
    let place = ("(q[1-4]|)", prop_oneof![3 => Just(0), 1 => 1..4_usize]);
    proptest::collection::vec(place, 1..5).prop_map(|places| {
        let tree = |(at, (tag, status)): (usize, (String, usize))| {
            gone(tagged(1, i32::try_from(at).expect("few") + 1, &tag), Status::ALL[status])
        };
        places.into_iter().enumerate().map(tree).collect()
    })
}

/// Up to `most` steps around the tree in question.
fn any_steps(most: usize) -> impl Strategy<Value = Vec<Seen>> {
    let step = prop_oneof![
        3 => "(q[1-9]|zz|q10)".prop_map(Seen::Tag),
        1 => Just(Seen::NoTag),
    ];
    (proptest::collection::vec(step, 1..most), any::<proptest::sample::Index>()).prop_map(
        |(mut steps, at)| {
            steps.insert(at.index(steps.len() + 1), Seen::This);
            steps
        },
    )
}

fn same(a: &[f64], b: &[f64]) -> bool {
    a.len() == b.len() && a.iter().zip(b).all(|(a, b)| (a - b).abs() < 1e-9)
}

proptest! {
    #[test]
    fn every_way_counted_by_hand_gives_the_same(trees in any_row(), seen in any_steps(4)) {
        let list = list(&plot(trees));
        let this = seen.iter().position(|it| *it == Seen::This).expect("one");
        let all = list.posterior(&seen, this, None);
        let row = &list.rows[0].places;
        let mut steps: Vec<Step> = seen.iter().map(|it| Step::new(&list, it)).collect();
        let mut by_hand_both = by_hand(row, &steps, this);
        steps.reverse();
        let back = by_hand(row, &steps, seen.len() - 1 - this);
        by_hand_both.iter_mut().zip(back).for_each(|(up, down)| *up += down);
        let total: f64 = by_hand_both.iter().sum();
        let found: Vec<f64> = (0..by_hand_both.len())
            .map(|slot| if slot % 2 == 1 { all.places[0][slot / 2] } else { all.gaps[0][slot / 2] })
            .collect();
        by_hand_both.iter_mut().for_each(|it| *it /= total);
        prop_assert!(same(&found, &by_hand_both), "{found:?} {by_hand_both:?}");
    }

    #[test]
    fn read_backwards_or_planted_backwards_the_answer_is_mirrored(
        trees in any_row(), seen in any_steps(7),
    ) {
        let this = seen.iter().position(|it| *it == Seen::This).expect("one");
        let there = list(&plot(trees.clone())).posterior(&seen, this, None);
        let back: Vec<Seen> = seen.iter().rev().cloned().collect();
        let read_back = list(&plot(trees.clone())).posterior(&back, seen.len() - 1 - this, None);
        prop_assert!(same(&there.places[0], &read_back.places[0]));
        prop_assert!(same(&there.gaps[0], &read_back.gaps[0]));
        prop_assert!((there.rising + read_back.rising - 1.0).abs() < 1e-9);
        let last = i32::try_from(trees.len()).expect("few") + 1;
        let planted_back = trees.into_iter().map(|mut tree| {
            tree.location.place = tree.location.place.map(|place| last - place);
            tree
        });
        let mut mirrored = list(&plot(planted_back)).posterior(&seen, this, None);
        mirrored.places[0].reverse();
        mirrored.gaps[0].reverse();
        prop_assert!(same(&there.places[0], &mirrored.places[0]));
        prop_assert!(same(&there.gaps[0], &mirrored.gaps[0]));
        prop_assert!((there.rising + mirrored.rising - 1.0).abs() < 1e-9);
    }

    #[test]
    fn what_was_read_without_fault_is_known(from in 0..31_usize, this in 1..9_usize, falls: bool) {
        let row = plot((0..40).map(|no| tagged(1, no, &format!("Q-{no}"))));
        let mut seen: Vec<Seen> = (from..from + 10)
            .map(|no| if no == from + this { Seen::This } else { Seen::Tag(format!("Q-{no}")) })
            .collect();
        if falls {
            seen.reverse();
        }
        let answer = list(&row).which(&seen, None).expect("an answer");
        let here = ix(&row, &format!("1-{}", from + this));
        prop_assert_eq!(answer.guesses[0].who, Who::Listed(here));
        prop_assert!(answer.guesses[0].probability > 0.99, "{answer:?}");
    }

    #[test]
    fn a_step_that_tells_nothing_makes_nothing_surer(
        at in 12..28_usize, read in 2..6_usize, this in 1..5_usize, unread in 1..5_usize,
    ) {
        // Well inside a row where all have their tags; tags that are not alike. What is left over:
        // a bare tree is a little less of a surprise where nobody wrote one down.
        let hair = 1e-5;
        let word = |no: usize| format!("{}{}", "abcdefgh".chars().nth(no % 8).expect("one"), no * 1_111);
        let row = plot((0..40).map(|no| tagged(1, i32::try_from(no).expect("few"), &word(no))));
        let this = this.min(read);
        let seen: Vec<Seen> = (0..=read)
            .map(|no| if no == this { Seen::This } else { Seen::Tag(word(at + no)) })
            .collect();
        let sure = |seen: &[Seen]| {
            list(&row).which(seen, None).expect("an answer").guesses[0].probability
        };
        let was = sure(&seen);
        let longer = [seen.clone(), vec![Seen::NoTag; unread]].concat();
        prop_assert!(sure(&longer) <= was + hair, "{} {was}", sure(&longer));
        let earlier = [vec![Seen::NoTag; unread], seen.clone()].concat();
        prop_assert!(sure(&earlier) <= was + hair, "{} {was}", sure(&earlier));
        // A tag that could not be read after all.
        let gone = (0..=read).find(|&no| no != this).expect("one");
        let mut fewer = seen;
        fewer[gone] = Seen::NoTag;
        if fewer.iter().any(|it| matches!(it, Seen::Tag(_))) {
            prop_assert!(sure(&fewer) <= was + hair, "{} {was}", sure(&fewer));
        }
    }
}
