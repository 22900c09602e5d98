//! Which part of the record is asked about.

use plot::{Plot, Score, Season};
use time::Date;

/// Which part of the record.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Span {
    /// All seasons: of a pressure, the season when it was highest there.
    All,
    /// One season.
    Season(Season),
    /// One season, as far as it was known at the end of a day.
    Until(Season, Date),
}

impl Span {
    /// Whether a score counts.
    pub fn counts(self, plot: &Plot, score: &Score) -> bool {
        match self {
            Self::All => true,
            Self::Season(season) => plot.season_of(score) == season,
            Self::Until(season, day) => {
                plot.season_of(score) == season && score.scored_on.date() <= day
            }
        }
    }
}
