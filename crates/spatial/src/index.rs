//! The neighbour index: an R-tree over points, asked for one point at a time.

use rstar::{AABB, PointDistance, RTree, RTreeObject};

use crate::Near;
use crate::tie::{Rank, distance_2, limit_2};

/// Neighbours of any point or spot among a fixed set of points.
///
/// Every answer is sorted by distance, ties by index (see the crate's tie rule). A point is never
/// its own neighbour; another point at the same spot is one, at distance 0. Building costs
/// O(n log n), a query O(log n) plus its answer.
///
/// For the neighbours of *every* point at once [`Neighbours`](crate::Neighbours) is several times
/// faster.
///
/// ```
/// let index = spatial::PointIndex::new(&[(0.0, 0.0), (0.75, 0.0), (0.0, 3.0), (0.0, 0.0)]);
/// let near: Vec<_> = index.nearest(0, 2).iter().map(|near| (near.index, near.distance_m)).collect();
/// assert_eq!(near, [(3, 0.0), (1, 0.75)]);
/// assert_eq!(index.within(2, 3.0).len(), 2);
/// ```
#[derive(Clone, Debug)]
pub struct PointIndex {
    points: Vec<(f64, f64)>,
    tree: RTree<Entry>,
}

impl PointIndex {
    /// An index over points in metres. Coordinates are finite.
    pub fn new(points: &[(f64, f64)]) -> Self {
        let entries =
            points.iter().zip(0u32..).map(|(&point, index)| Entry { point, index }).collect();
        Self { points: points.to_vec(), tree: RTree::bulk_load(entries) }
    }

    /// Number of points.
    pub fn len(&self) -> usize {
        self.points.len()
    }

    /// Whether there is no point.
    pub fn is_empty(&self) -> bool {
        self.points.is_empty()
    }

    /// The `k` nearest neighbours of point `i`, never itself; fewer where there are fewer.
    ///
    /// # Panics
    /// Where `i` is not a point.
    pub fn nearest(&self, i: usize, k: usize) -> Vec<Near> {
        self.nearest_but(self.points[i], k, Some(i))
    }

    /// The `k` points nearest to a spot, whether or not a point stands there.
    pub fn nearest_to(&self, x_m: f64, y_m: f64, k: usize) -> Vec<Near> {
        self.nearest_but((x_m, y_m), k, None)
    }

    /// The neighbours of point `i` at most `radius_m` away (the limit included), never itself.
    ///
    /// # Panics
    /// Where `i` is not a point.
    pub fn within(&self, i: usize, radius_m: f64) -> Vec<Near> {
        self.within_but(self.points[i], radius_m, Some(i))
    }

    /// The points at most `radius_m` away from a spot (the limit included).
    pub fn within_of(&self, x_m: f64, y_m: f64, radius_m: f64) -> Vec<Near> {
        self.within_but((x_m, y_m), radius_m, None)
    }

    fn nearest_but(&self, spot: (f64, f64), k: usize, but: Option<usize>) -> Vec<Near> {
        let k = k.min(self.len());
        let mut found: Vec<(Rank, u32, f64)> = Vec::with_capacity(k + 4);
        if k == 0 {
            return Vec::new();
        }
        for (entry, d2) in self.tree.nearest_neighbor_iter_with_distance_2(&[spot.0, spot.1]) {
            if but == Some(entry.index as usize) {
                continue;
            }
            // Everything tied with the k-th is taken before the tie is broken.
            let rank = Rank::of(d2);
            if found.len() >= k && rank > found[k - 1].0 {
                break;
            }
            found.push((rank, entry.index, d2));
        }
        sorted(found, k)
    }

    fn within_but(&self, spot: (f64, f64), radius_m: f64, but: Option<usize>) -> Vec<Near> {
        if radius_m.is_nan() || radius_m < 0.0 {
            return Vec::new();
        }
        let found = self
            .tree
            .locate_within_distance([spot.0, spot.1], limit_2(radius_m))
            .filter(|entry| but != Some(entry.index as usize))
            .map(|entry| {
                let d2 = distance_2(spot, entry.point);
                (Rank::of(d2), entry.index, d2)
            })
            .collect();
        sorted(found, usize::MAX)
    }
}

fn sorted(mut found: Vec<(Rank, u32, f64)>, k: usize) -> Vec<Near> {
    found.sort_unstable_by_key(|&(rank, index, _)| (rank, index));
    found.truncate(k);
    found
        .into_iter()
        .map(|(_, index, d2)| Near { index: index as usize, distance_m: d2.sqrt() })
        .collect()
}

#[derive(Clone, Copy, Debug)]
struct Entry {
    point: (f64, f64),
    index: u32,
}

impl RTreeObject for Entry {
    type Envelope = AABB<[f64; 2]>;

    fn envelope(&self) -> Self::Envelope {
        AABB::from_point([self.point.0, self.point.1])
    }
}

impl PointDistance for Entry {
    fn distance_2(&self, point: &[f64; 2]) -> f64 {
        distance_2(self.point, (point[0], point[1]))
    }
}

#[cfg(test)]
pub(crate) mod tests;
