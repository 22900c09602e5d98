//! `leeward spatial`: general spatial statistics of any table of points, as JSON.

mod answers;
mod points;
mod weigh;

use std::path::PathBuf;
use std::str::FromStr;

use clap::{Args, ValueEnum};
use spatial::{FitWeights, Shape, Window};

use crate::Answer;
use crate::table::{json, say};
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
    /// Number of random arrangements in permutation tests; 0: none.
    #[arg(long, default_value_t = 999, value_parser = at_most_a_million)]
    permutations: usize,
    /// Seed of the permutations.
    #[arg(long, default_value_t = 1)]
    seed: u64,
    /// What to compute, one or several.
    #[arg(long, value_enum, value_delimiter = ',', default_value = "moran")]
    stat: Vec<Stat>,
    /// Clark–Evans: the rectangle that points were free to fall in, as LEFT,BOTTOM,RIGHT,TOP in
    /// metres; without it, the rectangle around the points.
    #[arg(long, allow_hyphen_values = true)]
    window: Option<Frame>,
    /// Variogram: largest distance of a pair, metres; without it, a third of the diagonal of the
    /// rectangle around the points.
    #[arg(long, value_parser = metres)]
    cutoff: Option<f64>,
    /// Variogram: number of classes up to the cutoff.
    #[arg(long, default_value_t = 15, value_parser = some)]
    classes: usize,
    /// Variogram: fit this model.
    #[arg(long, value_enum)]
    model: Option<Model>,
    /// Variogram: what a class weighs in the fit.
    #[arg(long, value_enum, default_value_t = FitBy::PairsByDistance)]
    fit: FitBy,
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
    Geary,
    LocalMoran,
    Gi,
    GiStar,
    JoinCount,
    ClarkEvans,
    Variogram,
    Runs,
}

impl Stat {
    fn needs_weights(self) -> bool {
        !matches!(self, Self::ClarkEvans | Self::Variogram | Self::Runs)
    }
}

#[derive(Clone, Copy, ValueEnum)]
enum Model {
    Spherical,
    Exponential,
    Gaussian,
}

impl Model {
    fn shape(self) -> Shape {
        match self {
            Self::Spherical => Shape::Spherical,
            Self::Exponential => Shape::Exponential,
            Self::Gaussian => Shape::Gaussian,
        }
    }
}

#[derive(Clone, Copy, ValueEnum)]
enum FitBy {
    /// Pairs over squared distance.
    PairsByDistance,
    /// Pairs over the model's squared semivariance.
    PairsBySemivariance,
    /// All classes alike.
    Equal,
}

impl FitBy {
    fn weights(self) -> FitWeights {
        match self {
            Self::PairsByDistance => FitWeights::PairsByDistance,
            Self::PairsBySemivariance => FitWeights::PairsBySemivariance,
            Self::Equal => FitWeights::Equal,
        }
    }
}

/// A window as written on the command line.
#[derive(Clone, Copy)]
struct Frame(Window);

impl FromStr for Frame {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        let expected = "expected LEFT,BOTTOM,RIGHT,TOP in metres, right and top the larger";
        let sides: Result<Vec<f64>, _> = text.split(',').map(str::parse).collect();
        match sides.as_deref() {
            Ok(&[left_m, bottom_m, right_m, top_m])
                if left_m < right_m
                    && bottom_m < top_m
                    && [left_m, bottom_m, right_m, top_m].iter().all(|side| side.is_finite()) =>
            {
                Ok(Self(Window { left_m, bottom_m, right_m, top_m }))
            }
            _ => Err(expected.to_owned()),
        }
    }
}

fn metres(text: &str) -> Result<f64, String> {
    match text.parse() {
        Ok(metres) if metres > 0.0 && f64::is_finite(metres) => Ok(metres),
        _ => Err("expected metres above 0".to_owned()),
    }
}

fn some(text: &str) -> Result<usize, String> {
    match text.parse() {
        Ok(number @ 1..=10_000) => Ok(number),
        _ => Err("expected a whole number from 1 to 10000".to_owned()),
    }
}

fn at_most_a_million(text: &str) -> Result<usize, String> {
    match text.parse() {
        Ok(number @ 0..=1_000_000) => Ok(number),
        _ => Err("expected a whole number from 0 to 1000000".to_owned()),
    }
}

/// Reads, computes, prints.
///
/// # Errors
/// Whatever makes the call or its files unusable, every fault of a file at once.
pub(crate) fn run(call: &Call) -> anyhow::Result<Answer> {
    let points = points::read(call)?;
    let (report, answer) = answers::all(call, &points)?;
    say(&json(&report)?)?;
    Ok(answer)
}
