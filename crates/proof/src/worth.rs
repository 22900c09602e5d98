//! Which trees are worth a score: those whose verdict it would change most.

use std::collections::{BTreeMap, BTreeSet};

use plot::{Plot, Status, TreeIx};

use crate::report::{Report, Verdict};

/// The standing trees where one more round would tell most.
///
/// At the heart are clean trees that are not proven (leaning or untested), by how far their luck
/// would fall if they stayed clean through one more season like the median one: that is much where
/// disease presses hard and little in a quiet corner. The first `most` of them count, and to each
/// of them the standing trees near it that have no score: they would tell of its pressure. Equal
/// falls go by tree id; a fall below a hundredth tells nothing and does not count.
pub fn worth_a_score(plot: &Plot, report: &Report, most: usize) -> BTreeSet<TreeIx> {
    let stands = |tree: TreeIx| plot.tree(tree).status() == Status::Alive;
    let mut falls: Vec<(f64, TreeIx)> = Vec::new();
    let mut unscored: BTreeMap<TreeIx, &[TreeIx]> = BTreeMap::new();
    for line in report.trees.iter().filter(|line| stands(line.tree)) {
        let judgement = &line.judgement;
        if !matches!(judgement.verdict, Verdict::Leaning | Verdict::Untested) {
            continue;
        }
        let (Some(luck), Some(settle)) = (judgement.luck, &judgement.settle) else { continue };
        let fall = luck.value - settle.luck_after_season;
        if fall >= LEAST_FALL {
            falls.push((fall, line.tree));
            unscored.insert(line.tree, &settle.unscored_nearby);
        }
    }
    falls.sort_by(|(a, one), (b, other)| {
        b.total_cmp(a).then_with(|| plot.tree(*one).id().cmp(plot.tree(*other).id()))
    });
    let mut worth = BTreeSet::new();
    for (_, tree) in falls.into_iter().take(most) {
        worth.insert(tree);
        worth.extend(unscored[&tree].iter().copied().filter(|&near| stands(near)));
    }
    worth
}

/// Luck that falls by less is the same luck.
const LEAST_FALL: f64 = 0.01;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{plot_of, score, tree};
    use crate::{Options, Run};

    /// Six rows of twelve; scab in rows 1 to 3, where each third tree is clean; row 6 stays clean
    /// far from it. Three trees have no score, one of them dead.
    fn stand() -> (Plot, Report) {
        let (mut trees, mut scores) = (Vec::new(), Vec::new());
        for row in 1..=6 {
            for place in 1..=12 {
                let id = format!("R{row}-{place:02}");
                let mut draft = tree(&id, row, place);
                if (row, place) == (2, 8) {
                    draft.status = Status::Dead;
                }
                trees.push(draft);
                if [(2, 4), (2, 8), (6, 12)].contains(&(row, place)) {
                    continue;
                }
                let value = if row <= 3 && place % 3 != 0 { 1.0 } else { 0.0 };
                scores.push(score(&id, "leaf", Some(0.0), "2031-06-01"));
                scores.push(score(&id, "leaf", Some(value), "2031-07-01"));
            }
        }
        let plot = plot_of(&trees, &scores);
        let report = Run::to_the_end(&plot, "scab", &Options::default()).expect("a report");
        (plot, report)
    }

    #[test]
    fn those_under_pressure_come_first_with_their_unscored_neighbours() {
        let (plot, report) = stand();
        let fall = |tree: TreeIx| {
            let judgement = &report.tree(tree)?.judgement;
            Some(judgement.luck?.value - judgement.settle.as_ref()?.luck_after_season)
        };
        let all = worth_a_score(&plot, &report, usize::MAX);
        assert!(!all.is_empty());
        let few = worth_a_score(&plot, &report, 5);
        let scored: Vec<TreeIx> =
            few.iter().copied().filter(|&tree| report.tree(tree).is_some()).collect();
        assert_eq!(scored.len(), 5);
        let least = scored.iter().filter_map(|&tree| fall(tree)).fold(f64::INFINITY, f64::min);
        for &tree in all.difference(&few) {
            assert!(fall(tree).is_none_or(|other| other <= least), "{:?}", plot.tree(tree).id());
        }
        for &tree in &all {
            assert_eq!(plot.tree(tree).status(), Status::Alive);
            match report.tree(tree) {
                Some(line) => {
                    assert!(matches!(line.judgement.verdict, Verdict::Leaning | Verdict::Untested));
                }
                None => assert!(report.trees.iter().any(|line| {
                    let settle = line.judgement.settle.as_ref();
                    all.contains(&line.tree)
                        && settle.is_some_and(|it| it.unscored_nearby.contains(&tree))
                })),
            }
        }
        let id = |id: &str| plot.tree_ix(id).expect("a tree");
        assert!(all.contains(&id("R2-04")) && !all.contains(&id("R2-08")));
        assert!(worth_a_score(&plot, &report, 0).is_empty());
    }

    #[test]
    fn without_a_fit_nobody_is() {
        let trees = [tree("A", 1, 1), tree("B", 1, 2)];
        let plot = plot_of(&trees, &[score("A", "leaf", Some(0.0), "2031-06-01")]);
        let report = Run::to_the_end(&plot, "scab", &Options::default()).expect("a report");
        assert!(worth_a_score(&plot, &report, 10).is_empty());
    }
}
