//! How the levels of a random term hang together: not at all, by a known relation, as a lattice on
//! which neighbours are alike, or as a smooth surface.

use crate::spline;

/// Precision (inverse covariance) of a random term, up to the parameters that are estimated.
///
/// Parameters are on scales without bounds: logarithms of variance ratios (variance of the term
/// over that of the rest), and inverse hyperbolic tangents of correlations.
#[derive(Clone, Debug, PartialEq)]
pub enum Structure {
    /// Levels that tell nothing of each other. One parameter: the log ratio.
    Independent(usize),
    /// Levels related as known. One parameter: the log ratio.
    Known(Relation),
    /// First-order autoregression along and across: correlation ρₐ^gap · ρₗ^gap. Level
    /// `line · (along.len() + 1) + place`. Parameters: the log ratio, and for each direction with
    /// more than one line the inverse tangent of its ρ, across first.
    Lattice {
        /// Distance from each line to the next, in lines.
        across: Vec<i32>,
        /// Distance from each place to the next, in places.
        along: Vec<i32>,
    },
    /// Coefficients of a tensor product of B-splines, `across × along` of them, with a penalty on
    /// first differences (Eilers & Marx 1996, *Statistical Science* 11:89). Level
    /// `line · along + place`. It holds the mean. Parameters: for each direction with more than one
    /// coefficient the log of 1 over its penalty, across first.
    Surface {
        /// How many coefficients across.
        across: usize,
        /// How many along.
        along: usize,
    },
}

/// A known precision of levels.
#[derive(Clone, Debug, PartialEq)]
pub struct Relation {
    /// How many levels.
    pub levels: usize,
    /// Entries of one triangle, diagonal included, each once: level, level, value.
    pub precision: Vec<(usize, usize, f64)>,
    /// Logarithm of its determinant.
    pub log_determinant: f64,
}

/// Where a parameter starts and how far it may go.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Span {
    pub(crate) start: f64,
    pub(crate) low: f64,
    pub(crate) high: f64,
    /// Whether it is a log ratio of variances, whose lower end stands for none.
    pub(crate) is_ratio: bool,
}

/// The low end stands for a variance of 0; what is still lower would drown the rest in rounding.
const RATIO: Span = Span { start: -1.0, low: -18.0, high: 16.0, is_ratio: true };
const LATTICE: Span = Span { low: -12.0, ..RATIO };
const SURFACE: Span = Span { low: -10.0, high: 9.0, ..RATIO };
/// Correlations from −0.9 to 0.998.
const CORRELATION: Span = Span { start: 0.6, low: -1.472, high: 3.453, is_ratio: false };

impl Structure {
    /// How many levels.
    pub fn levels(&self) -> usize {
        match self {
            Self::Independent(levels) => *levels,
            Self::Known(relation) => relation.levels,
            Self::Lattice { across, along } => (across.len() + 1) * (along.len() + 1),
            Self::Surface { across, along } => across * along,
        }
    }

    /// Whether the model's mean lies within the term.
    pub(crate) fn holds_mean(&self) -> bool {
        matches!(self, Self::Surface { .. })
    }

    pub(crate) fn spans(&self) -> Vec<Span> {
        match self {
            Self::Independent(_) | Self::Known(_) => vec![RATIO],
            Self::Lattice { across, along } => {
                let mut spans = vec![LATTICE];
                spans.extend(
                    [across, along].iter().filter(|gaps| !gaps.is_empty()).map(|_| CORRELATION),
                );
                spans
            }
            Self::Surface { across, along } => {
                [across, along].iter().filter(|count| ***count > 1).map(|_| SURFACE).collect()
            }
        }
    }

    /// The entries of one triangle that are not always 0, each once.
    pub(crate) fn entries(&self) -> Vec<(u32, u32)> {
        match self {
            Self::Independent(levels) => (0..*levels as u32).map(|at| (at, at)).collect(),
            Self::Known(relation) => {
                relation.precision.iter().map(|&(i, j, _)| (i as u32, j as u32)).collect()
            }
            Self::Lattice { across, along } => pairs(across.len() + 1, along.len() + 1, true),
            Self::Surface { across, along } => pairs(*across, *along, false),
        }
    }

