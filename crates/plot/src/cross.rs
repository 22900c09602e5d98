//! Crosses: which parents, and what share of resistant seedlings the breeder expects.

use std::collections::BTreeMap;
use std::fmt;
use std::sync::Arc;

use serde::{Deserialize, Serialize};

/// Seed and pollen parent as they are written out.
type Parents = (Option<String>, Option<String>);

/// The parents of a cross; `None` is an unknown parent, never a guess.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(from = "Parents", into = "Parents")]
pub struct CrossKey {
    /// The tree that bore the fruit.
    pub seed_parent: Option<Arc<str>>,
    /// The tree that gave the pollen.
    pub pollen_parent: Option<Arc<str>>,
}

impl CrossKey {
    /// Whether neither parent is known.
    pub fn is_unknown(&self) -> bool {
        self.seed_parent.is_none() && self.pollen_parent.is_none()
    }
}

impl fmt::Display for CrossKey {
    /// `Marl Beauty × TR-9`, with `?` for an unknown parent.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let name = |parent: &Option<Arc<str>>| parent.clone().unwrap_or_else(|| "?".into());
        write!(f, "{} × {}", name(&self.seed_parent), name(&self.pollen_parent))
    }
}

/// What the breeder says about a cross.
#[derive(Clone, Debug, PartialEq)]
pub struct Cross {
    /// Its parents.
    pub key: CrossKey,
    /// Expected share of resistant seedlings, 0 to 1, by disease.
    pub expected_resistant: BTreeMap<String, f64>,
}

impl From<Parents> for CrossKey {
    fn from((seed, pollen): Parents) -> Self {
        Self { seed_parent: seed.map(Into::into), pollen_parent: pollen.map(Into::into) }
    }
}

impl From<CrossKey> for Parents {
    fn from(key: CrossKey) -> Self {
        let text = |name: Option<Arc<str>>| name.map(|name| name.to_string());
        (text(key.seed_parent), text(key.pollen_parent))
    }
}
