//! Why a statistic has no value.

/// A statistic that its input does not define. Nothing is ever answered with NaN instead.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum Undefined {
    /// Fewer points than the formula needs.
    #[error("needs at least {needed} points with a value; there are {found}")]
    TooFew {
        /// Smallest number that would do.
        needed: usize,
        /// How many there are.
        found: usize,
    },
    /// All values are equal, so nothing varies in space.
    #[error("all values are equal")]
    Constant,
    /// No pair of points is linked.
    #[error("no two points are neighbours under these weights")]
    NoLinks,
    /// A value is infinite or not a number.
    #[error("value {index} is not a finite number")]
    NotFinite {
        /// Index of the value.
        index: usize,
    },
    /// The values lie so close together or so far apart that their squares leave the range of
    /// floating point.
    #[error("the values' spread is too small or too large to be squared")]
    Range,
    /// Two points share a place of the lattice.
    #[error("points {first} and {second} share one place")]
    SharedPlace {
        /// Index of the first.
        first: usize,
        /// Index of the second.
        second: usize,
    },
    /// The points or the window span no area.
    #[error("the points or the window span no area")]
    NoArea,
    /// Columns that depend on one another, or points that stand on one spot.
    #[error("the equations have no single solution")]
    Singular,
    /// A treatment without a plot.
    #[error("treatment {index} has no plot")]
    EmptyGroup {
        /// Number of the treatment.
        index: usize,
    },
    /// More yes than trials, no trial, or not a whole number where one is needed.
    #[error("line {index} is not a count out of a number of trials")]
    NotAShare {
        /// Index of the line.
        index: usize,
    },
    /// More random draws than memory should be asked to hold.
    #[error(
        "{neighbours} neighbours times {permutations} permutations are too many: more than 50 million"
    )]
    TooManyDraws {
        /// Most neighbours that a point has.
        neighbours: usize,
        /// How many permutations were asked for.
        permutations: usize,
    },
    /// The statistic asks for no permutation at all.
    #[error("a permutation test needs at least one permutation")]
    NoPermutations,
}