    /// Values of the entries at these parameters, and the logarithm of the determinant (that of the
    /// part that is not singular).
    pub(crate) fn precision(&self, parameters: &[f64]) -> (Vec<f64>, f64) {
        match self {
            Self::Independent(levels) => {
                let one = libm::exp(-parameters[0]);
                (vec![one; *levels], -parameters[0] * *levels as f64)
            }
            Self::Known(relation) => {
                let scale = libm::exp(-parameters[0]);
                let values = relation.precision.iter().map(|&(_, _, value)| value * scale);
                let shift = parameters[0] * relation.levels as f64;
                (values.collect(), relation.log_determinant - shift)
            }
            Self::Lattice { across, along } => lattice(across, along, parameters),
            Self::Surface { across, along } => surface(*across, *along, parameters),
        }
    }

    /// Variances and correlations in plain numbers: what the parameters stand for, given the
    /// variance of the rest.
    pub(crate) fn plain(&self, parameters: &[f64], rest: f64) -> Vec<f64> {
        let plain = |(&parameter, span): (&f64, Span)| match span.is_ratio {
            true if parameter <= span.low => 0.0,
            true => libm::exp(parameter) * rest,
            false => libm::tanh(parameter),
        };
        parameters.iter().zip(self.spans()).map(plain).collect()
    }
}

/// A line and a place.
type Cell = (usize, usize);

/// Walks the entries of one triangle of a product of two chains, of `lines` × `places`: each cell
/// with itself, the one before along, the one before across and, where there are `slants`, the two
/// beside that one.
fn product(lines: usize, places: usize, slants: bool, mut each: impl FnMut(Cell, Cell)) {
    for line in 0..lines {
        for place in 0..places {
            let own = (line, place);
            each(own, own);
            if place > 0 {
                each(own, (line, place - 1));
            }
            if line > 0 {
                each(own, (line - 1, place));
                if slants && place > 0 {
                    each(own, (line - 1, place - 1));
                }
                if slants && place + 1 < places {
                    each(own, (line - 1, place + 1));
                }
            }
        }
    }
}

/// The levels of these entries.
fn pairs(lines: usize, places: usize, slants: bool) -> Vec<(u32, u32)> {
    let level = |(line, place): Cell| (line * places + place) as u32;
    let mut pairs = Vec::new();
    product(lines, places, slants, |own, other| pairs.push((level(own), level(other))));
    pairs
}

/// Precision of a first-order autoregression of variance 1 over a chain with gaps: diagonal, what
/// joins each to the one before, and the log determinant.
struct Chain {
    diagonal: Vec<f64>,
    before: Vec<f64>,
    log_determinant: f64,
}

impl Chain {
    fn new(gaps: &[i32], correlation: f64) -> Self {
        let (mut diagonal, mut before) = (vec![1.0], vec![0.0]);
        let mut log_determinant = 0.0;
        for &gap in gaps {
            let r = libm::pow(correlation, f64::from(gap));
            let free = 1.0 - r * r;
            *diagonal.last_mut().expect("a first one") += r * r / free;
            diagonal.push(1.0 / free);
            before.push(-r / free);
            log_determinant -= libm::log(free);
        }
        Self { diagonal, before, log_determinant }
    }

    /// Of a direction; a direction of one line alone has no correlation to estimate.
    fn of(gaps: &[i32], correlations: &mut impl Iterator<Item = f64>) -> Self {
        let correlation = match gaps.is_empty() {
            true => 0.0,
            false => correlations.next().expect("a correlation for each direction"),
        };
        Self::new(gaps, correlation)
    }

    /// The entry of two that are the same or next to each other.
    fn entry(&self, one: usize, other: usize) -> f64 {
        if one == other { self.diagonal[one] } else { self.before[one.max(other)] }
    }
}

