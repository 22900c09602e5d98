//! Neighbours, weights and spatial statistics of points and numbers. It knows neither trees nor
//! plots.
//!
//! # Glossary
//! - **point**: `(x_m, y_m)`, finite metres in a plane. Points go by the order in which they were
//!   handed over; who wants ties to go by tree id hands them over in that order.
//! - **neighbour**: another point, never the point itself. A point at the same spot is a neighbour
//!   at distance 0.
//! - **tie**: distances that differ by less than one part in 10⁹ are the same distance; planted
//!   grids tie everywhere, and rounding must not decide. Ties go by index.
//! - **reach**: the distance beyond which a kernel's weight counts as nothing.
//! - **link**: an ordered pair (from, to) with a weight; **island**: a point without links.
//! - **lag**: the weighted sum of the values at a point's neighbours.
//!
//! Radii and distances are metres at every interface. Transcendental functions come from `libm`
//! and random numbers from ChaCha with a stated seed, so that every target gives the same bits.
//!
//! Feature `models` adds what needs dense linear algebra: kriging, logistic, autologistic and
//! beta-binomial regression. Without it the crate is small enough for the browser.

#[cfg(feature = "models")]
mod beta_binomial;
mod clark_evans;
mod deviations;
mod geary;
mod gi;
mod global;
mod grid;
mod index;
mod join_count;
mod kernel;
#[cfg(feature = "models")]
mod kriging;
mod lattice;
mod local;
mod local_moran;
#[cfg(feature = "models")]
mod logistic;
mod moran;
mod multiple;
mod neighbours;
mod normal;
mod papadakis;
mod permute;
mod quadratic;
mod runs;
mod tie;
mod undefined;
mod variogram;
mod weights;

#[cfg(feature = "models")]
pub use beta_binomial::{BetaBinomial, beta_binomial, dispersion_index};
pub use clark_evans::{ClarkEvans, NearestRatio, Window, clark_evans};
pub use geary::{geary, geary_permutation};
pub use gi::{gi, gi_permutation, gi_star};
pub use global::Global;
pub use index::PointIndex;
pub use join_count::{JoinCount, JoinCounts, join_count_permutation, join_counts};
pub use kernel::{Ellipse, Kernel};
#[cfg(feature = "models")]
pub use kriging::{CrossValidation, Kriged, Kriging};
pub use lattice::{Contiguity, lattice};
pub use local::Local;
pub use local_moran::{LocalMoran, Quadrant, local_moran, local_moran_permutation};
#[cfg(feature = "models")]
pub use logistic::{Logistic, Neighbouring, autologistic, logistic};
pub use moran::{moran, moran_permutation};
pub use multiple::{benjamini_hochberg, benjamini_yekutieli};
pub use neighbours::{Near, Neighbours};
pub use normal::{HALF_INTERVAL_90, Test};
pub use papadakis::{Papadakis, papadakis};
pub use permute::PermutationTest;
pub use runs::{Runs, runs, runs_together, stretches};
pub use undefined::Undefined;
pub use variogram::{
    Direction, Fit, FitWeights, Shape, VariogramClass, VariogramModel, equal_classes,
    fit_variogram, usual_cutoff_m, variogram,
};
pub use weights::{PairFault, Sums, Weights};
