//! The rows of a plot as one walks them: which trees stand, or stood, in which place.

use std::collections::BTreeMap;

use plot::{Plot, Status, TreeIx};

/// All rows that have a number, built once for a plot.
#[derive(Clone, Debug, Default)]
pub struct Rows {
    rows: Vec<Row>,
    loose: Vec<TreeIx>,
}

/// One row.
#[derive(Clone, Debug)]
pub struct Row {
    /// Its number.
    pub number: i32,
    /// Its places that `trees.csv` names, by rising number; never empty.
    pub places: Vec<Place>,
}

/// One place of a row.
#[derive(Clone, Debug)]
pub struct Place {
    /// Its number.
    pub number: i32,
    /// Who stands there, the present tree first, its grafts after it, then those that are gone,
    /// the last to go first; never empty.
    pub trees: Vec<TreeIx>,
}

impl Rows {
    /// Sorts the trees of a plot into rows.
    pub fn of(plot: &Plot) -> Self {
        let mut by_place: BTreeMap<(i32, i32), Vec<TreeIx>> = BTreeMap::new();
        let mut loose = Vec::new();
        for (ix, tree) in plot.trees_ix() {
            match (tree.row(), tree.place()) {
                (Some(row), Some(place)) => by_place.entry((row, place)).or_default().push(ix),
                _ => loose.push(ix),
            }
        }
        let mut rows: Vec<Row> = Vec::new();
        for ((number, place), mut trees) in by_place {
            trees.sort_by(|&a, &b| present_first(plot, a, b));
            let place = Place { number: place, trees };
            match rows.last_mut() {
                Some(row) if row.number == number => row.places.push(place),
                _ => rows.push(Row { number, places: vec![place] }),
            }
        }
        Self { rows, loose }
    }

    /// The rows, by rising number.
    pub fn all(&self) -> &[Row] {
        &self.rows
    }
    /// Trees that have no row and place, only metres or degrees, as they were taken in.
    pub fn loose(&self) -> &[TreeIx] {
        &self.loose
    }
    /// The row of a number.
    pub fn row(&self, number: i32) -> Option<&Row> {
        let at = self.rows.binary_search_by_key(&number, |row| row.number).ok()?;
        Some(&self.rows[at])
    }
}

impl Row {
    /// Number of its first place.
    pub fn first(&self) -> i32 {
        self.places.first().map_or(0, |place| place.number)
    }
    /// Number of its last place.
    pub fn last(&self) -> i32 {
        self.places.last().map_or(0, |place| place.number)
    }
    /// The place of a number.
    pub fn place(&self, number: i32) -> Option<&Place> {
        let at = self.places.binary_search_by_key(&number, |place| place.number).ok()?;
        Some(&self.places[at])
    }
}

impl Place {
    /// The tree that stands or stood there last, never a graft where its carrier is listed.
    pub fn occupant(&self) -> TreeIx {
        self.trees[0]
    }
}

fn present_first(plot: &Plot, a: TreeIx, b: TreeIx) -> std::cmp::Ordering {
    let key = |ix: TreeIx| {
        let tree = plot.tree(ix);
        // A graft stands beside its carrier, also where the carrier is gone.
        let trunk = plot.tree(tree.carrier().unwrap_or(ix));
        let draft = trunk.draft();
        (
            trunk.status() != Status::Alive,
            std::cmp::Reverse((draft.planted_on, draft.removed_on)),
            trunk.id().as_str(),
            tree.carrier().is_some(),
            tree.id().as_str(),
        )
    };
    key(a).cmp(&key(b))
}
