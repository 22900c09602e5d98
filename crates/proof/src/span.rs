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
        self.holds(plot.season_of(score)) && self.knows(score.scored_on.date())
    }

    /// Whether it is about a season.
    pub(crate) fn holds(self, one: Season) -> bool {
        match self {
            Self::All => true,
            Self::Season(season) | Self::Until(season, _) => season == one,
        }
    }

    /// Whether a day of its seasons is over by then.
    pub(crate) fn knows(self, day: Date) -> bool {
        match self {
            Self::Until(_, last) => day <= last,
            Self::All | Self::Season(_) => true,
        }
    }
}
