//! What the breeder decided on a tree: to keep, watch or cull it, when, and why. The program never
//! decides; it keeps every decision that was ever made.

use std::cmp::Ordering;
use std::sync::Arc;

use hashbrown::{HashMap, HashSet};
use language::say;

use crate::{DecisionId, Refusal, TreeId, When};

/// What is to become of a tree.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Fate {
    /// It stays, and may be grafted on.
    Keep,
    /// It stays until more is known.
    Watch,
    /// It is to go.
    Cull,
}

impl Fate {
    /// All three, the best first.
    pub const ALL: [Self; 3] = [Self::Keep, Self::Watch, Self::Cull];

    /// The word in files and on screens.
    pub fn as_str(self) -> &'static str {
        match self {
            Self::Keep => "keep",
            Self::Watch => "watch",
            Self::Cull => "cull",
        }
    }

    /// Reads the word as a file has it.
    pub fn parse(text: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|fate| fate.as_str() == text)
    }
}

/// One decision; a later one on the same tree stands in its place, and both are kept.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Decision {
    /// Its name, unique for ever.
    pub id: DecisionId,
    /// On which tree or graft.
    pub tree: TreeId,
    /// What was decided; none: the tree is undecided again.
    pub fate: Option<Fate>,
    /// When.
    pub decided_on: When,
    /// Why, in free words.
    pub reason: Option<Arc<str>>,
}

impl Decision {
    /// Order in time; those of the same moment go by id, so that any two phones agree.
    fn cmp_in_time(&self, other: &Self) -> Ordering {
        self.decided_on.cmp_in_time(&other.decided_on).then_with(|| self.id.cmp(&other.id))
    }
}

/// Every decision that was ever made in a plot.
#[derive(Clone, Debug, Default)]
pub struct Decisions {
    all: Vec<Decision>,
    /// By tree, each in time.
    of: HashMap<TreeId, Vec<usize>>,
    ids: HashSet<DecisionId>,
}

impl Decisions {
    /// All of them, in the order in which they were taken in.
    pub fn all(&self) -> &[Decision] {
        &self.all
    }

    /// Those on one tree, the earliest first.
    pub fn of(&self, tree: &TreeId) -> impl DoubleEndedIterator<Item = &Decision> {
        self.of.get(tree).into_iter().flatten().map(|&nth| &self.all[nth])
    }

    /// The one that stands for a tree; none: it is undecided.
    pub fn standing(&self, tree: &TreeId) -> Option<&Decision> {
        self.of(tree).next_back().filter(|last| last.fate.is_some())
    }

    /// What is to become of a tree; none: it is undecided.
    pub fn fate(&self, tree: &TreeId) -> Option<Fate> {
        self.standing(tree)?.fate
    }

    pub(crate) fn add(&mut self, decision: Decision) -> Result<(), Refusal> {
        if decision.id.as_str().is_empty() {
            return Err(Refusal::new("decision_id", say!("nothing"), say!("an id of its own")));
        }
        if !self.ids.insert(decision.id.clone()) {
            let found = say!("\"{id}\", which an earlier line has", id = decision.id);
            return Err(Refusal::new("decision_id", found, say!("an id of its own")));
        }
        let of_tree = self.of.entry(decision.tree.clone()).or_default();
        let at = of_tree
            .partition_point(|&nth| self.all[nth].cmp_in_time(&decision) != Ordering::Greater);
        of_tree.insert(at, self.all.len());
        self.all.push(decision);
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn decision(id: &str, tree: &str, fate: Option<Fate>, on: &str) -> Decision {
        let decided_on = When::parse(on).expect("a date");
        let (id, tree) = (DecisionId::new(id), TreeId::new(tree));
        Decision { id, tree, fate, decided_on, reason: None }
    }

    #[test]
    fn the_latest_in_time_stands_whatever_the_order_of_the_lines() {
        let lines = [
            decision("d3", "A", Some(Fate::Cull), "2033-09-01"),
            decision("d1", "A", Some(Fate::Watch), "2031-09-01"),
            decision("d2", "A", Some(Fate::Keep), "2032-09-01T10:00:00+02:00"),
            decision("d4", "B", Some(Fate::Keep), "2031-09-01"),
            decision("d5", "B", None, "2031-09-01"),
        ];
        for turn in 0..lines.len() {
            let mut lines = lines.clone();
            lines.rotate_left(turn);
            let mut decisions = Decisions::default();
            lines.into_iter().for_each(|line| decisions.add(line).expect("taken"));
            let (a, b) = (TreeId::new("A"), TreeId::new("B"));
            assert_eq!(decisions.fate(&a), Some(Fate::Cull));
            let ids: Vec<&str> = decisions.of(&a).map(|one| one.id.as_str()).collect();
            assert_eq!(ids, ["d1", "d2", "d3"]);
            assert_eq!(decisions.standing(&b), None, "the last one took it back");
            assert_eq!(decisions.fate(&TreeId::new("C")), None);
        }
    }

    #[test]
    fn an_id_is_given_once() {
        let mut decisions = Decisions::default();
        decisions.add(decision("d1", "A", Some(Fate::Keep), "2031-09-01")).expect("taken");
        for id in ["d1", ""] {
            decisions.add(decision(id, "B", None, "2031-09-02")).expect_err(id);
        }
        assert_eq!(decisions.all().len(), 1);
    }

    #[test]
    fn words_are_read_as_they_are_written() {
        for fate in Fate::ALL {
            assert_eq!(Fate::parse(fate.as_str()), Some(fate));
        }
        assert_eq!(Fate::parse("Keep"), None);
    }
}
