//! What the weather of a season allowed a disease to do, before it could be seen.

use plot::disease::WeatherRule;
use plot::{Plot, Season, Weather};
use time::{Date, Duration, Month};

use crate::{Outcome, WetnessSpell, blossom_days, favourable_months, wetness_spells};

/// Which rule tells what the weather allowed; the disease's profile names it and has its numbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rule {
    /// Infection periods by hours of wetness ([`wetness_spells`]).
    Wetness,
    /// Days on which open flowers could be infected ([`blossom_days`]).
    OpenFlowers,
    /// Months that favour a disease ([`favourable_months`]).
    FavourableMonths,
}

impl Rule {
    fn of(rule: &WeatherRule) -> Self {
        match rule {
            WeatherRule::Wetness(_) => Self::Wetness,
            WeatherRule::OpenFlowers(_) => Self::OpenFlowers,
            WeatherRule::FavourableMonths(_) => Self::FavourableMonths,
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
    let disease = plot.disease(disease)?;
    let rule = disease.weather.as_ref()?;
    let (first, last) = season.days(plot.head().season_starts_month);
    let seen =
        last_look.map(|look| look.saturating_sub(Duration::days(disease.unseen_days.into())));
    let end = seen.map_or(last, |seen| seen.min(last));
    let south = match &plot.head().origin {
        Some(origin) => origin.lat < 0.0,
        None => plot.head().season_starts_month > 6,
    };
    let at_risk = |day: Date| {
        disease.months_at_risk.is_none_or(|months| months.holds(day.month().into(), south))
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
        WeatherRule::Wetness(rule) => {
            let spells = wetness_spells(weather, rule).into_iter();
            let of_days = spells.filter(|it| is_within(it.spell.first.date()));
            counted(of_days.map(|spell| infection(&spell)))
        }
        WeatherRule::OpenFlowers(rule) => {
            let days = blossom_days(weather, from..=to, rule).into_iter();
            counted(days.filter(|it| is_within(it.date)).map(|it| it.infection()))
        }
        WeatherRule::FavourableMonths(rule) => {
            let middle = |year: i32, month: Month| Date::from_calendar_date(year, month, 15).ok();
            let months = favourable_months(weather, rule).into_iter();
            let within = months.filter(|it| middle(it.year, it.month).is_some_and(is_within));
            counted(within.map(|month| month.favours(rule)))
        }
    };
    let known = hours as f64 / (24 * days.len()) as f64;
    Some(Allowed { rule: Rule::of(rule), from, to, periods, unclear, known })
}

/// Whether a spell was enough, for ascospores or for conidia.
fn infection(spell: &WetnessSpell) -> Option<bool> {
    match (verdict(spell.ascospores), verdict(spell.conidia)) {
        (Some(true), _) | (_, Some(true)) => Some(true),
        (Some(false), Some(false)) => Some(false),
        _ => None,
    }
}

/// Beyond its ends the table says nothing.
fn verdict<T>(outcome: Outcome<T>) -> Option<bool> {
    match outcome {
        Outcome::Reached(_) => Some(true),
        Outcome::NotReached => Some(false),
        Outcome::OffTable | Outcome::CannotTell => None,
    }
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
