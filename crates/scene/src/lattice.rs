//! A lattice of square cells over the ground.

use plot::Spot;

use crate::Bounds;

/// Square cells in rows, from the corner of least x and y.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lattice {
    /// Where the first cell begins.
    pub corner: Spot,
    /// The side of a cell, metres.
    pub side_m: f64,
    /// Cells along x.
    pub columns: usize,
    /// Cells along y.
    pub rows: usize,
}

impl Lattice {
    /// Over bounds with cells of `side_m` metres, or larger where they would be more than `most`.
    pub(crate) fn over(bounds: Bounds, side_m: f64, most: usize) -> Self {
        let (width, height) = (bounds.along_m(), bounds.across_m());
        let cells = |extent: f64, side_m: f64| (libm::ceil(extent / side_m) as usize).max(1);
        let mut side_m = side_m.max((width * height / most as f64).sqrt());
        while cells(width, side_m) * cells(height, side_m) > most {
            side_m *= 1.02;
        }
        let (columns, rows) = (cells(width, side_m), cells(height, side_m));
        // What the last cells reach too far is shared by both sides.
        let over = |extent: f64, cells: usize| (cells as f64 * side_m - extent) / 2.0;
        let corner = Spot {
            x_m: bounds.least.x_m - over(width, columns),
            y_m: bounds.least.y_m - over(height, rows),
        };
        Self { corner, side_m, columns, rows }
    }

    /// Each cell cut into `parts` by `parts`.
    pub(crate) fn refined(self, parts: usize) -> Self {
        Self {
            side_m: self.side_m / parts as f64,
            columns: self.columns * parts,
            rows: self.rows * parts,
            ..self
        }
    }

    /// How many cells there are.
    pub fn cells(&self) -> usize {
        self.columns * self.rows
    }

    /// The middles of all cells, row by row.
    pub(crate) fn middles(&self) -> Vec<Spot> {
        let at = |nth: usize| (nth as f64 + 0.5) * self.side_m;
        let cells =
            (0..self.rows).flat_map(|row| (0..self.columns).map(move |column| (column, row)));
        let spot = |(column, row): (usize, usize)| Spot {
            x_m: self.corner.x_m + at(column),
            y_m: self.corner.y_m + at(row),
        };
        cells.map(spot).collect()
    }

    /// The cell under a spot, as an index row by row; none outside.
    pub fn cell(&self, spot: Spot) -> Option<usize> {
        let along = libm::floor((spot.x_m - self.corner.x_m) / self.side_m);
        let across = libm::floor((spot.y_m - self.corner.y_m) / self.side_m);
        let inside = (0.0..self.columns as f64).contains(&along)
            && (0.0..self.rows as f64).contains(&across);
        inside.then(|| across as usize * self.columns + along as usize)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bounds(width: f64, height: f64) -> Bounds {
        Bounds {
            least: Spot { x_m: -2.0, y_m: 5.0 },
            most: Spot { x_m: width - 2.0, y_m: height + 5.0 },
        }
    }

    #[test]
    fn it_covers_its_bounds_with_few_enough_cells() {
        for (width, height) in [(10.0, 4.0), (900.0, 300.0), (0.0, 50.0), (0.3, 0.1)] {
            let bounds = bounds(width, height);
            let lattice = Lattice::over(bounds, 0.5, 1000);
            assert!(lattice.cells() <= 1000 && lattice.side_m >= 0.5, "{lattice:?}");
            for corner in bounds.corners() {
                let inner = bounds.middle();
                let near = Spot {
                    x_m: corner.x_m + (inner.x_m - corner.x_m) * 1e-6,
                    y_m: corner.y_m + (inner.y_m - corner.y_m) * 1e-6,
                };
                assert!(lattice.cell(near).is_some(), "{lattice:?} {near:?}");
            }
        }
    }

    #[test]
    fn the_middle_of_a_cell_lies_in_it_and_in_its_parts() {
        let lattice = Lattice::over(bounds(7.0, 3.0), 0.4, 1000);
        let fine = lattice.refined(3);
        assert_eq!(fine.cells(), lattice.cells() * 9);
        for (nth, middle) in lattice.middles().into_iter().enumerate() {
            assert_eq!(lattice.cell(middle), Some(nth));
            let part = fine.cell(middle).expect("inside");
            let (column, row) = (part % fine.columns, part / fine.columns);
            assert_eq!(row / 3 * lattice.columns + column / 3, nth);
        }
        assert_eq!(lattice.cell(Spot { x_m: -3.0, y_m: 6.0 }), None);
    }
}
