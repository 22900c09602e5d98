//! How strongly trees grow.
mod mixed;
mod order;
mod search;
mod sparse;
mod spline;
mod structure;
#[cfg(test)]
mod testing;
mod undefined;

pub use mixed::{Effect, Fit, Fixed, Mixed, Term};
pub use structure::{Relation, Structure};
pub use undefined::Undefined;
