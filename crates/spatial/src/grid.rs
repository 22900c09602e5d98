//! A uniform grid over points: the neighbours of every point in one sweep.

use crate::tie::{Rank, distance_2, limit_2};
use crate::{Near, Neighbours, PointIndex};

/// Every point's neighbours at most `radius_m` away, the limit included.
pub(crate) fn within_all(points: &[(f64, f64)], radius_m: f64) -> Neighbours {
    if points.is_empty() || radius_m.is_nan() || radius_m < 0.0 {
        return none_for(points.len());
    }
    let grid = Grid::new(points, radius_m);
    if grid.is_uneven() && radius_m < grid.cell_m {
        let index = PointIndex::new(points);
        return gather(points.len(), |i| index.within(i, radius_m));
    }
    let mut found: Vec<(Rank, u32, f64)> = Vec::new();
    let mut out = Neighbours::with_capacity(points.len(), 8 * points.len());
    for (&point, &own) in grid.points.iter().zip(&grid.index) {
        found.clear();
        grid.visit_within(point, radius_m, |index, d2| {
            if index != own {
                found.push((Rank::of(d2), index, d2));
            }
        });
        found.sort_unstable_by_key(|&(rank, index, _)| (rank, index));
        for &(_, index, d2) in &found {
            out.push(index, d2.sqrt());
        }
        out.close();
    }
    out.placed(&grid.index)
}

/// How many ordered pairs [`within_all`] would give, counted until they are more than `most`.
pub(crate) fn count_within(points: &[(f64, f64)], radius_m: f64, most: usize) -> usize {
    if points.is_empty() || radius_m.is_nan() || radius_m < 0.0 {
        return 0;
    }
    let grid = Grid::new(points, radius_m);
    let mut pairs = 0;
    for &point in &grid.points {
        grid.visit_within(point, radius_m, |_, _| pairs += 1);
        // Each point met itself.
        pairs -= 1;
        if pairs > most {
            break;
        }
    }
    pairs
}

/// Every point's `k` nearest neighbours; fewer where there are fewer.
pub(crate) fn nearest_all(points: &[(f64, f64)], k: usize) -> Neighbours {
    if points.is_empty() || k == 0 {
        return none_for(points.len());
    }
    let k = k.min(points.len());
    let grid = Grid::new(points, cell_for(points, k));
    if grid.is_uneven() {
        let index = PointIndex::new(points);
        return gather(points.len(), |i| index.nearest(i, k));
    }
    let mut best = Best::new(k);
    let mut out = Neighbours::with_capacity(points.len(), k * points.len());
    for (&point, &own) in grid.points.iter().zip(&grid.index) {
        best.clear();
        grid.search_outward(point, own, &mut best);
        for &(_, index, d2) in &best.kept {
            out.push(index, d2.sqrt());
        }
        out.close();
    }
    out.placed(&grid.index)
}

/// Calls `visit(spot, points)` for every spot with its `k` nearest points at most `radius_m` away,
/// whether or not a point stands there; ties at the limit go by index. The points come in no order.
pub(crate) fn nearest_of_spots(
    points: &[(f64, f64)],
    spots: &[(f64, f64)],
    k: usize,
    radius_m: f64,
    mut visit: impl FnMut(usize, &[Near]),
) {
    if points.is_empty() || k == 0 || radius_m.is_nan() || radius_m < 0.0 {
        (0..spots.len()).for_each(|spot| visit(spot, &[]));
        return;
    }
    let grid = Grid::new(points, cell_for(points, k));
    if grid.is_uneven() {
        let index = PointIndex::new(points);
        for (nth, spot) in spots.iter().enumerate() {
            let mut near = index.nearest_to(spot.0, spot.1, k);
            near.retain(|near| near.distance_m * near.distance_m <= limit_2(radius_m));
            visit(nth, &near);
        }
        return;
    }
    let (mut found, mut near) = (Vec::new(), Vec::new());
    // Wide enough for the last spot is about wide enough for the next one.
    let all = points.len() <= k;
    let mut reach_m = if all { radius_m } else { grid.cell_m.max(radius_m / 1000.0).min(radius_m) };
    for (nth, &spot) in spots.iter().enumerate() {
        loop {
            found.clear();
            grid.visit_within(spot, reach_m, |index, d2| found.push((Rank::of(d2), index, d2)));
            if found.len() >= k || reach_m >= radius_m {
                break;
            }
            reach_m = (reach_m * 1.3).min(radius_m);
        }
        if found.len() > 2 * k {
            reach_m *= 0.9;
        }
        if found.len() > k {
            found.select_nth_unstable_by_key(k - 1, |&(rank, index, _)| (rank, index));
            found.truncate(k);
        }
        near.clear();
        let point = |&(_, index, d2): &(Rank, u32, f64)| Near {
            index: index as usize,
            distance_m: d2.sqrt(),
        };
        near.extend(found.iter().map(point));
        visit(nth, &near);
    }
}

