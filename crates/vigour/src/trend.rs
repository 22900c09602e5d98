//! The trend of a field: which ways there are to describe it, what each needs, and its terms.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use spatial::{Papadakis, Weights, papadakis};

use crate::spline::Basis;
use crate::structure::Structure;
use crate::{Term, Undefined};

/// A way to describe what the places of a field share.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Trend {
    /// None: places share nothing.
    None,
    /// Adjustment by the neighbours' residuals. It has no likelihood to be chosen by.
    Papadakis,
    /// Rows and the places along them, each with an effect of its own.
    Rows,
    /// A smooth surface.
    Surface,
    /// First-order autoregression along and across the rows, with a part of its own for each tree.
    Ar1,
}

impl Trend {
    /// All of them, the simplest first.
    pub const ALL: &[Self] = &[Self::None, Self::Papadakis, Self::Rows, Self::Surface, Self::Ar1];

    /// The word for it.
    pub fn as_str(self) -> &'static str {
        match self {
            Self::None => "none",
            Self::Papadakis => "papadakis",
            Self::Rows => "rows",
            Self::Surface => "surface",
            Self::Ar1 => "ar1",
        }
    }

    /// The trend that is tried where this one cannot be had.
    pub(crate) fn simpler(self) -> Option<Self> {
        match self {
            Self::Ar1 => Some(Self::Surface),
            Self::Surface => Some(Self::Rows),
            Self::Rows | Self::Papadakis => Some(Self::None),
            Self::None => None,
        }
    }
}

/// What is estimated of a trend.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Part {
    /// Variance between rows.
    Rows,
    /// Variance between places along the rows.
    Places,
    /// Variance of a surface's first differences across the rows.
    Across,
    /// The same along the rows.
    Along,
    /// Variance of a lattice on which neighbours are alike.
    Field,
    /// Correlation from one row to the next.
    RhoAcross,
    /// Correlation from one place to the next.
    RhoAlong,
}

impl Part {
    /// Whether it is a correlation, not a variance.
    pub fn is_correlation(self) -> bool {
        matches!(self, Self::RhoAcross | Self::RhoAlong)
    }
}

/// One measured tree: its number, where it stands and what it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stand {
    /// Area or yield or score.
    pub number: f64,
    /// Along the rows, metres.
    pub x_m: f64,
    /// Across the rows, metres.
    pub y_m: f64,
    /// Row and place numbers, where it has them.
    pub cell: Option<(i32, i32)>,
    /// Its genotype, numbered from 0.
    pub genotype: usize,
    /// Its cross, numbered from 0, where it has one.
    pub cross: Option<usize>,
}

/// Why a trend was not fitted.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub enum LeftOut {
    /// Too few measured trees.
    FewTrees {
        /// How many it takes.
        needed: usize,
        /// How many there are.
        found: usize,
    },
    /// Trees without a row and a place.
    NoPlace {
        /// How many.
        trees: usize,
    },
    /// Fewer than three rows, and fewer than three places along the rows, with two trees each.
    FewLines,
    /// Trees in one spot.
    OneSpot,
    /// A lattice larger than is computed.
    LargeLattice {
        /// Rows × places that hold measured trees.
        cells: usize,
        /// How many are computed.
        most: usize,
    },
    /// The model has no answer.
    Undefined(Undefined),
    /// The data give the restricted likelihood no maximum.
    NoMaximum,
    /// Neighbours' residuals tell nothing.
    NoNeighbours,
}

const FEW_TREES: usize = 30;
const FEW_FOR_ROWS: usize = 12;
/// Cells of a lattice: above that an autoregression takes minutes.
const MOST_CELLS: usize = 8000;
/// Pieces of a surface in one direction.
const MOST_SEGMENTS: usize = 16;
const PASSES: usize = 3;

/// A random term of a trend, and what its estimates are called, in their order.
pub(crate) type Named = (Term, Vec<Part>);

/// The random terms of a trend; of none and of Papadakis' there are none.
pub(crate) fn terms(trend: Trend, stands: &[Stand]) -> Result<Vec<Named>, LeftOut> {
    match trend {
        Trend::None | Trend::Papadakis => Ok(Vec::new()),
        Trend::Rows => rows(stands),
        Trend::Surface => surface(stands).map(|term| vec![term]),
        Trend::Ar1 => lattice(stands).map(|term| vec![term]),
    }
}

/// Whether there are trees enough.
pub(crate) fn enough(stands: &[Stand], needed: usize) -> Result<(), LeftOut> {
    let found = stands.len();
    if found < needed { Err(LeftOut::FewTrees { needed, found }) } else { Ok(()) }
}

fn cells(stands: &[Stand]) -> Result<Vec<(i32, i32)>, LeftOut> {
    let cells: Vec<_> = stands.iter().filter_map(|stand| stand.cell).collect();
    match stands.len() - cells.len() {
        0 => Ok(cells),
        trees => Err(LeftOut::NoPlace { trees }),
    }
}

/// Different numbers in order.
fn lines(numbers: impl Iterator<Item = i32>) -> Vec<i32> {
    let mut lines: Vec<i32> = numbers.collect();
    lines.sort_unstable();
    lines.dedup();
    lines
}

fn level(lines: &[i32], number: i32) -> usize {
    lines.binary_search(&number).expect("a number of the list")
}

