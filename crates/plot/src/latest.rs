//! The latest score of a tree and a trait.

use crate::{Plot, Score, TreeIx};

impl Plot {
    /// Of a tree and each trait, in the order of the traits, the latest score that stands and has a
    /// value; of two at the same moment the one that was taken in later.
    pub fn latest_scores(&self, tree: TreeIx) -> Vec<Option<&Score>> {
        let mut latest: Vec<Option<&Score>> = vec![None; self.head().traits.len()];
        for (_, score) in self.scores_of(tree).filter(|(_, score)| score.value.is_some()) {
            let held = &mut latest[score.trait_ix.get()];
            if held.is_none_or(|held| score.is_later_than(held)) {
                *held = Some(score);
            }
        }
        latest
    }
}

impl Score {
    /// Whether it takes the place of one that was taken in before it.
    pub fn is_later_than(&self, held: &Self) -> bool {
        self.scored_on.cmp_in_time(&held.scored_on).is_ge()
    }
}
