//! Which wetness spells were long and warm enough for an infection, as with apple scab.

use plot::disease::{Night, Wetness};
use plot::{LocalHour, Weather, WeatherHour};

use crate::needed::{Needed, needed};
use crate::{Spell, is_wet, reaches, spells};

/// A wetness spell, and what it was enough for.
#[derive(Clone, Debug, PartialEq)]
pub struct WetnessSpell {
    /// The spell, joined over dry gaps shorter than the rule has it.
    pub spell: Spell,
    /// Rain in all its hours, mm; none where it was not measured in any of them.
    pub rain_mm: Option<f64>,
    /// What counts for ascospores, by the night rule ([`counts_from`]).
    pub for_ascospores: Exposure,
    /// What counts for conidia: all of it.
    pub for_conidia: Exposure,
    /// Infection by ascospores.
    pub ascospores: Outcome<Grade>,
    /// Infection by conidia; never reached where the table does not tell of them.
    pub conidia: Outcome<Sureness>,
}

/// Wet hours that count, and their temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Exposure {
    /// Wet hours.
    pub hours: u32,
    /// Half way between the lowest and the highest temperature of these hours, °C; none where it
    /// was not measured in any of them.
    pub temp_c: Option<f64>,
    /// Hours among them without a temperature.
    pub hours_without_temp: u32,
}

/// Whether a spell was enough for an infection.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Outcome<T> {
    /// It was enough. That says nothing of inoculum, young tissue or the sort.
    Reached(T),
    /// It was not.
    NotReached,
    /// It was colder or warmer than the table.
    OffTable,
    /// Hours or temperatures are not known that would decide.
    CannotTell,
}

/// What the table calls an infection. The words are those of its columns; as names of damage they
/// are no longer recommended, since damage depends on inoculum, tissue and sort.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Grade {
    /// At least the hours of the column *light*.
    Light,
    /// At least those of *moderate*.
    Moderate,
    /// At least those of *severe*.
    Severe,
}

/// How sure an infection by conidia is, where the table gives a range of hours.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Sureness {
    /// At least the lower number of hours.
    Possible,
    /// At least the higher one.
    Certain,
}

/// The wetness spells of a record in order of time, each judged by the rule of a disease; also
/// those that were not enough.
///
/// Wet hours of joined spells are added, dry ones between them are not counted. Temperature is
/// (lowest + highest)/2 during the wetness. Needed hours: [`needed`].
pub fn wetness_spells(weather: &Weather, rule: &Wetness) -> Vec<WetnessSpell> {
    let hours = weather.hours();
    let spells = spells(hours, rule.break_hours).into_iter();
    spells.map(|spell| judged(spell, hours, rule)).collect()
}

/// The hour from which a spell that begins at `first` counts for ascospores: in the night the next
/// morning, else `first`, since nearly all ascospores are set free by day.
pub fn counts_from(first: LocalHour, night: Night) -> LocalHour {
    let (hour, morning) = (first.of_day(), night.counts_from_hour);
    let wait = match hour {
        hour if hour < morning => morning - hour,
        hour if hour >= night.from_hour => 24 + morning - hour,
        _ => 0,
    };
    first.plus(i32::from(wait)).unwrap_or(first)
}

fn judged(spell: Spell, hours: &[WeatherHour], rule: &Wetness) -> WetnessSpell {
    let hours = &hours[spell.within.clone()];
    let from = rule.night.map_or(spell.first, |night| counts_from(spell.first, night));
    let for_conidia = exposure(hours.iter());
    let for_ascospores = exposure(hours.iter().filter(|hour| hour.at >= from));
    let unknown = spell.unknown_hours;
    let ascospores = outcome(&for_ascospores, unknown, rule, |hours, needed| {
        let grades = [
            (needed.severe_hours, Grade::Severe),
            (needed.moderate_hours, Grade::Moderate),
            (Some(needed.hours), Grade::Light),
        ];
        let reached = |limit: Option<f64>| limit.is_some_and(|limit| reaches(hours, limit));
        grades.into_iter().find(|(limit, _)| reached(*limit)).map(|(_, grade)| grade)
    });
    let conidia = |hours: f64, needed: &Needed| {
        let span = needed.conidia_hours?;
        match (reaches(hours, span.most), reaches(hours, span.least)) {
            (true, _) => Some(Sureness::Certain),
            (_, true) => Some(Sureness::Possible),
            _ => None,
        }
    };
    let conidia = match rule.table.iter().any(|line| line.conidia_hours.is_some()) {
        true => outcome(&for_conidia, unknown, rule, conidia),
        false => Outcome::NotReached,
    };
    let rain = || hours.iter().filter_map(|hour| hour.rain_mm);
    let rain_mm = rain().next().map(|_| rain().sum());
    WetnessSpell { spell, rain_mm, for_ascospores, for_conidia, ascospores, conidia }
}

fn exposure<'a>(hours: impl Iterator<Item = &'a WeatherHour>) -> Exposure {
    let (mut count, mut unknown) = (0, 0);
    let mut span: Option<(f64, f64)> = None;
    for hour in hours.filter(|hour| is_wet(hour) == Some(true)) {
        count += 1;
        match (hour.temp_c, span) {
            (None, _) => unknown += 1,
            (Some(temp_c), None) => span = Some((temp_c, temp_c)),
            (Some(temp_c), Some((low, high))) => {
                span = Some((low.min(temp_c), high.max(temp_c)));
            }
        }
    }
    let temp_c = span.map(|(low, high)| (low + high) / 2.0);
    Exposure { hours: count, temp_c, hours_without_temp: unknown }
}

/// `reached` tells what so many hours are enough for. Hours that are not known may have been wet:
/// where they would make the difference, nothing is told.
fn outcome<T>(
    exposure: &Exposure,
    unknown_hours: u32,
    rule: &Wetness,
    reached: impl Fn(f64, &Needed) -> Option<T>,
) -> Outcome<T> {
    let with_unknown = exposure.hours + unknown_hours;
    if with_unknown == 0 {
        return Outcome::NotReached;
    }
    let Some(temp_c) = exposure.temp_c else { return Outcome::CannotTell };
    let Some(needed) = needed(&rule.table, temp_c) else { return Outcome::OffTable };
    match reached(f64::from(exposure.hours), &needed) {
        Some(what) => Outcome::Reached(what),
        None if reached(f64::from(with_unknown), &needed).is_some() => Outcome::CannotTell,
        None => Outcome::NotReached,
    }
}

#[cfg(test)]
mod tests;
