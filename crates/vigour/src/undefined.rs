//! Why a model has no answer.

use serde::{Deserialize, Serialize};
use thiserror::Error;

/// Why a model has no answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error, Serialize, Deserialize)]
pub enum Undefined {
    /// A number that is not finite.
    #[error("value {index} is not a finite number")]
    NotFinite {
        /// Its place, from 0.
        index: usize,
    },
    /// Fewer values than the model needs.
    #[error("{found} values, {needed} are needed")]
    TooFew {
        /// How many it takes.
        needed: usize,
        /// How many there are.
        found: usize,
    },
    /// All values are alike.
    #[error("all values are alike")]
    Constant,
    /// Equations that would take minutes: too many levels that all bear on each other.
    #[error("more than {millions} million products for each look at the likelihood")]
    TooLarge {
        /// How many million products are computed at most.
        millions: u64,
    },
    /// Parts of the model that the data do not tell apart.
    #[error("parts of the model cannot be told apart")]
    NotToldApart,
}
