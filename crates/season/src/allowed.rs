//! What the weather of a season allowed a disease to do, before it could be seen.

use std::ops::RangeInclusive;

use plot::{Plot, Season, Weather};
use time::{Date, Duration, Month};

use crate::{Outcome, blossom_days, canker_months, scab_spells};

/// Which rule tells what the weather allowed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rule {
    /// Infection periods of scab, by ascospores or conidia ([`scab_spells`]).
    ScabWetness,
    /// Days on which open flowers could be infected with fire blight ([`blossom_days`]).
    Blossoms,
    /// Months that favour canker ([`canker_months`]).
    CankerMonths,
}

impl Rule {
    /// The rule of a disease by its name in traits; none: nothing is known of its weather here.
    pub fn of_disease(disease: &str) -> Option<Self> {
        match disease {
            "scab" => Some(Self::ScabWetness),
            "fire_blight" => Some(Self::Blossoms),
            "canker" => Some(Self::CankerMonths),
            _ => None,
        }
    }

    /// The months in which there is something to infect, in the northern half of the earth: leaves
    /// from April to October, flowers in April and May, leaf scars and wounds all the year. *Common
    /// practice, no source*; half a year later in the southern half.
    fn months(self) -> Option<RangeInclusive<u8>> {
        match self {
            Self::ScabWetness => Some(4..=10),
            Self::Blossoms => Some(4..=5),
            Self::CankerMonths => None,
        }
    }

    /// Days before the last look from which on an infection could not be seen yet. Scab: 9, the
    /// shortest time to lesions of the table after Stensvand et al. 1997 and Carisse 2006. Fire
    /// blight and canker: none is taken (no source read).
    fn unseen_days(self) -> i64 {
        match self {
            Self::ScabWetness => 9,
            Self::Blossoms | Self::CankerMonths => 0,
        }
    }
}

/// What the weather of some days allowed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Allowed {
    /// Which rule told it.
    pub rule: Rule,
    /// The first of these days.
    pub from: Date,
    /// The last of these days; months between without anything to infect are none of them.
    pub to: Date,
    /// Infection periods, days of infection, or months that favoured it.
    pub periods: usize,
    /// Those of which the record cannot tell.
    pub unclear: usize,
    /// The share of the hours of these days that the record holds, 0 to 1.
    pub known: f64,
}

/// What the weather allowed in a season, from the month in which there is something to infect to
/// the last day whose infections could have been seen by `last_look` (none: the season's end).
///
/// None: the disease has no rule here, the record holds no hour of these days, or there is no such
/// day. Which half of the earth the plot lies in is told by its latitude, without one by whether
/// its seasons start in the second half of the year.
pub fn allowed(
    plot: &Plot,
    weather: &Weather,
    disease: &str,
    season: Season,
    last_look: Option<Date>,
) -> Option<Allowed> {
    let rule = Rule::of_disease(disease)?;
    let (first, last) = season.days(plot.head().season_starts_month);
    let seen = last_look.map(|look| look.saturating_sub(Duration::days(rule.unseen_days())));
    let end = seen.map_or(last, |seen| seen.min(last));
    let south = match &plot.head().origin {
        Some(origin) => origin.lat < 0.0,
        None => plot.head().season_starts_month > 6,
    };
    let at_risk = |day: Date| {
        rule.months().is_none_or(|months| {
            let month = u8::from(day.month());
            months.contains(&if south { (month + 5) % 12 + 1 } else { month })
        })
    };
    let days: Vec<Date> = std::iter::successors(Some(first), |day| day.next_day())
        .take_while(|day| *day <= end)
        .filter(|day| at_risk(*day))
        .collect();
    let (&from, &to) = (days.first()?, days.last()?);
    let is_within = |day: Date| days.binary_search(&day).is_ok();
    let hours = weather.days(from, to).iter().filter(|hour| is_within(hour.at.date())).count();
    if hours == 0 {
        return None;
    }
    let (periods, unclear) = match rule {
        Rule::ScabWetness => scab(weather, is_within),
        Rule::Blossoms => {
            let days = blossom_days(weather, from..=to).into_iter();
            counted(days.filter(|it| is_within(it.date)).map(|it| it.infection()))
        }
        Rule::CankerMonths => canker(weather, is_within),
    };
    let known = hours as f64 / (24 * days.len()) as f64;
    Some(Allowed { rule, from, to, periods, unclear, known })
}

/// Spells that begin on these days, enough for ascospores or for conidia.
fn scab(weather: &Weather, is_within: impl Fn(Date) -> bool) -> (usize, usize) {
    let of_days = scab_spells(weather).into_iter().filter(|it| is_within(it.spell.first.date()));
    counted(of_days.map(|spell| {
        let (spores, conidia) = (verdict(spell.ascospores), verdict(spell.conidia));
        match (spores, conidia) {
            (Some(true), _) | (_, Some(true)) => Some(true),
            (Some(false), Some(false)) => Some(false),
            _ => None,
        }
    }))
}

/// Beyond its ends the table says nothing.
fn verdict<T>(outcome: Outcome<T>) -> Option<bool> {
    match outcome {
        Outcome::Reached(_) => Some(true),
        Outcome::NotReached => Some(false),
        Outcome::OffTable | Outcome::CannotTell => None,
    }
}

/// Months of which the middle lies within these days.
fn canker(weather: &Weather, is_within: impl Fn(Date) -> bool) -> (usize, usize) {
    let middle = |year: i32, month: Month| Date::from_calendar_date(year, month, 15).ok();
    let within = canker_months(weather)
        .into_iter()
        .filter(|it| middle(it.year, it.month).is_some_and(&is_within));
    counted(within.map(|month| month.favours()))
}

/// How many were so, and of how many that is not known.
fn counted(told: impl Iterator<Item = Option<bool>>) -> (usize, usize) {
    told.fold((0, 0), |(yes, unknown), one| match one {
        Some(true) => (yes + 1, unknown),
        Some(false) => (yes, unknown),
        None => (yes, unknown + 1),
    })
}

#[cfg(test)]
mod tests;
