//! Where all trees stand, and which are nearest to one of them.

use plot::{Origin, Plot, Spot, Status, TreeIx};
use spatial::PointIndex;

/// Where all trees that were ever planted stand, for questions about neighbours.
#[derive(Clone, Debug)]
pub struct Surroundings {
    trees: Vec<TreeIx>,
    points: Vec<(f64, f64)>,
    index: PointIndex,
    origin: Option<Origin>,
}

impl Surroundings {
    /// Of every tree but empty places. Ties between neighbours go by tree id.
    pub fn of(plot: &Plot) -> Self {
        let mut trees: Vec<TreeIx> = plot
            .trees_ix()
            .filter(|(_, tree)| tree.status() != Status::Empty)
            .map(|(ix, _)| ix)
            .collect();
        trees.sort_by(|a, b| plot.tree(*a).id().cmp(plot.tree(*b).id()));
        let points: Vec<(f64, f64)> = trees
            .iter()
            .map(|ix| plot.tree(*ix).spot())
            .map(|Spot { x_m, y_m }| (x_m, y_m))
            .collect();
        Self { trees, index: PointIndex::new(&points), points, origin: plot.head().origin }
    }

    /// The `k` trees nearest to `tree` and their distance in metres, nearest first; never itself.
    pub fn nearest(&self, plot: &Plot, tree: TreeIx, k: usize) -> Vec<(TreeIx, f64)> {
        let spot = plot.tree(tree).spot();
        self.index
            .nearest_to(spot.x_m, spot.y_m, k + 1)
            .into_iter()
            .map(|near| (self.trees[near.index], near.distance_m))
            .filter(|(other, _)| *other != tree)
            .take(k)
            .collect()
    }

    /// The `k` trees nearest to every tree at once, nearest first.
    pub(crate) fn nearest_of_all(
        &self,
        k: usize,
    ) -> impl Iterator<Item = (TreeIx, Vec<(TreeIx, f64)>)> {
        let all = spatial::Neighbours::nearest(&self.points, k);
        self.trees.iter().enumerate().map(move |(nth, tree)| {
            let near = all.of(nth).map(|near| (self.trees[near.index], near.distance_m));
            (*tree, near.collect())
        })
    }

    /// Which way `to` lies from `from`, degrees clockwise from true north, or from the row's
    /// direction where the plot has no origin; none on the spot.
    pub fn bearing_deg(&self, from: Spot, to: Spot) -> Option<f64> {
        let by_the_row = Origin { lon: 0.0, lat: 0.0, row_bearing_deg: 0.0 };
        (from != to).then(|| self.origin.unwrap_or(by_the_row).bearing_deg(from, to))
    }
}
