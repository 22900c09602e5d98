//! Which trees are shown: those of a cross, of a role, of a verdict.

use std::collections::BTreeMap;

use language::say;
use plot::{CrossKey, Plot, Role, Status, TreeIx};
use proof::{Report, Verdict};

use crate::words;

/// What trees must have to be shown; what is left open leaves no tree out.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Only {
    /// Its parents; a cross without parents: trees of which no parent is known.
    pub cross: Option<CrossKey>,
    /// Its role.
    pub role: Option<Role>,
    /// The verdict on it.
    pub verdict: Option<Verdict>,
}

impl Only {
    /// Whether all trees are shown.
    pub fn is_all(&self) -> bool {
        *self == Self::default()
    }

    /// Whether a tree is shown. Where a verdict is asked for and no report is there yet, it leaves
    /// nobody out: not to know is no reason to hide.
    pub fn shows(&self, plot: &Plot, report: Option<&Report>, ix: TreeIx) -> bool {
        let tree = plot.tree(ix);
        let verdict_is = |wanted: Verdict| {
            report.is_none_or(|report| {
                report.tree(ix).is_some_and(|line| line.judgement.verdict == wanted)
            })
        };
        self.is_all()
            || tree.status() != Status::Empty
                && self.cross.as_ref().is_none_or(|cross| tree.cross() == cross)
                && self.role.is_none_or(|role| tree.role() == role)
                && self.verdict.is_none_or(verdict_is)
    }

    /// In words: `proven seedlings of Marl Beauty × TR-9`.
    pub fn words(&self) -> String {
        let trees = match self.role {
            None if self.is_all() => say!("all trees"),
            None => say!("trees"),
            Some(role) => words::roles(role),
        };
        let trees = match self.verdict {
            None => trees.to_owned(),
            Some(verdict) => say!("{verdict} {trees}", verdict = words::verdict(verdict)),
        };
        match &self.cross {
            None => trees,
            Some(cross) if cross.is_unknown() => say!("{trees} without parents"),
            Some(cross) => say!("{trees} of {cross}"),
        }
    }

    /// The crosses that a plot's trees are of, by name, those without parents last, each with its
    /// number of trees.
    pub fn crosses(plot: &Plot) -> Vec<(CrossKey, usize)> {
        let mut counts: BTreeMap<&CrossKey, usize> = BTreeMap::new();
        for tree in plot.trees().iter().filter(|tree| tree.status() != Status::Empty) {
            *counts.entry(tree.cross()).or_default() += 1;
        }
        let mut crosses: Vec<(CrossKey, usize)> =
            counts.into_iter().map(|(cross, count)| (cross.clone(), count)).collect();
        crosses.sort_by_key(|(cross, _)| cross.is_unknown());
        crosses
    }
}
