//! The neighbour view of a chosen tree: who stands around it, how far, how sick, and who could
//! have been infected.

use plot::{Plot, Spot, TreeIx};
use proof::{Neighbour, Report};

use crate::layer::capital;
use crate::words;

/// A line from the chosen tree to a neighbour.
#[derive(Clone, Debug, PartialEq)]
pub struct Link {
    /// Which tree.
    pub tree: TreeIx,
    /// Where it stands.
    pub to: Spot,
    /// How far, metres.
    pub distance_m: f64,
    /// What it tells.
    pub tells: Tells,
    /// Its severity, 0 to 1; none: not scored.
    pub severity: Option<f64>,
    /// Its one line of words.
    pub words: String,
}

/// What a neighbour tells about the disease that reached the place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tells {
    /// It took the disease.
    Infected,
    /// It is clean though it could have been infected: a witness of quiet.
    CouldHave,
    /// It is clean and probably resistant: no witness.
    NoWitness,
    /// It is not scored.
    Unknown,
}

/// The neighbours of a tree.
#[derive(Clone, Debug, PartialEq)]
pub struct NeighbourView {
    /// The chosen tree.
    pub of: TreeIx,
    /// Where it stands.
    pub from: Spot,
    /// Its nearest trees, nearest first.
    pub links: Vec<Link>,
}

impl NeighbourView {
    /// Of a tree, from its nearest trees.
    pub fn of(plot: &Plot, disease: &str, tree: TreeIx, near: &[Neighbour]) -> Self {
        let link = |near: &Neighbour| Link {
            tree: near.tree,
            to: plot.tree(near.tree).spot(),
            distance_m: near.distance_m,
            tells: tells(near),
            severity: near.severity,
            words: words::neighbour(plot, disease, near),
        };
        Self { of: tree, from: plot.tree(tree).spot(), links: near.iter().map(link).collect() }
    }

    /// One line about all of them: how many took the disease, how many could have.
    pub fn summary(&self, disease: &str, report: Option<&Report>) -> String {
        let count = |wanted: Tells| self.links.iter().filter(|link| link.tells == wanted).count();
        let (infected, unknown) = (count(Tells::Infected), count(Tells::Unknown));
        let share = words::share_of(infected, self.links.len());
        let mut line = format!("{share} nearest trees took {}", words::disease(disease));
        let could_have = count(Tells::CouldHave);
        if could_have > 0 && report.is_some_and(|report| report.fit.is_some()) {
            line.push_str(&format!("; {could_have} clean ones could have"));
        }
        if unknown > 0 {
            line.push_str(&format!("; {unknown} not scored"));
        }
        line.push('.');
        capital(&line)
    }
}

fn tells(near: &Neighbour) -> Tells {
    match (near.severity, near.could_have) {
        (None, _) => Tells::Unknown,
        (Some(severity), _) if severity > 0.0 => Tells::Infected,
        (Some(_), Some(could_have)) if could_have < words::COULD_HAVE => Tells::NoWitness,
        (Some(_), _) => Tells::CouldHave,
    }
}
