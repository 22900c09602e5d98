//! Rounds: which scores belong to one walk-through of one season.

use std::collections::BTreeMap;
use std::sync::Arc;
use time::Date;

use crate::{Plot, Score, ScoreIx, Season};

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

impl Plot {
    /// The season and name of the round that a score belongs to.
    pub fn round_key_of(&self, score: &Score) -> (Season, RoundKey) {
        let key = match &score.round {
            Some(name) => RoundKey::Named(name.clone()),
            None => RoundKey::Dated(score.scored_on.date()),
        };
        (self.season_of(score), key)
    }

    /// The rounds of the standing scores that `wanted` picks, in order of their first day.
    pub fn rounds(&self, wanted: impl Fn(&Score) -> bool) -> Vec<Round> {
        self.by_round(wanted).0
    }

    /// The same, and each of these scores with the index of its round, in the order in which they
    /// were taken in.
    pub fn by_round(&self, wanted: impl Fn(&Score) -> bool) -> (Vec<Round>, Vec<(ScoreIx, usize)>) {
        let mut sorter = Sorter::default();
        let mut scores: Vec<(ScoreIx, usize)> = self
            .standing_scores()
            .filter(|(_, score)| wanted(score))
            .map(|(ix, score)| (ix, sorter.nth(self, score)))
            .collect();
        let mut order: Vec<(usize, Round)> = sorter.rounds.into_iter().enumerate().collect();
        order.sort_by(|(_, a), (_, b)| {
            (a.season, a.first_day, a.last_day, &a.key).cmp(&(
                b.season,
                b.first_day,
                b.last_day,
                &b.key,
            ))
        });
        let mut place = vec![0; order.len()];
        order.iter().enumerate().for_each(|(to, (from, _))| place[*from] = to);
        scores.iter_mut().for_each(|(_, nth)| *nth = place[*nth]);
        (order.into_iter().map(|(_, round)| round).collect(), scores)
    }
}

/// Puts scores into rounds as they come: mostly into that of the score before.
#[derive(Default)]
struct Sorter {
    rounds: Vec<Round>,
    by_key: BTreeMap<(Season, RoundKey), usize>,
    last: usize,
}

impl Sorter {
    fn nth(&mut self, plot: &Plot, score: &Score) -> usize {
        let (season, day) = (plot.season_of(score), score.scored_on.date());
        let is_last =
            self.rounds.get(self.last).is_some_and(|round| round.holds(season, day, score));
        if !is_last {
            let (season, key) = plot.round_key_of(score);
            let new = self.rounds.len();
            self.last = *self.by_key.entry((season, key.clone())).or_insert(new);
            if self.last == new {
                self.rounds.push(Round { season, key, first_day: day, last_day: day });
            }
        }
        let round = &mut self.rounds[self.last];
        (round.first_day, round.last_day) = (round.first_day.min(day), round.last_day.max(day));
        self.last
    }
}

impl Round {
    fn holds(&self, season: Season, day: Date, score: &Score) -> bool {
        self.season == season
            && match (&self.key, &score.round) {
                (RoundKey::Named(name), Some(round)) => name == round,
                (RoundKey::Dated(date), None) => *date == day,
                _ => false,
            }
    }
}
