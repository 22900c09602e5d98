//! The neighbour view of a chosen tree: who stands around it, how far, how sick by when, how much
//! each counts, and who could have been infected.

mod picture;
mod rings;

use language::say;
use plot::{Plot, TreeIx};
use proof::{Nearby, Neighbour, Report, Span};

use crate::words;

pub use picture::{NeighbourPicture, Way, neighbour_picture};
pub use rings::Ring;

/// A line from the chosen tree to a neighbour.
#[derive(Clone, Debug, PartialEq)]
pub struct Link {
    /// Which tree.
    pub tree: TreeIx,
    /// How far, metres.
    pub distance_m: f64,
    /// What it tells.
    pub tells: Tells,
    /// How much it counts among all around, 0 to 1; none where nobody knows.
    pub weight: Option<f64>,
    /// Its one line of words.
    pub words: String,
    /// How much it counts, in words.
    pub counts: Option<String>,
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
    /// It is not scored, or was not by then.
    Unknown,
}

/// How the line to a neighbour is drawn: the wider, the more the neighbour counts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stroke {
    /// Its width, CSS pixels.
    pub width_px: f64,
    /// Width of a core of paper in it, CSS pixels; 0: none.
    pub core_px: f64,
    /// Lengths of dash and gap; empty: unbroken.
    pub dash: &'static [f64],
}

/// The neighbours of a tree.
#[derive(Clone, Debug, PartialEq)]
pub struct NeighbourView {
    /// The chosen tree.
    pub of: TreeIx,
    /// Its nearest trees, nearest first.
    pub links: Vec<Link>,
    /// The chosen tree's own sentence.
    pub itself: String,
    /// All neighbours in a sentence or two.
    pub summary: String,
    /// What trees farther away count.
    pub farther: Option<String>,
    /// What the weights are, or why there are none.
    pub weighing: String,
}

impl NeighbourView {
    /// In words, from what is known around a tree.
    pub fn of(plot: &Plot, disease: &str, report: Option<&Report>, nearby: &Nearby) -> Self {
        let link = |near: &Neighbour| Link {
            tree: near.tree,
            distance_m: near.distance_m,
            tells: tells(near),
            weight: near.weight,
            words: words::neighbour(plot, disease, near, nearby.span),
            counts: words::weight(near),
        };
        let name = words::disease(plot, disease);
        let line = report.and_then(|report| report.tree(nearby.tree));
        Self {
            of: nearby.tree,
            links: nearby.nearest.iter().map(link).collect(),
            itself: match line.filter(|_| nearby.span == Span::All) {
                Some(line) => words::judgement(&name, &line.judgement),
                None => words::itself(plot, disease, nearby),
            },
            summary: words::nearby(&name, nearby),
            farther: words::farther(nearby),
            weighing: words::weighing(&name, report),
        }
    }
}

impl Link {
    /// How its line is drawn.
    pub fn stroke(&self) -> Stroke {
        self.tells.stroke(self.weight)
    }
}

/// Width of a line to a neighbour of no weight, CSS pixels.
const LEAST_PX: f64 = 1.5;
/// Width of the widest line, CSS pixels.
const MOST_PX: f64 = 9.0;
/// Weight of a neighbour that has the widest line.
const MOST_WEIGHT: f64 = 0.12;
/// Width of a line where weights are not known, CSS pixels.
const UNWEIGHED_PX: f64 = 3.0;
/// Width of a hollow line's two edges together, CSS pixels.
const EDGES_PX: f64 = 2.6;

impl Tells {
    /// All four, in the order of a key.
    pub const ALL: [Self; 4] = [Self::Infected, Self::CouldHave, Self::NoWitness, Self::Unknown];

    /// Full to a tree that took the disease, hollow to a clean one that could have, dashed to one
    /// that is probably resistant, dotted to one without a score.
    pub fn stroke(self, weight: Option<f64>) -> Stroke {
        let width = weight.map_or(UNWEIGHED_PX, |weight| {
            LEAST_PX + (MOST_PX - LEAST_PX) * (weight / MOST_WEIGHT).min(1.0)
        });
        let (width_px, core_px, dash): (f64, f64, &[f64]) = match self {
            Self::Infected => (width, 0.0, &[]),
            Self::CouldHave => (width.max(EDGES_PX + 1.4), (width - EDGES_PX).max(1.4), &[]),
            Self::NoWitness => (width, 0.0, &[6.0, 5.0]),
            Self::Unknown => (2.0, 0.0, &[0.1, 5.0]),
        };
        Stroke { width_px, core_px, dash }
    }

    /// What its line means.
    pub fn meaning(self) -> &'static str {
        match self {
            Self::Infected => say!("took it"),
            Self::CouldHave => say!("clean, but could have taken it"),
            Self::NoWitness => say!("clean and probably resistant"),
            Self::Unknown => say!("not scored"),
        }
    }
}

/// What a neighbour tells.
pub(crate) fn tells(near: &Neighbour) -> Tells {
    match (near.known.severity, near.could_have) {
        (None, _) => Tells::Unknown,
        (Some(severity), _) if severity > 0.0 => Tells::Infected,
        (Some(_), Some(could_have)) if could_have < words::COULD_HAVE => Tells::NoWitness,
        (Some(_), _) => Tells::CouldHave,
    }
}
