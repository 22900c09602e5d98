//! The plain facts around one tree: its nearest neighbours and what each of them can tell.

use plot::{Origin, Plot, Reading, Spot, Status, TraitIx, TreeIx, When};
use serde::{Deserialize, Serialize};
use spatial::PointIndex;

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
    /// Its worst score of the disease: trait, value as written, first day seen. None: never
    /// usably scored.
    pub worst: Option<(TraitIx, f64, When)>,
    /// Severity of that score, 0 to 1; 0 is clean.
    pub severity: Option<f64>,
    /// Probability that it could have been infected (1 − probability of resistance); none without
    /// a fit.
    pub could_have: Option<f64>,
}

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

/// The `k` nearest trees that were ever planted, nearest first, ties by tree id, with what each
/// was scored for `disease`.
pub fn near(
    plot: &Plot,
    report: Option<&Report>,
    tree: TreeIx,
    disease: &str,
    k: usize,
) -> Vec<Neighbour> {
    near_among(&Surroundings::of(plot), plot, report, tree, disease, k)
}

/// As [`near`], for whoever asks about several trees of one plot.
pub fn near_among(
    surroundings: &Surroundings,
    plot: &Plot,
    report: Option<&Report>,
    tree: TreeIx,
    disease: &str,
    k: usize,
) -> Vec<Neighbour> {
    let here = plot.tree(tree).spot();
    surroundings
        .nearest(plot, tree, k)
        .into_iter()
        .map(|(other, distance_m)| {
            let worst = worst_of(plot, other, disease);
            Neighbour {
                tree: other,
                distance_m,
                bearing_deg: surroundings.bearing_deg(here, plot.tree(other).spot()),
                worst: worst.map(|(worst, _)| worst),
                severity: worst.map(|(_, severity)| severity),
                could_have: report.and_then(|report| report.could_have(other)),
            }
        })
        .collect()
}

/// The score of the highest severity, the earliest of several, with that severity.
fn worst_of(plot: &Plot, tree: TreeIx, disease: &str) -> Option<((TraitIx, f64, When), f64)> {
    let mut worst: Option<((TraitIx, f64, When), f64)> = None;
    for (_, score) in plot.scores_of(tree) {
        if plot.trait_of(score.trait_ix).disease.as_deref() != Some(disease) {
            continue;
        }
        let severity = match plot.reading(score) {
            Some(Reading::Infected(severity)) => severity,
            Some(Reading::Clean) => 0.0,
            Some(Reading::Unseen) | None => continue,
        };
        let Some(value) = score.value else { continue };
        let beats = worst.is_none_or(|((_, _, on), highest)| {
            severity > highest || (severity == highest && score.scored_on.cmp_in_time(&on).is_lt())
        });
        if beats {
            worst = Some(((score.trait_ix, value, score.scored_on), severity));
        }
    }
    worst
}
