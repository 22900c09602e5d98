//! The neighbours of every point at once, kept in one flat table.

use crate::grid;

/// A neighbour: which point, and how far.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Near {
    /// Index of the point.
    pub index: usize,
    /// Distance in metres, `sqrt(dx² + dy²)`.
    pub distance_m: f64,
}

/// The neighbours of every point, each point's sorted by distance, ties by index: what
/// [`PointIndex`](crate::PointIndex) gives point by point.
///
/// ```
/// let around = spatial::Neighbours::within(&[(0.0, 0.0), (0.75, 0.0), (0.0, 3.0)], 1.0);
/// assert_eq!(around.of(0).map(|near| near.index).collect::<Vec<_>>(), [1]);
/// assert_eq!(around.of(2).len(), 0);
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Neighbours {
    starts: Vec<usize>,
    index: Vec<u32>,
    distance_m: Vec<f64>,
}

impl Neighbours {
    /// Every point's neighbours at most `radius_m` away, the limit included. Coordinates are
    /// finite.
    pub fn within(points: &[(f64, f64)], radius_m: f64) -> Self {
        grid::within_all(points, radius_m)
    }

    /// How many ordered pairs [`within`](Self::within) would give, counted until they are more
    /// than `most`: they take about 12 bytes each.
    pub fn count_within(points: &[(f64, f64)], radius_m: f64, most: usize) -> usize {
        grid::count_within(points, radius_m, most)
    }

    /// Every point's `k` nearest neighbours; fewer where there are fewer. Coordinates are finite.
    pub fn nearest(points: &[(f64, f64)], k: usize) -> Self {
        grid::nearest_all(points, k)
    }

    /// Calls `visit(spot, points)` for every spot with its `k` nearest points at most `radius_m`
    /// away (the limit included), whether or not a point stands there. Ties at the k-th go by
    /// index; the points come in no order. Coordinates are finite.
    pub fn nearest_of_spots(
        points: &[(f64, f64)],
        spots: &[(f64, f64)],
        k: usize,
        radius_m: f64,
        visit: impl FnMut(usize, &[Near]),
    ) {
        grid::nearest_of_spots(points, spots, k, radius_m, visit);
    }

    /// A table with room for `points` points and `links` neighbours.
    pub(crate) fn with_capacity(points: usize, links: usize) -> Self {
        let mut starts = Vec::with_capacity(points + 1);
        starts.push(0);
        Self { starts, index: Vec::with_capacity(links), distance_m: Vec::with_capacity(links) }
    }

    /// Adds a neighbour to the point that is being filled.
    pub(crate) fn push(&mut self, index: u32, distance_m: f64) {
        self.index.push(index);
        self.distance_m.push(distance_m);
    }

    /// Ends the point that is being filled.
    pub(crate) fn close(&mut self) {
        self.starts.push(self.index.len());
    }

    /// The same rows, row `order[r]` of the answer being row r of this table.
    pub(crate) fn placed(&self, order: &[u32]) -> Self {
        let mut row_of = vec![0; order.len()];
        for (row, &point) in order.iter().enumerate() {
            row_of[point as usize] = row;
        }
        let mut out = Self::with_capacity(order.len(), self.index.len());
        for row in row_of {
            let span = self.starts[row]..self.starts[row + 1];
            out.index.extend_from_slice(&self.index[span.clone()]);
            out.distance_m.extend_from_slice(&self.distance_m[span]);
            out.close();
        }
        out
    }

    /// Number of points.
    pub fn len(&self) -> usize {
        self.starts.len() - 1
    }

    /// Whether there is no point.
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// Number of ordered pairs.
    pub fn links(&self) -> usize {
        self.index.len()
    }

    /// The neighbours of point `i`, nearest first, ties by index.
    ///
    /// # Panics
    /// Where `i` is not a point.
    pub fn of(&self, i: usize) -> impl ExactSizeIterator<Item = Near> + '_ {
        let span = self.starts[i]..self.starts[i + 1];
        self.index[span.clone()]
            .iter()
            .zip(&self.distance_m[span])
            .map(|(&index, &distance_m)| Near { index: index as usize, distance_m })
    }
}
