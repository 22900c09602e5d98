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

mod deviations;
mod grid;
mod index;
mod kernel;
mod lattice;
mod moran;
mod neighbours;
mod normal;
mod permute;
mod tie;
mod undefined;
mod weights;

pub use index::PointIndex;
pub use kernel::{Ellipse, Kernel};
pub use lattice::{Contiguity, lattice};
pub use moran::{Moran, moran, moran_permutation};
pub use neighbours::{Near, Neighbours};
pub use normal::Test;
pub use permute::PermutationTest;
pub use undefined::Undefined;
pub use weights::{PairFault, Sums, Weights};
