//! Events on the walk through rounds: where between its stops each lies, and which belong to a stop.

use language::say;
use plot::{Event, Plot, Round, RoundKey, Season};
use time::Date;

use crate::{Moment, words};

/// An event on the time line.
#[derive(Clone, Debug, PartialEq)]
pub struct Happening {
    /// Where it lies, in stops ([`Moment::stops`]): 0 at the first, 1.5 between second and third.
    pub at: f64,
    /// The first letter of its kind, a capital.
    pub letter: char,
    /// What it was, and between which rounds.
    pub words: String,
    /// Whether it is a spray.
    pub is_spray: bool,
    season: Season,
    from: Date,
    to: Date,
}

impl Happening {
    /// All events of a plot on the walk through these rounds, in time; ties in the order of the file.
    pub fn all(plot: &Plot, rounds: &[Round]) -> Vec<Self> {
        let stops = Moment::stops(rounds);
        let mut all: Vec<Self> =
            plot.events().iter().map(|event| Self::of(plot, rounds, &stops, event)).collect();
        all.sort_by_key(|one| (one.from, one.to));
        all
    }

    fn of(plot: &Plot, rounds: &[Round], stops: &[Moment], event: &Event) -> Self {
        let season = plot.season_on(event.from);
        let letter = event.kind.trim().chars().next().unwrap_or('?');
        Self {
            at: at(rounds, stops, season, event.from),
            letter: letter.to_uppercase().next().unwrap_or(letter),
            words: format!("{} ({})", words::event(event), between(plot, rounds, event)),
            is_spray: event.is_spray(),
            season,
            from: event.from,
            to: event.to,
        }
    }

    /// Whether it belongs to a moment: to a round what happened since the round before, or since
    /// its season began, up to its last day.
    pub fn is_of(&self, moment: &Moment, rounds: &[Round]) -> bool {
        match moment {
            Moment::All => true,
            Moment::Season(season) => self.season == *season,
            Moment::Round(season, _) => {
                let Some(nth) = moment.last(rounds) else { return false };
                let before = rounds[..nth].iter().rev().find(|round| round.season == *season);
                self.season == *season
                    && self.from <= rounds[nth].last_day
                    && before.is_none_or(|before| self.to > before.last_day)
            }
        }
    }
}

/// The last round that was over before a day, and the first that began after it.
fn around(rounds: &[Round], day: Date) -> (Option<&Round>, Option<&Round>) {
    let before = rounds.iter().filter(|round| round.last_day < day);
    let after = rounds.iter().filter(|round| round.first_day > day);
    (before.max_by_key(|round| round.last_day), after.min_by_key(|round| round.first_day))
}

fn during(rounds: &[Round], from: Date, to: Date) -> Option<&Round> {
    rounds.iter().find(|round| round.first_day <= to && from <= round.last_day)
}

fn at(rounds: &[Round], stops: &[Moment], season: Season, day: Date) -> f64 {
    let stop = |round: &Round| {
        let moment = Moment::from(round);
        stops.iter().position(|one| *one == moment).map_or(0.0, |nth| nth as f64)
    };
    if let Some(round) = during(rounds, day, day) {
        return stop(round);
    }
    match around(rounds, day) {
        (None, _) => 0.0,
        (Some(before), None) => stop(before) + 0.5,
        (Some(before), Some(after)) if before.season == after.season => {
            let (from, to) = (stop(before), stop(after));
            let days = (after.first_day - before.last_day).whole_days() as f64;
            from + (to - from) * (day - before.last_day).whole_days() as f64 / days
        }
        // Between two seasons stands the stop of the earlier one as a whole.
        (Some(before), Some(_)) if before.season == season => stop(before) + 0.5,
        (Some(_), Some(after)) => stop(after) - 0.5,
    }
}

fn between(plot: &Plot, rounds: &[Round], event: &Event) -> String {
    let name = |round: &Round| match &round.key {
        RoundKey::Named(name) => {
            say!("round {name} of {season}", season = words::season_name(plot, round.season))
        }
        RoundKey::Dated(day) => say!("the round of {day}", day = words::day(*day)),
    };
    if let Some(round) = during(rounds, event.from, event.to) {
        return say!("during {round}", round = name(round));
    }
    match around(rounds, event.from) {
        (None, None) => say!("no round was walked").to_owned(),
        (None, Some(_)) => say!("before the first round").to_owned(),
        (Some(_), None) => say!("after the last round").to_owned(),
        (Some(before), Some(after)) => {
            say!("between {before} and {after}", before = name(before), after = name(after))
        }
    }
}
