//! What is known around one tree, up to a moment, and how much each neighbour counts in what
//! presses on it.
//!
//! A neighbour j at (along, across) metres counts `K(along, across) · (1 − ρ_j)`, where K is the
//! kernel of the fit averaged over its hypotheses ([`Reach`]) and ρ_j the probability that the
//! neighbour is resistant: a resistant one is no witness. Its *weight* is that over the sum of all
//! that were scored by then, among the nearest trees that a fit looks at; so weights add up to 1,
//! and the weights of the infected to the witness share, without what the plot's own level adds
//! to it. Without a fit there is no weight.

use plot::{Plot, Spot, TreeIx};

use crate::known::Known;
use crate::pressure::{MOST_NEIGHBOURS, NEGLIGIBLE};
use crate::{Reach, Report, Span, Surroundings};

/// What is asked about the trees around one.
#[derive(Clone, Copy, Debug)]
pub struct Asked<'a> {
    /// The plot.
    pub plot: &'a Plot,
    /// What was found out about the disease.
    pub report: Option<&'a Report>,
    /// The disease.
    pub disease: &'a str,
    /// Which part of the record counts.
    pub span: Span,
}

/// A neighbour of a chosen tree.
#[derive(Clone, Debug, PartialEq)]
pub struct Neighbour {
    /// Which tree.
    pub tree: TreeIx,
    /// How far, metres.
    pub distance_m: f64,
    /// Which way, degrees clockwise from true north; from the row's direction where the plot has
    /// no origin. None for a graft on the same tree.
    pub bearing_deg: Option<f64>,
    /// What was known of it.
    pub known: Known,
    /// Probability that it could have been infected (1 − probability of resistance); none without
    /// a fit.
    pub could_have: Option<f64>,
    /// Its weight among all that were scored, 0 to 1; none without a fit, or not scored.
    pub weight: Option<f64>,
}

/// What is known around a tree.
#[derive(Clone, Debug, PartialEq)]
pub struct Nearby {
    /// The tree.
    pub tree: TreeIx,
    /// What was known of itself.
    pub own: Known,
    /// Which part of the record counts.
    pub span: Span,
    /// The nearest trees, nearest first, ties by tree id.
    pub nearest: Vec<Neighbour>,
    /// Scored trees farther away that count too.
    pub farther: usize,
    /// What these weigh together; none without a fit, or where nobody was scored.
    pub farther_weight: Option<f64>,
    /// What all infected ones weigh together; none without a fit, or where nobody was scored.
    pub infected_weight: Option<f64>,
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
    let asked = Asked { plot, report, disease, span: Span::All };
    Surroundings::of(plot).nearby(asked, tree, k).nearest
}

impl Surroundings {
    /// What is known around a tree: its `k` nearest neighbours, and what all others weigh. Trees
    /// that did not stand at the moment that is asked about are left out.
    pub fn nearby(&self, asked: Asked<'_>, tree: TreeIx, k: usize) -> Nearby {
        let Asked { plot, report, disease, span } = asked;
        let here = plot.tree(tree).spot();
        let reach = report.and_then(|report| report.fit.as_ref()).map(|fit| &fit.reach);
        let mut all: Vec<Neighbour> = self
            .nearest(plot, tree, k.max(MOST_NEIGHBOURS))
            .into_iter()
            .filter(|(other, _)| stood(plot, *other, span))
            .map(|(other, distance_m)| {
                let there = plot.tree(other).spot();
                let known = Known::of(plot, other, disease, span);
                let could_have = report.and_then(|report| report.could_have(other));
                let tells = known.severity.and(reach);
                Neighbour {
                    tree: other,
                    distance_m,
                    bearing_deg: self.bearing_deg(here, there),
                    weight: tells
                        .map(|reach| kernel(reach, here, there) * could_have.unwrap_or(1.0)),
                    known,
                    could_have,
                }
            })
            .collect();
        let sum: f64 = all.iter().filter_map(|one| one.weight).sum();
        for one in &mut all {
            one.weight = one.weight.map(|weight| if sum > 0.0 { weight / sum } else { 0.0 });
        }
        let weight = |one: &Neighbour| one.weight.unwrap_or(0.0);
        let together = |sum_of: f64| (sum > 0.0).then_some(sum_of);
        let infected = all.iter().filter(|one| one.known.is_infected());
        let infected_weight = together(infected.map(weight).sum());
        let farther = all.split_off(k.min(all.len()));
        Nearby {
            tree,
            own: Known::of(plot, tree, disease, span),
            span,
            nearest: all,
            farther: farther.iter().filter(|one| one.weight > Some(0.0)).count(),
            farther_weight: together(farther.iter().map(weight).sum()),
            infected_weight,
        }
    }
}

/// The kernel's weight of a tree seen from another, nothing where a fit does not look.
fn kernel(reach: &Reach, here: Spot, there: Spot) -> f64 {
    let weight = reach.weight(there.x_m - here.x_m, there.y_m - here.y_m);
    if weight >= NEGLIGIBLE { weight } else { 0.0 }
}

/// Whether a tree was there: planted by then, and not gone before the season.
fn stood(plot: &Plot, tree: TreeIx, span: Span) -> bool {
    let season_of = |day| plot.season_on(day);
    let facts = plot.tree(tree).draft();
    let (season, planted) = match span {
        Span::All => return true,
        Span::Season(season) => {
            (season, facts.planted_on.is_none_or(|planted| season_of(planted) <= season))
        }
        Span::Until(season, day) => (season, facts.planted_on.is_none_or(|planted| planted <= day)),
    };
    planted && facts.removed_on.is_none_or(|removed| season_of(removed) >= season)
}

#[cfg(test)]
mod tests;
