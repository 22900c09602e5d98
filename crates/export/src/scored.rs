//! Scores by tree: the latest of each trait, and names for them that no column has yet.

use std::collections::BTreeSet;

use plot::{Plot, Score, TreeIx};

/// Of a tree and each trait, in the order of the traits, the latest score.
pub fn latest(plot: &Plot, tree: TreeIx) -> Vec<Option<&Score>> {
    let mut latest: Vec<Option<&Score>> = vec![None; plot.head().traits.len()];
    for (_, score) in plot.scores_of(tree).filter(|(_, score)| score.value.is_some()) {
        let held = &mut latest[score.trait_ix.get()];
        if held.is_none_or(|held| is_later(score, held)) {
            *held = Some(score);
        }
    }
    latest
}

/// Whether a score takes the place of one that came before it in the file.
pub(crate) fn is_later(score: &Score, held: &Score) -> bool {
    score.scored_on.cmp_in_time(&held.scored_on).is_ge()
}

/// Names of columns, each once.
pub(crate) struct Names(BTreeSet<String>);

impl Names {
    pub(crate) fn taken<'a>(names: impl Iterator<Item = &'a str>) -> Self {
        Self(names.map(str::to_owned).collect())
    }

    /// The name, with a number behind it where it is taken.
    pub(crate) fn free(&mut self, name: String) -> String {
        let numbered = (2..).map(|nth| format!("{name} {nth}"));
        let free = std::iter::once(name.clone()).chain(numbered).find(|one| !self.0.contains(one));
        let free = free.unwrap_or(name);
        self.0.insert(free.clone());
        free
    }
}
