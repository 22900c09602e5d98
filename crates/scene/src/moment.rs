//! Which part of the record the map shows: all of it, a season, or one round.

use language::say;
use plot::{Plot, Round, RoundKey, Season};
use proof::Span;
use time::Date;

use crate::words;

/// A part of the record.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Moment {
    /// All rounds together.
    #[default]
    All,
    /// All rounds of a season.
    Season(Season),
    /// A season up to one round.
    Round(Season, RoundKey),
}

/// How a round belongs to a moment.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Part {
    /// Not at all.
    Out,
    /// Before the round shown, in its season: who was seen infected then still is.
    Before,
    /// It is shown.
    Shown,
}

impl Moment {
    /// Which of the rounds it shows.
    pub(crate) fn parts(&self, rounds: &[Round]) -> Vec<Part> {
        let last = self.last(rounds);
        let part = |(nth, round): (usize, &Round)| match self {
            Self::All => Part::Shown,
            Self::Season(season) if round.season == *season => Part::Shown,
            Self::Round(season, _) if round.season == *season && Some(nth) == last => Part::Shown,
            Self::Round(season, _) if round.season == *season && Some(nth) < last => Part::Before,
            _ => Part::Out,
        };
        rounds.iter().enumerate().map(part).collect()
    }

    /// The days that it spans; none for the whole record.
    pub(crate) fn days(&self, rounds: &[Round]) -> Option<(Date, Date)> {
        if *self == Self::All {
            return None;
        }
        let parts = self.parts(rounds);
        let shown = rounds.iter().zip(parts).filter(|(_, part)| *part == Part::Shown);
        shown
            .map(|(round, _)| (round.first_day, round.last_day))
            .reduce(|days, more| (days.0.min(more.0), days.1.max(more.1)))
    }

    /// The part of the record that was known by then.
    pub fn span(&self, rounds: &[Round]) -> Span {
        match self {
            Self::All => Span::All,
            Self::Season(season) => Span::Season(*season),
            Self::Round(season, _) => match self.last(rounds) {
                Some(nth) => Span::Until(*season, rounds[nth].last_day),
                None => Span::Season(*season),
            },
        }
    }

    /// Its words: `all rounds`, `season 2031`, `2031, round 3, 14 to 16 June`.
    pub fn label(&self, plot: &Plot, rounds: &[Round]) -> String {
        match self {
            Self::All => say!("All rounds").to_owned(),
            Self::Season(season) => {
                say!("Season {season}", season = words::season_name(plot, *season))
            }
            Self::Round(..) => match self.last(rounds).map(|nth| &rounds[nth]) {
                Some(round) => round_label(plot, round),
                None => say!("A round without scores of this").to_owned(),
            },
        }
    }

    /// The stops of a walk through rounds in time: each round, after the last of a season that
    /// season as a whole, all of it at the end. A season of one round is that round, and where
    /// there is one season it is all.
    pub fn stops(rounds: &[Round]) -> Vec<Self> {
        let seasons: Vec<&[Round]> = rounds.chunk_by(|a, b| a.season == b.season).collect();
        let several = seasons.len() > 1;
        let mut stops = Vec::with_capacity(rounds.len() + seasons.len() + 1);
        for season in seasons {
            stops.extend(season.iter().map(Self::from));
            if several && season.len() > 1 {
                stops.push(Self::Season(season[0].season));
            }
        }
        stops.push(Self::All);
        stops
    }

    /// What was known by then, in words: `worst of all seasons`, `season 2031 up to 2 July 2031`.
    pub fn as_known(&self, plot: &Plot, rounds: &[Round]) -> String {
        let name = |season| words::season_name(plot, season);
        match self.span(rounds) {
            Span::All => say!("worst of all seasons").to_owned(),
            Span::Season(season) => say!("season {season}", season = name(season)),
            Span::Until(season, day) => {
                say!("season {season} up to {day}", season = name(season), day = words::day(day))
            }
        }
    }

    /// Where its last round stands, if it is one.
    pub(crate) fn last(&self, rounds: &[Round]) -> Option<usize> {
        let Self::Round(season, key) = self else { return None };
        rounds.iter().position(|round| round.season == *season && round.key == *key)
    }
}

impl From<&Round> for Moment {
    fn from(round: &Round) -> Self {
        Self::Round(round.season, round.key.clone())
    }
}

fn round_label(plot: &Plot, round: &Round) -> String {
    let days = words::days(round.first_day, round.last_day);
    match &round.key {
        RoundKey::Dated(_) => days,
        RoundKey::Named(name) => {
            let season = words::season_name(plot, round.season);
            say!("Season {season}, round {name}, {days}")
        }
    }
}
