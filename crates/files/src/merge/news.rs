//! What another folder of a plot knows and ours does not, told by walks and trees instead of lines.

use std::collections::BTreeMap;

use plot::{Plot, Round, TraitIx, TreeIx};

/// What only the other plot has.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct News {
    /// Scores that stand there, by round, trait and who took them, in order of time.
    pub walks: Vec<NewScores>,
    /// Lines of scores that do not stand there: withdrawn, or corrected by a later one.
    pub not_standing: usize,
    /// Trees, in their order.
    pub trees: Vec<TreeIx>,
}

/// New scores of one trait in one round by one person.
#[derive(Clone, Debug, PartialEq)]
pub struct NewScores {
    /// When.
    pub round: Round,
    /// Of what.
    pub of: TraitIx,
    /// Who took them; empty: not said.
    pub scorer: String,
    /// How many.
    pub count: usize,
}

/// What `theirs` has that `ours` has not; trees and traits are those of `theirs`.
pub fn news(ours: &Plot, theirs: &Plot) -> News {
    let is_new = |id: &str| ours.score_ix(id).is_none();
    let (rounds, scores) = theirs.by_round(|score| is_new(score.id.as_str()));
    let mut walks: BTreeMap<(usize, TraitIx, &str), usize> = BTreeMap::new();
    for (ix, round) in &scores {
        let score = theirs.score(*ix);
        let scorer = score.scorer.as_deref().unwrap_or_default();
        *walks.entry((*round, score.trait_ix, scorer)).or_default() += 1;
    }
    let walk = |((round, of, scorer), count): ((usize, TraitIx, &str), usize)| NewScores {
        round: rounds[round].clone(),
        of,
        scorer: scorer.to_owned(),
        count,
    };
    let all = theirs.scores().iter().filter(|score| is_new(score.id.as_str())).count();
    let is_new_tree = |(ix, tree): (TreeIx, &plot::Tree)| {
        ours.tree_ix(tree.id().as_str()).is_none().then_some(ix)
    };
    News {
        not_standing: all - scores.len(),
        walks: walks.into_iter().map(walk).collect(),
        trees: theirs.trees_ix().filter_map(is_new_tree).collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{FileSet, open};

    fn plot(trees: &str, scores: &str) -> Plot {
        let head = r#"{"format": "leeward-plot", "version": 1, "name": "Withy Corner",
            "layout": {"row_spacing_m": 3.0, "place_spacing_m": 0.75},
            "traits": [{"id": "girth", "label": "Girth", "kind": "number"},
                       {"id": "bloom", "label": "Bloom", "kind": "number"}]}"#;
        let trees = format!("tree_id,row,place\n{trees}");
        let scores = format!("score_id,tree_id,trait,value,scored_on,scorer,replaces\n{scores}");
        let files = [("plot.json", head), ("trees.csv", &trees), ("scores.csv", &scores)];
        let files: FileSet =
            files.map(|(name, text)| (name.to_owned(), text.as_bytes().to_vec())).into();
        let (book, problems) = open(files);
        assert_eq!(problems, []);
        book.expect("a book").plot().clone()
    }

    #[test]
    fn new_scores_are_told_by_round_trait_and_scorer_and_new_trees_by_name() {
        let scores = "s1,A,girth,3,2031-06-14,ann,\n";
        let ours = plot("A,1,1\n", scores);
        let more = "s2,A,bloom,3,2031-06-20,bob,\ns3,A,girth,3,2031-06-15,ann,\n\
            s4,B,girth,4,2031-06-15,ann,\ns5,B,girth,4,2031-06-15,,\n\
            s6,B,bloom,4,2031-06-20,bob,\ns7,B,bloom,5,2031-06-20,bob,s6\n";
        let theirs = plot("A,1,1\nB,1,2\n", &format!("{scores}{more}"));
        let News { walks, not_standing, trees } = news(&ours, &theirs);
        let said: Vec<String> = walks
            .iter()
            .map(|one| {
                let of = &theirs.trait_of(one.of).label;
                format!("{} {of} {}: {}", one.round.name(), one.scorer, one.count)
            })
            .collect();
        let expected =
            ["2031-06-15 Girth : 1", "2031-06-15 Girth ann: 2", "2031-06-20 Bloom bob: 2"];
        assert_eq!(said, expected);
        assert_eq!(not_standing, 1, "s6 is corrected");
        assert_eq!(trees, [theirs.tree_ix("B").expect("a tree")]);
        assert_eq!(news(&theirs, &ours), News::default());
        assert_eq!(news(&ours, &ours), News::default());
    }
}
