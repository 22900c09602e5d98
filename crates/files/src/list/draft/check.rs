//! What the lines of a list must not do to each other or to the plot.

use std::collections::HashMap;

use language::say;
use plot::{Plot, Refusal, Spot, Status, TreeDraft, TreeId, TreeIx};

use super::grafts::Graft;
use crate::list::matching::{Index, Match};

/// What was seen so far, and a plot of the list's own lines that refuses what a plot refuses.
#[derive(Debug)]
pub(super) struct Check {
    index: Index,
    pub(super) scratch: Plot,
    /// By id: the line that is about that tree.
    ids: HashMap<TreeId, u64>,
    tags: HashMap<Box<str>, u64>,
    places: HashMap<(i32, i32), u64>,
    /// Sound lines that are about grafts.
    pub(super) grafts: Vec<Graft>,
}

impl Check {
    pub(super) fn new(plot: &Plot, index: Index) -> Self {
        let scratch = Plot::new(plot.head().clone()).expect("the head of a plot");
        let (ids, tags, places) = (HashMap::new(), HashMap::new(), HashMap::new());
        Self { index, scratch, ids, tags, places, grafts: Vec::new() }
    }

    pub(super) fn find(&self, said: &TreeDraft, plot: &Plot) -> Match {
        self.index.find(said, plot)
    }

    pub(super) fn has_id(&self, id: &TreeId) -> bool {
        self.ids.contains_key(id)
    }

    /// The earlier line that is about the same tree; else this line is from now on.
    pub(super) fn first_about(&mut self, id: &TreeId, line: u64) -> Option<u64> {
        let earlier = self.ids.get(id).copied();
        if earlier.is_none() {
            self.ids.insert(id.clone(), line);
        }
        earlier
    }

    /// What a plot would refuse of a tree, whatever else stands in it.
    pub(super) fn refuses(&mut self, draft: &TreeDraft) -> Option<Refusal> {
        let mut alone = draft.clone();
        let location = &mut alone.location;
        if alone.grafted_on.take().is_some() && location.spot.is_none() && location.row.is_none() {
            location.spot = Some(Spot { x_m: 0.0, y_m: 0.0 });
        }
        self.scratch.add_tree(alone).err()
    }

    /// What asks for a look at a sound line: column, what was found, what was expected.
    pub(super) fn looks(
        &mut self,
        draft: &TreeDraft,
        own: Option<TreeIx>,
        line: u64,
        plot: &Plot,
    ) -> Vec<(&'static str, String, &'static str)> {
        let mut looks = Vec::new();
        if draft.status != Status::Alive {
            return looks;
        }
        let other = |ix: Option<TreeIx>| ix.filter(|&ix| Some(ix) != own);
        let name = |ix: TreeIx| format!("\"{}\"", plot.tree(ix).id());
        if let Some(tag) = draft.tag.as_deref() {
            let earlier = self.tags.insert(tag.into(), line).map(|line| say!("line {line}"));
            let there = other(self.index.tagged(tag, plot)).map(name);
            if let Some(who) = earlier.or(there) {
                let found = say!("\"{tag}\", which {who} has, too");
                looks.push(("tag", found, say!("a tag of its own; it is taken as it stands")));
            }
        }
        if let (Some(row), Some(place), None) =
            (draft.location.row, draft.location.place, &draft.grafted_on)
        {
            let earlier = self.places.insert((row, place), line).map(|line| say!("line {line}"));
            let there = other(self.index.in_place(row, place, plot)).map(name);
            if let Some(who) = earlier.or(there) {
                let found = say!("row {row} place {place}, where {who} stands, too");
                looks.push(("place", found, say!("a place of its own; it is taken as it stands")));
            }
        }
        looks
    }
}
