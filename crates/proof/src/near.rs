//! The plain facts around one tree: its nearest neighbours and what each of them can tell.

use plot::{Plot, TraitIx, TreeIx, When};
use serde::{Deserialize, Serialize};

use crate::Report;

/// A neighbour of a chosen tree.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Neighbour {
    /// Which tree.
    pub tree: TreeIx,
    /// How far, metres.
    pub distance_m: f64,
    /// Which way, degrees clockwise from true north; from the row's direction where the plot has
    /// no origin. None for a graft on the same tree.
    pub bearing_deg: Option<f64>,
    /// Its worst score of the disease: trait, value as written, first day seen.
    pub worst: Option<(TraitIx, f64, When)>,
    /// Severity of that score, 0 to 1; none: never usably scored.
    pub severity: Option<f64>,
    /// Probability that it could have been infected (1 − probability of resistance); none without
    /// a fit.
    pub could_have: Option<f64>,
}

/// The `k` nearest trees that were ever planted, nearest first, ties by tree id.
pub fn near(
    plot: &Plot,
    report: Option<&Report>,
    tree: TreeIx,
    disease: &str,
    k: usize,
) -> Vec<Neighbour> {
    let _ = (plot, report, tree, disease, k);
    Vec::new()
}
