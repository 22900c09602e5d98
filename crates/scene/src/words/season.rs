//! How much a season tested, in a few sentences.

use ::season::{Allowed, Rule, Seen, Strength, Surprise, Tested, ToldBy};
use plot::{Plot, Weather, When};
use proof::SeasonStrength;
use time::Date;

use super::{count, day, disease, percent, season_name, share_of};

/// How much a season tested, and what the weather allowed in it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SeasonTest {
    /// How much, and why one thinks so.
    pub tested: Tested,
    /// What the weather allowed; none: the record does not hold it.
    pub allowed: Option<Allowed>,
}

/// Joins what a season saw of a disease with what the weather allowed up to the last look.
pub fn season_test(plot: &Plot, weather: &Weather, of: &str, seen: &SeasonStrength) -> SeasonTest {
    let last_look = seen.last_look.map(When::date);
    let allowed = ::season::allowed(plot, weather, of, seen.season, last_look);
    let counts = Seen {
        trees: seen.scored,
        infected: seen.infected,
        checks: seen.checks_scored,
        checks_infected: seen.checks_infected,
    };
    SeasonTest { tested: ::season::strength(&counts, allowed.as_ref()), allowed }
}

/// The word for how hard a season tested.
pub fn strength(strength: Strength) -> &'static str {
    match strength {
        Strength::Unknown => "cannot tell",
        Strength::Quiet => "quiet",
        Strength::Fair => "fair",
        Strength::Strong => "strong",
    }
}

/// `In 2031 only 1 of 12 susceptible checks took scab: this season was quiet, it tests little.`, and
/// what the weather allowed.
pub fn season(plot: &Plot, of: &str, seen: &SeasonStrength, test: &SeasonTest) -> Vec<String> {
    let (of, name) = (disease(plot, of), season_name(plot, seen.season));
    let mut lines = vec![told(&of, &name, seen, &test.tested)];
    lines.extend(test.allowed.as_ref().map(|allowed| said_of_weather(&of, allowed)));
    lines.extend(sprayed(seen));
    lines.extend(test.tested.surprise.map(|surprise| said_of_surprise(&of, surprise).to_owned()));
    lines
}

fn told(of: &str, name: &str, seen: &SeasonStrength, tested: &Tested) -> String {
    let all = seen.checks_scored;
    let checks = match (all, seen.checks_infected) {
        (1, 0) => format!("the only susceptible check stayed free of {of}"),
        (1, _) => format!("the only susceptible check took {of}"),
        (all, some) => format!("{} susceptible checks took {of}", share_of(some, all)),
    };
    let trees = format!("{} took {of}", trees(seen));
    match (tested.told_by, tested.strength) {
        (ToldBy::Checks, Strength::Quiet) if seen.checks_infected == 0 => {
            format!("In {name}, {checks}: this season was quiet, it tests nothing.")
        }
        (ToldBy::Checks, Strength::Quiet) => {
            format!("In {name} only {checks}: this season was quiet, it tests little.")
        }
        (ToldBy::Checks, Strength::Fair) => {
            format!("In {name}, {checks}: this season is a fair test.")
        }
        (ToldBy::Checks, _) => format!("In {name}, {checks}: this season is a strong test."),
        (ToldBy::Trees, strength) => {
            let beside = if all == 0 { String::new() } else { format!(" ({checks})") };
            let word = self::strength(strength);
            format!("In {name}, {trees}{beside}: this season is a {word} test.")
        }
        (ToldBy::Weather, _) => format!(
            "In {name} the weather allowed no infection: this season was quiet, it tests nothing."
        ),
        (ToldBy::Nothing, _) if seen.scored == 0 && seen.sprayed > 0 => format!(
            "In {name} all that was looked at for {of} had been sprayed before. How hard this \
             season tested cannot be said."
        ),
        (ToldBy::Nothing, _) if seen.scored == 0 => {
            format!("In {name} nobody looked for {of}. How hard this season tested cannot be said.")
        }
        (ToldBy::Nothing, _) if all > 0 => format!(
            "In {name}, {checks}, and {trees}: so few checks cannot tell how hard this season \
             tested."
        ),
        (ToldBy::Nothing, _) => format!(
            "In {name} no susceptible check was scored{}; {trees}. How hard this season tested \
             cannot be said.",
            if seen.sprayed > 0 { " that had not been sprayed" } else { "" }
        ),
    }
}

fn sprayed(seen: &SeasonStrength) -> Option<String> {
    match seen.sprayed {
        0 => None,
        1 => Some("The clean looks of 1 tree after a spray are no test.".to_owned()),
        more => Some(format!("The clean looks of {more} trees after a spray are no test.")),
    }
}

fn trees(seen: &SeasonStrength) -> String {
    match seen.infected {
        0 => format!("none of {}", count(seen.scored, "tree")),
        some => format!("{some} of {}", count(seen.scored, "tree")),
    }
}

fn said_of_weather(of: &str, allowed: &Allowed) -> String {
    let n = allowed.periods;
    let what = match allowed.rule {
        Rule::Wetness => match n {
            0 => format!("no wetness long and warm enough for {of}"),
            1 => format!("1 infection period of {of}"),
            n => format!("{n} infection periods of {of}"),
        },
        Rule::OpenFlowers => match n {
            0 => "no day on which open flowers could be infected".to_owned(),
            1 => "1 day on which open flowers could be infected".to_owned(),
            n => format!("{n} days on which open flowers could be infected"),
        },
        Rule::FavourableMonths => match n {
            0 => format!("no month that favoured {of}"),
            1 => format!("1 month that favoured {of}"),
            n => format!("{n} months that favoured {of}"),
        },
    };
    let span = |first: Date, last: Date| format!("{} to {}", day(first), day(last));
    let mut line = format!("The weather from {} had {what}", span(allowed.from, allowed.to));
    if allowed.unclear > 0 {
        line.push_str(&format!("; of {} more the record does not tell", allowed.unclear));
    }
    if allowed.known < 1.0 {
        line.push_str(&format!("; it holds {} of the hours", percent(allowed.known)));
    }
    line + "."
}

fn said_of_surprise(of: &str, surprise: Surprise) -> String {
    match surprise {
        Surprise::AllowedAndQuiet => format!(
            "The weather would have allowed more than was seen: {of} was not about, or the checks \
             are no good ones."
        ),
        Surprise::NotAllowedAndSeen => {
            format!("That does not explain the {of} that was seen: is the station near, and sound?")
        }
    }
}