fn lattice(across: &[i32], along: &[i32], parameters: &[f64]) -> (Vec<f64>, f64) {
    let mut correlations = parameters[1..].iter().map(|&parameter| libm::tanh(parameter));
    let lines = Chain::of(across, &mut correlations);
    let places = Chain::of(along, &mut correlations);
    let (n, m) = (lines.diagonal.len(), places.diagonal.len());
    let scale = libm::exp(-parameters[0]);
    let mut values = Vec::new();
    product(n, m, true, |own, other| {
        values.push(scale * (lines.entry(own.0, other.0) * places.entry(own.1, other.1)));
    });
    let (n, m) = (n as f64, m as f64);
    let log = m * lines.log_determinant + n * places.log_determinant - n * m * parameters[0];
    (values, log)
}

fn surface(across: usize, along: usize, parameters: &[f64]) -> (Vec<f64>, f64) {
    let mut weights = parameters.iter().map(|&parameter| libm::exp(-parameter));
    let mut weight = |count: usize| if count > 1 { weights.next().unwrap_or(0.0) } else { 0.0 };
    let (lines, places) = (weight(across), weight(along));
    let mut values = Vec::new();
    product(across, along, false, |own, other| {
        values.push(if own == other {
            lines * spline::differences(across, own.0) + places * spline::differences(along, own.1)
        } else if own.0 == other.0 {
            -places
        } else {
            -lines
        });
    });
    let mut log = 0.0;
    for line in 0..across {
        for place in (0..along).filter(|place| line + place > 0) {
            let root = lines * spline::root(across, line) + places * spline::root(along, place);
            log += libm::log(root);
        }
    }
    (values, log)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn dense(structure: &Structure, parameters: &[f64]) -> (Vec<Vec<f64>>, f64) {
        let (values, log) = structure.precision(parameters);
        let mut full = vec![vec![0.0; structure.levels()]; structure.levels()];
        for (&(i, j), value) in structure.entries().iter().zip(values) {
            (full[i as usize][j as usize], full[j as usize][i as usize]) = (value, value);
        }
        (full, log)
    }

    /// Precision times the covariance γ · ρ^distances is 1, gaps or none.
    #[test]
    fn a_lattice_is_the_inverse_of_its_covariance() {
        let (across, along) = (vec![1, 3], vec![1, 1, 2, 1]);
        let (across_at, along_at) = ([0, 1, 4], [0, 1, 2, 4, 5]);
        for (ratio, line, place) in [(0.7f64, 0.4f64, 0.8f64), (2.0, -0.3, 0.2)] {
            let parameters = [ratio.ln(), line.atanh(), place.atanh()];
            let lattice = Structure::Lattice { across: across.clone(), along: along.clone() };
            let (precision, log) = dense(&lattice, &parameters);
            let apart = |a: usize, b: usize| {
                let lines = i32::abs(across_at[a / 5] - across_at[b / 5]);
                let places = i32::abs(along_at[a % 5] - along_at[b % 5]);
                ratio * line.powi(lines) * place.powi(places)
            };
            for (i, row) in precision.iter().enumerate() {
                for j in 0..15 {
                    let product: f64 = (0..15).map(|k| row[k] * apart(k, j)).sum();
                    assert!((product - f64::from(u8::from(i == j))).abs() < 1e-12, "{i} {j}");
                }
            }
            assert!((log - crate::testing::log_determinant(precision)).abs() < 1e-10);
        }
    }

    /// A level surface costs nothing, and the determinant is that of the surface with one further
    /// direction of precision 1 along the mean.
    #[test]
    fn a_surface_is_free_to_lie_anywhere() {
        let surface = Structure::Surface { across: 4, along: 5 };
        let (mut precision, log) = dense(&surface, &[0.3, -0.8]);
        for row in &precision {
            assert!(row.iter().sum::<f64>().abs() < 1e-12);
        }
        precision.iter_mut().flatten().for_each(|entry| *entry += 1.0 / 20.0);
        assert!((log - crate::testing::log_determinant(precision)).abs() < 1e-10);
    }
}
