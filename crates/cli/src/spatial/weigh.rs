//! Which points count as neighbours: the `--weights` option, read and built.

use std::collections::HashMap;
use std::path::{Path, PathBuf};
use std::str::FromStr;

use anyhow::{Context, bail};
use spatial::{Contiguity, Neighbours, PairFault, Undefined, Weights, lattice};

use super::points::{Points, Table};
use super::{Call, Style};

/// Most pairs of neighbours, for the sake of memory.
const MOST_LINKS: usize = 20_000_000;

/// A weighting scheme as written on the command line.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Scheme {
    /// `knn:K`
    Nearest(usize),
    /// `band:METRES`
    Band(f64),
    /// `rook` or `queen`
    Lattice(Contiguity),
    /// `file:PAIRS.csv`
    Pairs(PathBuf),
}

impl FromStr for Scheme {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        let expected = |what: &str| format!("expected {what}");
        match text.split_once(':') {
            None if text == "rook" => Ok(Self::Lattice(Contiguity::Rook)),
            None if text == "queen" => Ok(Self::Lattice(Contiguity::Queen)),
            Some(("knn", k)) => match k.parse() {
                Ok(k) if k > 0 => Ok(Self::Nearest(k)),
                _ => Err(expected("a whole number of at least 1 after knn:")),
            },
            Some(("band", metres)) => match metres.parse() {
                Ok(metres) if metres > 0.0 && f64::is_finite(metres) => Ok(Self::Band(metres)),
                _ => Err(expected("metres above 0 after band:")),
            },
            Some(("file", path)) if !path.is_empty() => Ok(Self::Pairs(path.into())),
            _ => Err(expected("knn:K, band:METRES, rook, queen or file:PAIRS.csv")),
        }
    }
}

impl Scheme {
    /// The scheme as written.
    pub(crate) fn text(&self) -> String {
        match self {
            Self::Nearest(k) => format!("knn:{k}"),
            Self::Band(metres) => format!("band:{metres}"),
            Self::Lattice(Contiguity::Rook) => "rook".to_owned(),
            Self::Lattice(Contiguity::Queen) => "queen".to_owned(),
            Self::Pairs(path) => format!("file:{}", path.display()),
        }
    }
}

/// The weights that a call asks for.
///
/// # Errors
/// No `--weights`, the columns that the scheme needs are not named, two points share a row and
/// place, or the file of pairs is at fault.
pub(crate) fn build(call: &Call, points: &Points) -> anyhow::Result<Weights> {
    let Some(scheme) = &call.weights else {
        bail!("--weights is missing: expected knn:K, band:METRES, rook, queen or file:PAIRS.csv");
    };
    let weights = match scheme {
        Scheme::Nearest(k) => {
            let spots = spots(scheme, points)?;
            check_links(scheme, spots.len().saturating_mul((*k).min(spots.len())))?;
            Weights::nearest(spots, *k)
        }
        Scheme::Band(metres) => {
            let spots = spots(scheme, points)?;
            check_links(scheme, Neighbours::count_within(spots, *metres, MOST_LINKS))?;
            Weights::band(spots, *metres)
        }
        Scheme::Lattice(contiguity) => {
            let places = points
                .places
                .as_ref()
                .with_context(|| format!("--weights {} needs --row and --place", scheme.text()))?;
            lattice(places, *contiguity).map_err(|error| match error {
                Undefined::SharedPlace { first, second } => anyhow::anyhow!(
                    "{}, line {}: found the row and place of line {}, expected one point in a place",
                    call.points.display(),
                    points.lines[first].max(points.lines[second]),
                    points.lines[first].min(points.lines[second]),
                ),
                other => other.into(),
            })?
        }
        Scheme::Pairs(path) => from_file(path, points)?,
    };
    Ok(match call.style {
        Style::Binary => weights,
        Style::Row => weights.row_standardised(),
    })
}

fn check_links(scheme: &Scheme, links: usize) -> anyhow::Result<()> {
    if links > MOST_LINKS {
        let text = scheme.text();
        bail!("--weights {text}: found more than {MOST_LINKS} pairs of neighbours, expected fewer");
    }
    Ok(())
}

fn spots<'a>(scheme: &Scheme, points: &'a Points) -> anyhow::Result<&'a [(f64, f64)]> {
    points
        .spots
        .as_deref()
        .with_context(|| format!("--weights {} needs --x and --y", scheme.text()))
}

/// Pairs of points that have a value; pairs of points that were left out are skipped.
fn from_file(path: &Path, points: &Points) -> anyhow::Result<Weights> {
    let mut table = Table::open(path)?;
    let from = table.column(Some("from"));
    let to = table.column(Some("to"));
    let weight = table.column(Some("weight"));
    let (Some(from), Some(to), Some(_)) = (from, to, &weight) else {
        bail!(table.report());
    };
    let index: HashMap<&str, usize> =
        points.names.iter().zip(0..).map(|(name, at)| (name.as_str(), at)).collect();
    let mut pairs = Vec::new();
    let mut lines = Vec::new();
    for (line, cells) in &table.records() {
        let mut ends = [None, None];
        for (end, column) in ends.iter_mut().zip([&from, &to]) {
            let name = table.name(column, *line, cells);
            *end = index.get(name.as_str()).copied();
            if end.is_none() && !name.is_empty() && !points.left_out.contains(&name) {
                let found = format!("\"{name}\"");
                table.fault(*line, Some(column), found, "the id of a point in the table");
            }
        }
        let weight = table.number(&weight, *line, cells);
        if let ([Some(from), Some(to)], Some(weight)) = (ends, weight) {
            pairs.push((from, to, weight));
            lines.push(*line);
        }
    }
    if !table.problems.is_empty() {
        bail!(table.report());
    }
    Weights::from_pairs(points.names.len(), &pairs).map_err(|(at, fault)| {
        let expected = match fault {
            PairFault::Itself { .. } => "two different points",
            PairFault::Twice { .. } => "each pair once",
            PairFault::Weight { .. } => "a weight of at least 0",
            PairFault::NoSuchPoint { .. } => "a point of the table",
        };
        let (from, to) = (&points.names[pairs[at].0], &points.names[pairs[at].1]);
        let found = format!("{from} to {to} with weight {}", pairs[at].2);
        anyhow::anyhow!(
            "{}, line {}: found {found}, expected {expected}",
            path.display(),
            lines[at]
        )
    })
}
