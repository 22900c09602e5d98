//! The ground: where each tree's mark lies, whatever layer is shown. Made once for each state of
//! the trees.

use plot::{Origin, Plot, Spot, TreeIx};
use spatial::PointIndex;
use walk::Ends;

use crate::rows::{self, RowEnds};
use crate::{Bounds, sharing};

/// Where the marks of a plot lie. Marks go by tree index, one for each line of `trees.csv`.
#[derive(Clone, Debug)]
pub struct Ground {
    spots: Vec<Spot>,
    grafts: Vec<bool>,
    sharing: Vec<Vec<TreeIx>>,
    shared: Vec<u32>,
    rows: Vec<RowEnds>,
    ends: Ends,
    bounds: Bounds,
    spacing_m: f64,
    cell_m: f64,
    origin: Option<Origin>,
    index: PointIndex,
}

/// Of a tree that shares its place with no other.
const ALONE: u32 = u32::MAX;

impl Ground {
    /// Lays out the marks of a plot.
    pub fn of(plot: &Plot) -> Self {
        let layout = plot.head().layout;
        let surveyed = plot.trees().iter().any(|tree| {
            let given = tree.draft().location;
            given.spot.is_some() || given.globe.is_some()
        });
        let sharing = sharing::groups(plot);
        let planned_m = layout.place_spacing_m.min(layout.row_spacing_m);
        let spacing_m = if surveyed { measured_m(plot).unwrap_or(planned_m) } else { planned_m };
        let mut spots: Vec<Spot> = plot.trees().iter().map(plot::Tree::spot).collect();
        let mut shared = vec![ALONE; spots.len()];
        for (nth, group) in (0..).zip(&sharing) {
            for &tree in group {
                shared[tree.get()] = nth;
            }
            for (tree, spot) in sharing::apart(plot, group, spacing_m) {
                spots[tree.get()] = spot;
            }
        }
        let points: Vec<(f64, f64)> = spots.iter().map(|spot| (spot.x_m, spot.y_m)).collect();
        Self {
            grafts: plot.trees().iter().map(|tree| tree.carrier().is_some()).collect(),
            sharing,
            shared,
            rows: rows::ends(plot),
            ends: Ends::default(),
            bounds: Bounds::around(spots.iter().copied()).grown(spacing_m),
            spacing_m,
            cell_m: (spacing_m * layout.place_spacing_m.max(layout.row_spacing_m)).sqrt(),
            origin: plot.head().origin,
            index: PointIndex::new(&points),
            spots,
        }
    }

    /// How many marks there are, shown or not.
    pub fn len(&self) -> usize {
        self.spots.len()
    }

    /// Whether the plot has no tree.
    pub fn is_empty(&self) -> bool {
        self.spots.is_empty()
    }

    /// Where a tree's mark lies: where the tree stands, or beside it where several share the
    /// place.
    pub fn spot(&self, tree: TreeIx) -> Spot {
        self.spots[tree.get()]
    }

    /// All marks by tree index.
    pub fn spots(&self) -> &[Spot] {
        &self.spots
    }

    /// Whether a tree is a graft on another; its mark is smaller.
    pub fn is_graft(&self, tree: TreeIx) -> bool {
        self.grafts[tree.get()]
    }

    /// The trees at one place, this one among them, where there are several: a carrier and its
    /// grafts, two trees in one hole, a tree and the one that stood there before.
    pub fn sharing(&self, tree: TreeIx) -> &[TreeIx] {
        self.sharing.get(self.shared[tree.get()] as usize).map_or(&[], Vec::as_slice)
    }

    /// All places with several trees.
    pub(crate) fn shared_places(&self) -> &[Vec<TreeIx>] {
        &self.sharing
    }

    /// The rows with their two ends, by row number.
    pub fn rows(&self) -> &[RowEnds] {
        &self.rows
    }

    /// The same ground with what the ends of its rows are called.
    pub fn with_ends(self, ends: Ends) -> Self {
        Self { ends, ..self }
    }

    /// What the ends of the rows are called.
    pub fn ends(&self) -> &Ends {
        &self.ends
    }

    /// Around all marks, with a margin of one tree's spacing.
    pub fn bounds(&self) -> Bounds {
        self.bounds
    }

    /// Typical distance from a tree to the nearest one, metres.
    pub fn spacing_m(&self) -> f64 {
        self.spacing_m
    }

    /// Side of a square of the ground that one tree has for itself, metres.
    pub fn cell_m(&self) -> f64 {
        self.cell_m
    }

    /// Where the plot lies on the globe.
    pub fn origin(&self) -> Option<&Origin> {
        self.origin.as_ref()
    }

    /// The marks within a distance of a spot, nearest first, with their distance in metres.
    pub fn within(&self, spot: Spot, radius_m: f64) -> impl Iterator<Item = (TreeIx, f64)> {
        let found = self.index.within_of(spot.x_m, spot.y_m, radius_m);
        found.into_iter().map(|near| (TreeIx::new(near.index), near.distance_m))
    }

    /// The marks nearest to a spot, nearest first.
    pub fn nearest(&self, spot: Spot, k: usize) -> impl Iterator<Item = TreeIx> {
        let found = self.index.nearest_to(spot.x_m, spot.y_m, k);
        found.into_iter().map(|near| TreeIx::new(near.index))
    }
}

/// The median distance to the nearest other place, over an even sample of the trees.
fn measured_m(plot: &Plot) -> Option<f64> {
    const SAMPLE: usize = 400;
    let spots: Vec<(f64, f64)> =
        plot.trees().iter().map(|tree| (tree.spot().x_m, tree.spot().y_m)).collect();
    let index = PointIndex::new(&spots);
    let step = spots.len().div_ceil(SAMPLE).max(1);
    let to_another_place = |&(x_m, y_m): &(f64, f64)| {
        let near = index.nearest_to(x_m, y_m, 16);
        near.iter().map(|near| near.distance_m).find(|distance_m| *distance_m > 0.02)
    };
    let mut distances: Vec<f64> = spots.iter().step_by(step).filter_map(to_another_place).collect();
    distances.sort_by(f64::total_cmp);
    distances.get(distances.len() / 2).copied()
}
