//! `leeward season`: how hard each season tested, and what the weather allowed in it.

use ::season::{Strength, ToldBy};
use clap::Args;
use files::Book;
use plot::Season;
use proof::SeasonStrength;
use scene::words;
use std::collections::BTreeSet;

use crate::Answer;
use crate::asked::Asked;
use crate::folder::Folder;
use crate::judge;
use crate::table::Table;

const COLUMNS: &[&str] = &[
    "season",
    "disease",
    "strength",
    "told_by",
    "rounds",
    "trees_scored",
    "trees_infected",
    "checks_scored",
    "checks_infected",
    "weather_from",
    "weather_to",
    "infections_allowed",
    "infections_unclear",
    "hours_known",
];

/// How hard each season tested, and what the weather allowed in it: one line for each season.
#[derive(Args)]
pub(crate) struct Call {
    #[command(flatten)]
    asked: Asked,
}

/// Joins checks, trees and weather, and prints. 1 where no season was a fair or strong test.
///
/// # Errors
/// A folder with faults, a disease that no trait counts for.
pub(crate) fn run(call: &Call) -> anyhow::Result<Answer> {
    let book = Folder::sound(&call.asked.plot)?;
    let plot = book.plot();
    let mut table = Table::new(COLUMNS);
    let mut any_tested = false;
    for seen in seasons(&book, &call.asked.disease)? {
        let test = words::season_test(plot, book.weather(), &call.asked.disease, &seen);
        any_tested |= test.tested.strength >= Strength::Fair;
        let allowed = test.allowed;
        table.push(vec![
            words::season_name(plot, seen.season).into(),
            call.asked.disease.as_str().into(),
            words::strength(test.tested.strength).into(),
            told_by(test.tested.told_by).into(),
            seen.rounds.into(),
            seen.scored.into(),
            seen.infected.into(),
            seen.checks_scored.into(),
            seen.checks_infected.into(),
            allowed.map(|it| it.from.to_string()).into(),
            allowed.map(|it| it.to.to_string()).into(),
            allowed.map(|it| it.periods).into(),
            allowed.map(|it| it.unclear).into(),
            allowed.map(|it| it.known).into(),
        ]);
        eprintln!("{}", words::season(plot, &call.asked.disease, &seen, &test).join(" "));
    }
    table.print(call.asked.format)?;
    Ok(if any_tested { Answer::Done } else { Answer::No })
}

/// Seasons in which somebody looked, or of which the weather was written down, in order.
fn seasons(book: &Book, disease: &str) -> anyhow::Result<Vec<SeasonStrength>> {
    let plot = book.plot();
    let mut seasons = judge::run_of(plot, disease, &[])?.seasons();
    let starts = plot.head().season_starts_month;
    let recorded: BTreeSet<Season> =
        book.weather().hours().iter().map(|hour| Season::of(hour.at.date(), starts)).collect();
    let looked: BTreeSet<Season> = seasons.iter().map(|seen| seen.season).collect();
    seasons.extend(recorded.difference(&looked).map(|&season| SeasonStrength::unseen(season)));
    seasons.sort_by_key(|seen| seen.season);
    Ok(seasons)
}

fn told_by(told_by: ToldBy) -> &'static str {
    match told_by {
        ToldBy::Checks => "checks",
        ToldBy::Trees => "trees",
        ToldBy::Weather => "weather",
        ToldBy::Nothing => "nothing",
    }
}
