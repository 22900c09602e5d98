//! Where in a list the thing of a name is. The names stay with the things: half a million scores
//! would not be held twice.

use std::hash::BuildHasher;

use hashbrown::{DefaultHashBuilder, HashTable};

/// Positions in a list, found by the names of the things there.
#[derive(Clone, Debug, Default)]
pub(super) struct ByName {
    positions: HashTable<u32>,
    hasher: DefaultHashBuilder,
}

impl ByName {
    /// Where the thing of a name is; `name_at` tells the name of the thing at a position.
    pub(super) fn find<'a>(&self, name: &str, name_at: impl Fn(u32) -> &'a str) -> Option<usize> {
        let same = |position: &u32| name_at(*position) == name;
        self.positions.find(self.hasher.hash_one(name), same).map(|position| *position as usize)
    }

    /// Takes in the thing of a name that is not there yet.
    pub(super) fn add<'a>(&mut self, position: u32, name: &str, name_at: impl Fn(u32) -> &'a str) {
        let hash = |position: &u32| self.hasher.hash_one(name_at(*position));
        self.positions.insert_unique(self.hasher.hash_one(name), position, hash);
    }

    /// Makes room for so many more.
    pub(super) fn reserve<'a>(&mut self, more: usize, name_at: impl Fn(u32) -> &'a str) {
        let hash = |position: &u32| self.hasher.hash_one(name_at(*position));
        self.positions.reserve(more, hash);
    }
}
