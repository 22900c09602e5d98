//! Whether each graft of a list has a tree that can carry it, once the list is taken.

use std::collections::{HashMap, HashSet};

use language::say;
use plot::{Plot, Refusal, TreeDraft, TreeId};

/// A sound line that is about a graft: its line, its place among the lines, and what it says of the
/// tree; row and place only where the line itself says them.
pub(super) type Graft = (u64, usize, TreeDraft);

/// What is wrong with grafts: line and place among the lines of each.
///
/// `plot` is the plot as it is, `said` has the list's other trees. A line that falls takes those
/// grafted on it along, unless the plot has its tree already: then that stays as it is.
pub(super) fn refused(plot: &Plot, said: &Plot, grafts: &[Graft]) -> Vec<(u64, usize, Refusal)> {
    let at: HashMap<&TreeId, usize> =
        grafts.iter().enumerate().map(|(nth, (.., draft))| (&draft.id, nth)).collect();
    let stand = Plot::new(plot.head().clone()).expect("the head of a plot");
    let mut ground = Ground { plot, said, grafts, at, fallen: HashSet::new(), stand };
    let mut refused = Vec::new();
    for (.., draft) in grafts {
        while let Err((nth, refusal)) = ground.put(&draft.id) {
            let (line, at, fallen) = &grafts[nth];
            ground.fallen.insert(&fallen.id);
            refused.push((*line, *at, refusal));
            if fallen.id == draft.id {
                break;
            }
        }
    }
    refused
}

struct Ground<'a> {
    plot: &'a Plot,
    said: &'a Plot,
    grafts: &'a [Graft],
    at: HashMap<&'a TreeId, usize>,
    /// Grafts of the list that cannot be.
    fallen: HashSet<&'a TreeId>,
    /// Trees that are known to stand, with all that carries them.
    stand: Plot,
}

impl Ground<'_> {
    /// Has a tree stand, and before it whatever carries it.
    ///
    /// # Errors
    /// The graft of the list that cannot be, and why.
    fn put(&mut self, id: &TreeId) -> Result<(), (usize, Refusal)> {
        let (mut chain, mut seen) = (Vec::new(), HashSet::new());
        let mut next = Some(id.clone());
        // The graft of the list that was passed last: of a faulty chain it is the one to change.
        let mut last = None;
        while let Some(id) = next {
            if self.stand.tree_ix(id.as_str()).is_some() {
                break;
            }
            let fault = |expected| Refusal::new("grafted_on", format!("\"{id}\""), expected);
            if !seen.insert(id.clone()) {
                let expected = say!("a tree that does not itself grow on this graft");
                return Err((last.expect("a plot has no circle"), fault(expected)));
            }
            let Some((nth, draft)) = self.draft(&id) else {
                let expected =
                    say!("the tree_id of a tree of the plot or of this list, without fault");
                return match last {
                    Some(last) => Err((last, fault(expected))),
                    None => Ok(()),
                };
            };
            last = nth.or(last);
            next = draft.grafted_on.clone();
            chain.push((nth, draft));
        }
        while let Some((nth, draft)) = chain.pop() {
            let added = self.stand.add_tree(draft);
            // A tree of the plot follows what carries it.
            if let (Err(refusal), Some(nth)) = (added, nth) {
                return Err((nth, refusal));
            }
        }
        Ok(())
    }

    /// What a tree will say: as a graft of the list, another tree of it, or a tree of the plot.
    fn draft(&self, id: &TreeId) -> Option<(Option<usize>, TreeDraft)> {
        let of_list = match self.at.get(id) {
            Some(_) if self.fallen.contains(id) => None,
            Some(&nth) => Some((Some(nth), &self.grafts[nth].2)),
            None => {
                let ix = self.said.tree_ix(id.as_str());
                ix.map(|ix| (None, self.said.tree(ix).draft()))
            }
        };
        if let Some((nth, draft)) = of_list {
            return Some((nth, draft.clone()));
        }
        let mut draft = self.plot.tree(self.plot.tree_ix(id.as_str())?).draft().clone();
        if draft.grafted_on.is_some() {
            (draft.location.row, draft.location.place) = (None, None);
        }
        Some((None, draft))
    }
}
