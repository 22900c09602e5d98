//! Trees by their short codes.

use std::hash::{DefaultHasher, Hash, Hasher};

use plot::{Code, Plot, TreeId, TreeIx};

use super::{Field, Found, Hit, How, Matched};

/// The codes of all trees, kept as a hash each: they are compared in full when one is asked for.
#[derive(Clone, Debug, Default)]
pub(super) struct Codes(Vec<(u64, TreeIx)>);

impl Codes {
    pub(super) fn add(&mut self, id: &TreeId, ix: TreeIx) {
        self.0.extend(Code::of(id).map(|code| (hash(&code), ix)));
    }

    pub(super) fn sorted(mut self) -> Self {
        self.0.sort_unstable();
        self
    }

    /// The tree of a code.
    pub(super) fn found(&self, plot: &Plot, code: &Code) -> Option<Found> {
        let tree = self.tree(plot, code)?;
        let matched = vec![Matched { field: Field::Code, text: code.to_string(), how: How::Same }];
        Some(Found { hits: vec![Hit { tree, matched }], total: 1, ..Found::default() })
    }

    /// Whether it would be the code of a tree if its last character were another one.
    pub(super) fn is_slip(&self, plot: &Plot, code: &Code, typed: &str) -> bool {
        // Without the mark before its last character, `W541` may be any name.
        let of_its_body = code.of_its_body().filter(|_| sets_its_last_apart(typed));
        let mut meant = of_its_body.into_iter().chain(code.of_its_number());
        meant.any(|meant| self.tree(plot, &meant).is_some())
    }

    /// The only tree of a code: where several ids read alike, none is meant.
    fn tree(&self, plot: &Plot, code: &Code) -> Option<TreeIx> {
        let hash = hash(code);
        let from = self.0.partition_point(|(other, _)| *other < hash);
        let alike = self.0[from..].iter().take_while(|(other, _)| *other == hash);
        let mut trees = alike
            .map(|&(_, ix)| ix)
            .filter(|&ix| Code::of(plot.tree(ix).id()).as_ref() == Some(code));
        trees.next().filter(|_| trees.next().is_none())
    }
}

fn sets_its_last_apart(typed: &str) -> bool {
    let mut backwards = typed.trim().chars().rev();
    backwards.next().is_some_and(char::is_alphanumeric)
        && backwards.next().is_some_and(|before| !before.is_alphanumeric())
}

fn hash(code: &Code) -> u64 {
    let mut hasher = DefaultHasher::new();
    code.hash(&mut hasher);
    hasher.finish()
}
