//! Rounds: which scores belong to one walk-through of one season.

use std::sync::Arc;
use time::Date;

use crate::Season;

/// What names a round within its season.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum RoundKey {
    /// The `round` column.
    Named(Arc<str>),
    /// No `round` column: each date is a round.
    Dated(Date),
}

/// A walk-through.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Round {
    /// The season it belongs to.
    pub season: Season,
    /// Its name within the season.
    pub key: RoundKey,
    /// Day of its first score.
    pub first_day: Date,
    /// Day of its last score.
    pub last_day: Date,
}

impl Round {
    /// The name a person would say: the `round` column's, or the date.
    pub fn name(&self) -> String {
        match &self.key {
            RoundKey::Named(name) => name.to_string(),
            RoundKey::Dated(date) => date.to_string(),
        }
    }
}