/// Points sorted into square cells, for questions about all of them at once.
///
/// Gives exactly what [`PointIndex`] gives point by point. Where points lie so unevenly that the
/// cells do not spread them, it falls back on the index.
struct Grid {
    /// Points in cell order.
    points: Vec<(f64, f64)>,
    /// Index of each of them.
    index: Vec<u32>,
    /// Where each cell begins.
    starts: Vec<u32>,
    origin: (f64, f64),
    cell_m: f64,
    columns: usize,
    rows: usize,
}

impl Grid {
    /// A grid with cells of `cell_m` metres or more: cells grow until there are at most twice as
    /// many as points.
    fn new(points: &[(f64, f64)], cell_m: f64) -> Self {
        let bound = |pick: fn((f64, f64)) -> f64| {
            points.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), &point| {
                (low.min(pick(point)), high.max(pick(point)))
            })
        };
        let ((left, right), (bottom, top)) = (bound(|p| p.0), bound(|p| p.1));
        let (width, height) = ((right - left).max(0.0), (top - bottom).max(0.0));
        let most = (2 * points.len()).max(1) as f64;
        let mut cell_m = if cell_m > 0.0 { cell_m } else { f64::MIN_POSITIVE };
        let along = |cell_m: f64| (width / cell_m).floor() + 1.0;
        let across = |cell_m: f64| (height / cell_m).floor() + 1.0;
        // The smallest cell that either measure alone would allow, then doubling.
        cell_m = cell_m.max(width / most).max(height / most);
        while along(cell_m) * across(cell_m) > most {
            cell_m *= 2.0;
        }
        let (columns, rows) = (along(cell_m) as usize, across(cell_m) as usize);
        let mut grid = Self {
            points: Vec::new(),
            index: Vec::new(),
            starts: vec![0; columns * rows + 1],
            origin: (left, bottom),
            cell_m,
            columns,
            rows,
        };
        grid.fill(points);
        grid
    }

    /// Calls `visit(index, squared distance)` for every point at most `radius_m` away from `spot`,
    /// in cell order: also for a point that stands on the spot.
    fn visit_within(&self, spot: (f64, f64), radius_m: f64, mut visit: impl FnMut(u32, f64)) {
        let limit_2 = limit_2(radius_m);
        let reach = limit_2.sqrt();
        let (left, bottom) = self.cell_of((spot.0 - reach, spot.1 - reach));
        let (right, top) = self.cell_of((spot.0 + reach, spot.1 + reach));
        for row in bottom..=top {
            for slot in self.slots(row, left, right) {
                let d2 = distance_2(spot, self.points[slot]);
                if d2 <= limit_2 {
                    visit(self.index[slot], d2);
                }
            }
        }
    }

    /// Square rings of cells around `spot`, until none can hold anything nearer.
    fn search_outward(&self, spot: (f64, f64), own: u32, best: &mut Best) {
        let (column, row) = self.cell_of(spot);
        let mut ring = 0;
        loop {
            let (left, right) =
                (column.saturating_sub(ring), (column + ring).min(self.columns - 1));
            let (bottom, top) = (row.saturating_sub(ring), (row + ring).min(self.rows - 1));
            for r in bottom..=top {
                let whole = r + ring == row || r == row + ring || ring == 0;
                if whole {
                    self.offer(self.slots(r, left, right), spot, own, best);
                    continue;
                }
                if column >= ring {
                    self.offer(self.slots(r, left, left), spot, own, best);
                }
                if column + ring < self.columns {
                    self.offer(self.slots(r, right, right), spot, own, best);
                }
            }
            let all = left == 0 && bottom == 0 && right + 1 == self.columns && top + 1 == self.rows;
            let beyond = self.distance_beyond(spot, (column, row), ring);
            if all || Rank::of(beyond * beyond) > best.worst() {
                return;
            }
            ring += 1;
        }
    }

    /// Distance from `spot` to the nearest cell not yet seen after `ring` rings around its own,
    /// a little less to be safe against rounding at cell edges.
    fn distance_beyond(&self, spot: (f64, f64), own: (usize, usize), ring: usize) -> f64 {
        let gap = |at: f64, origin: f64, cell: usize| {
            let low = origin + cell as f64 * self.cell_m;
            (at - low).min(low + self.cell_m - at).max(0.0)
        };
        let inside = gap(spot.0, self.origin.0, own.0).min(gap(spot.1, self.origin.1, own.1));
        (inside + (ring as f64 - 1e-6) * self.cell_m).max(0.0)
    }

    fn offer(&self, slots: std::ops::Range<usize>, spot: (f64, f64), own: u32, best: &mut Best) {
        for slot in slots {
            if self.index[slot] != own {
                best.offer(distance_2(spot, self.points[slot]), self.index[slot]);
            }
        }
    }

    /// The points in cells `left..=right` of a row.
    fn slots(&self, row: usize, left: usize, right: usize) -> std::ops::Range<usize> {
        let base = row * self.columns;
        self.starts[base + left] as usize..self.starts[base + right + 1] as usize
    }

    fn cell_of(&self, spot: (f64, f64)) -> (usize, usize) {
        let cell = |at: f64, origin: f64, cells: usize| {
            (((at - origin) / self.cell_m).max(0.0) as usize).min(cells - 1)
        };
        (cell(spot.0, self.origin.0, self.columns), cell(spot.1, self.origin.1, self.rows))
    }

    /// Sorts the points into cells (counting sort, so index order within a cell).
    fn fill(&mut self, points: &[(f64, f64)]) {
        let cells: Vec<usize> = points
            .iter()
            .map(|&point| {
                let (column, row) = self.cell_of(point);
                row * self.columns + column
            })
            .collect();
        for &cell in &cells {
            self.starts[cell + 1] += 1;
        }
        for cell in 1..self.starts.len() {
            self.starts[cell] += self.starts[cell - 1];
        }
        let mut next = self.starts.clone();
        self.points = vec![(0.0, 0.0); points.len()];
        self.index = vec![0; points.len()];
        for ((&cell, &point), index) in cells.iter().zip(points).zip(0u32..) {
            let slot = next[cell] as usize;
            next[cell] += 1;
            self.points[slot] = point;
            self.index[slot] = index;
        }
    }

    /// Whether the average point shares its cell with so many that scanning costs too much.
    fn is_uneven(&self) -> bool {
        let crowding: f64 = self
            .starts
            .windows(2)
            .map(|pair| {
                let held = f64::from(pair[1] - pair[0]);
                held * held
            })
            .sum();
        crowding > 64.0 * self.points.len() as f64
    }
}