/// Rows, and places along them, where there are lines enough for an effect of each.
fn rows(stands: &[Stand]) -> Result<Vec<Named>, LeftOut> {
    enough(stands, FEW_FOR_ROWS)?;
    let cells = cells(stands)?;
    let by = |part, of: fn(&(i32, i32)) -> i32| {
        let lines = lines(cells.iter().map(of));
        let levels = || cells.iter().map(|cell| Some(level(&lines, of(cell)))).collect::<Vec<_>>();
        let is_enough = lines.len() >= 3 && cells.len() >= 2 * lines.len();
        is_enough.then(|| (Term::levels(&levels()), vec![part]))
    };
    let terms = [by(Part::Rows, |cell| cell.0), by(Part::Places, |cell| cell.1)];
    let terms: Vec<Named> = terms.into_iter().flatten().collect();
    if terms.is_empty() { Err(LeftOut::FewLines) } else { Ok(terms) }
}

fn surface(stands: &[Stand]) -> Result<Named, LeftOut> {
    enough(stands, FEW_TREES)?;
    let (x, y) = (extent(stands, |stand| stand.x_m), extent(stands, |stand| stand.y_m));
    let segments = |different: usize| (different / 3).clamp(1, MOST_SEGMENTS);
    let (mut along, mut across) = (segments(x.2), segments(y.2));
    // No more than one coefficient for two trees.
    while (along + 3) * (across + 3) > stands.len() / 2 && along.max(across) > 1 {
        if along >= across { along -= 1 } else { across -= 1 }
    }
    let (x, y) = (Basis::new(x.0, x.1, along), Basis::new(y.0, y.1, across));
    if x.count() * y.count() == 1 {
        return Err(LeftOut::OneSpot);
    }
    let of = stands.iter().map(|stand| {
        let mut levels = Vec::with_capacity(16);
        for (line, of_line) in y.at(stand.y_m) {
            for (place, of_place) in x.at(stand.x_m) {
                levels.push((line * x.count() + place, of_line * of_place));
            }
        }
        levels
    });
    let parts = [(Part::Across, y.count() > 1), (Part::Along, x.count() > 1)];
    let structure = Structure::Surface { across: y.count(), along: x.count() };
    Ok((Term { of: of.collect(), structure, ratio: None }, named(&parts)))
}

/// Lowest, highest and how many different ones, to the centimetre.
fn extent(stands: &[Stand], of: impl Fn(&Stand) -> f64) -> (f64, f64, usize) {
    let low = stands.iter().map(&of).fold(f64::INFINITY, f64::min);
    let high = stands.iter().map(&of).fold(f64::NEG_INFINITY, f64::max);
    let cm = |metres: f64| libm::round(metres * 100.0) as i32;
    (low, high, lines(stands.iter().map(|stand| cm(of(stand)))).len())
}

fn lattice(stands: &[Stand]) -> Result<Named, LeftOut> {
    enough(stands, FEW_TREES)?;
    let at = cells(stands)?;
    let rows = lines(at.iter().map(|cell| cell.0));
    let places = lines(at.iter().map(|cell| cell.1));
    let cells = rows.len() * places.len();
    if cells > MOST_CELLS {
        return Err(LeftOut::LargeLattice { cells, most: MOST_CELLS });
    }
    if cells == 1 {
        return Err(LeftOut::OneSpot);
    }
    let gap = |pair: &[i32]| pair[1].saturating_sub(pair[0]);
    let gaps = |lines: &[i32]| lines.windows(2).map(gap).collect();
    let of = at
        .iter()
        .map(|&(row, place)| vec![(level(&rows, row) * places.len() + level(&places, place), 1.0)]);
    let (across, along) = (rows.len() > 1, places.len() > 1);
    let parts = [(Part::Field, true), (Part::RhoAcross, across), (Part::RhoAlong, along)];
    let structure = Structure::Lattice { across: gaps(&rows), along: gaps(&places) };
    Ok((Term { of: of.collect(), structure, ratio: None }, named(&parts)))
}

/// What is estimated: a direction with one line alone has nothing to estimate.
fn named(parts: &[(Part, bool)]) -> Vec<Part> {
    parts.iter().filter(|(_, is_estimated)| *is_estimated).map(|(part, _)| *part).collect()
}

/// Papadakis' adjustment with `group` as treatments and the trees in the four neighbouring places
/// as neighbours: the last of three passes.
pub(crate) fn by_neighbours(stands: &[Stand], group: &[usize]) -> Result<Papadakis, LeftOut> {
    enough(stands, FEW_FOR_ROWS)?;
    let mut at: BTreeMap<(i32, i32), Vec<usize>> = BTreeMap::new();
    for (nth, cell) in cells(stands)?.into_iter().enumerate() {
        at.entry(cell).or_default().push(nth);
    }
    let mut pairs = Vec::new();
    for (&(row, place), trees) in &at {
        for (down, along) in [(0, -1), (0, 1), (-1, 0), (1, 0)] {
            let near = row.checked_add(down).zip(place.checked_add(along));
            for &other in near.and_then(|near| at.get(&near)).into_iter().flatten() {
                pairs.extend(trees.iter().map(|&tree| (tree, other, 1.0)));
            }
        }
    }
    pairs.sort_unstable_by_key(|&(tree, other, _)| (tree, other));
    let numbers: Vec<f64> = stands.iter().map(|stand| stand.number).collect();
    let weights = Weights::from_pairs(stands.len(), &pairs).map_err(|_| LeftOut::NoNeighbours)?;
    let passes = papadakis(&weights, &numbers, group, PASSES).map_err(|_| LeftOut::NoNeighbours)?;
    passes.into_iter().next_back().ok_or(LeftOut::NoNeighbours)
}
