//! The pressure of one disease over a lattice of the ground: made once for each report, asked for
//! any moment.

use plot::Plot;
use proof::{Around, Pressure, PressureSurface, Report, Span};

use crate::lattice::Lattice;
use crate::{Ground, Underlay};

/// Cells at most: fine enough for the largest plot on a screen.
const MOST_CELLS: usize = 20_000;
/// Cells for one half-distance: over one of them pressure changes by a fifth.
const CELLS_PER_HALF: f64 = 3.0;

/// The pressure of a report's disease over the ground.
#[derive(Clone, Debug)]
pub struct Field {
    surface: PressureSurface,
    around: Around,
    lattice: Lattice,
    most_tissue: f64,
}

impl Field {
    /// Over the ground of a plot; none where the report has no fit.
    pub fn of(plot: &Plot, ground: &Ground, report: &Report) -> Option<Self> {
        let surface = PressureSurface::of(plot, report)?;
        let half_m = surface.half_distance_m();
        // Beyond the outer trees a tint would only repeat them.
        let bounds = ground.bounds().grown(ground.cell_m());
        let lattice = Lattice::over(bounds, half_m / CELLS_PER_HALF, MOST_CELLS);
        let around = surface.around(&lattice.middles());
        let all = surface.pressures(&around, Span::All);
        let most_tissue = all.iter().filter_map(|here| here.inoculum).fold(0.0, f64::max);
        Some(Self { surface, around, lattice, most_tissue })
    }

    /// Its cells.
    pub(crate) fn lattice(&self) -> Lattice {
        self.lattice
    }

    /// The most diseased tissue around any cell, over the whole record.
    pub(crate) fn most_tissue(&self) -> f64 {
        self.most_tissue
    }

    /// What an underlay shows of each cell; none where nobody can tell.
    pub(crate) fn values(&self, underlay: Underlay, span: Span) -> Vec<Option<f64>> {
        let of = |here: &Pressure| match underlay {
            Underlay::Plain => None,
            Underlay::Tissue => here.inoculum,
            Underlay::Witnesses => here.witness_share,
        };
        self.surface.pressures(&self.around, span).iter().map(of).collect()
    }
}