/// The k best so far, in order.
struct Best {
    kept: Vec<(Rank, u32, f64)>,
    k: usize,
}

impl Best {
    fn new(k: usize) -> Self {
        Self { kept: Vec::with_capacity(k.min(1024) + 1), k }
    }

    fn clear(&mut self) {
        self.kept.clear();
    }

    /// Rank beyond which nothing is of use.
    fn worst(&self) -> Rank {
        if self.kept.len() < self.k { Rank::LAST } else { self.kept[self.k - 1].0 }
    }

    fn offer(&mut self, d2: f64, index: u32) {
        let key = (Rank::of(d2), index);
        if self.kept.len() == self.k {
            let last = &self.kept[self.k - 1];
            if key >= (last.0, last.1) {
                return;
            }
            self.kept.pop();
        }
        let mut at = self.kept.len();
        while at > 0 && (self.kept[at - 1].0, self.kept[at - 1].1) > key {
            at -= 1;
        }
        self.kept.insert(at, (key.0, index, d2));
    }
}

/// A cell size at which the nine cells around a point hold a little more than `k` points.
fn cell_for(points: &[(f64, f64)], k: usize) -> f64 {
    let mut low = (f64::INFINITY, f64::INFINITY);
    let mut high = (f64::NEG_INFINITY, f64::NEG_INFINITY);
    for &(x, y) in points {
        low = (low.0.min(x), low.1.min(y));
        high = (high.0.max(x), high.1.max(y));
    }
    let (width, height) = (high.0 - low.0, high.1 - low.1);
    let per_cell = (k as f64 / 4.0).max(1.0) / points.len() as f64;
    let area = width * height;
    if area > 0.0 { (area * per_cell).sqrt() } else { width.max(height) * per_cell }
}

fn gather(points: usize, of: impl Fn(usize) -> Vec<Near>) -> Neighbours {
    let mut out = Neighbours::with_capacity(points, 8 * points);
    for i in 0..points {
        for near in of(i) {
            out.push(near.index as u32, near.distance_m);
        }
        out.close();
    }
    out
}

fn none_for(points: usize) -> Neighbours {
    gather(points, |_| Vec::new())
}

#[cfg(test)]
mod tests;
