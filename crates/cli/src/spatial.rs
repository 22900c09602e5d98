//! `leeward spatial`: general spatial statistics of any table of points, as JSON.

mod answers;
mod points;
mod weigh;

use std::path::PathBuf;

use clap::{Args, ValueEnum};

use crate::Answer;
use weigh::Scheme;

/// General spatial statistics of any table of points, as JSON.
#[derive(Args)]
pub(crate) struct Call {
    /// The table: CSV with a header line.
    points: PathBuf,
    /// Column of the first coordinate, metres.
    #[arg(long, requires = "y")]
    x: Option<String>,
    /// Column of the second coordinate, metres.
    #[arg(long, requires = "x")]
    y: Option<String>,
    /// Column of the row number, for rook and queen.
    #[arg(long, requires = "place")]
    row: Option<String>,
    /// Column of the number within the row, for rook and queen.
    #[arg(long, requires = "row")]
    place: Option<String>,
    /// Column of the value; lines where it is empty are left out.
    #[arg(long)]
    value: Option<String>,
    /// Column that names the points; ties between neighbours go by it.
    #[arg(long)]
    id: Option<String>,
    /// Who is whose neighbour: knn:K, band:METRES, rook, queen or file:PAIRS.csv.
    #[arg(long)]
    weights: Option<Scheme>,
    /// Weights as they are, or divided by their sum for each point.
    #[arg(long, value_enum, default_value_t = Style::Binary)]
    style: Style,
    /// Number of random arrangements in permutation tests.
    #[arg(long, default_value_t = 999)]
    permutations: usize,
    /// Seed of the permutations.
    #[arg(long, default_value_t = 1)]
    seed: u64,
    /// What to compute, one or several.
    #[arg(long, value_enum, value_delimiter = ',', default_value = "moran")]
    stat: Vec<Stat>,
}

#[derive(Clone, Copy, ValueEnum)]
enum Style {
    Binary,
    Row,
}

impl Style {
    fn name(self) -> &'static str {
        match self {
            Self::Binary => "binary",
            Self::Row => "row",
        }
    }
}

#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Stat {
    Moran,
}

/// Reads, computes, prints.
///
/// # Errors
/// Whatever makes the call or its files unusable, every fault of a file at once.
pub(crate) fn run(call: &Call) -> anyhow::Result<Answer> {
    let points = points::read(call)?;
    let (json, answer) = answers::all(call, &points)?;
    println!("{json:#}");
    Ok(answer)
}
