//! How much a season tested, in a few sentences.

use ::season::{Allowed, Rule, Seen, Strength, Surprise, Tested, ToldBy};
use language::{count, say};
use plot::{Plot, Weather, When};
use proof::SeasonStrength;

use super::{day, disease, percent, season_name, share_of};

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
        Strength::Unknown => say!("cannot tell"),
        Strength::Quiet => say!("quiet"),
        Strength::Fair => say!("fair"),
        Strength::Strong => say!("strong"),
    }
}

/// `In 2031 only 1 of 12 susceptible checks took scab: this season was quiet, it tests little.`, and
/// what the weather allowed.
pub fn season(plot: &Plot, of: &str, seen: &SeasonStrength, test: &SeasonTest) -> Vec<String> {
    let (of, name) = (disease(plot, of), season_name(plot, seen.season));
    let mut lines = vec![told(&of, &name, seen, &test.tested)];
    lines.extend(test.allowed.as_ref().map(|allowed| said_of_weather(&of, allowed)));
    lines.extend(sprayed(seen));
    lines.extend(test.tested.surprise.map(|surprise| said_of_surprise(&of, surprise)));
    lines
}

fn told(of: &str, name: &str, seen: &SeasonStrength, tested: &Tested) -> String {
    let all = seen.checks_scored;
    let checks = match (all, seen.checks_infected) {
        (1, 0) => say!("the only susceptible check stayed free of {of}"),
        (1, _) => say!("the only susceptible check took {of}"),
        (all, some) => {
            say!("{share} susceptible checks took {of}", share = share_of(some, all))
        }
    };
    let trees = trees(of, seen);
    match (tested.told_by, tested.strength) {
        (ToldBy::Checks, Strength::Quiet) if seen.checks_infected == 0 => {
            say!("In {name}, {checks}: this season was quiet, it tests nothing.")
        }
        (ToldBy::Checks, Strength::Quiet) => {
            say!("In {name} only {checks}: this season was quiet, it tests little.")
        }
        (ToldBy::Checks, Strength::Fair) => {
            say!("In {name}, {checks}: this season is a fair test.")
        }
        (ToldBy::Checks, _) => say!("In {name}, {checks}: this season is a strong test."),
        (ToldBy::Trees, strength) => {
            let checks = if all == 0 { trees } else { format!("{trees} ({checks})") };
            match strength {
                Strength::Strong => say!("In {name}, {checks}: this season is a strong test."),
                // All trees together never tell that a season was quiet.
                _ => say!("In {name}, {checks}: this season is a fair test."),
            }
        }
        (ToldBy::Weather, _) => say!(
            "In {name} the weather allowed no infection: this season was quiet, it tests nothing."
        ),
        (ToldBy::Nothing, _) if seen.scored == 0 && seen.sprayed > 0 => say!(
            "In {name} all that was looked at for {of} had been sprayed before. How hard this \
             season tested cannot be said."
        ),
        (ToldBy::Nothing, _) if seen.scored == 0 => {
            say!("In {name} nobody looked for {of}. How hard this season tested cannot be said.")
        }
        (ToldBy::Nothing, _) if all > 0 => say!(
            "In {name}, {checks}, and {trees}: so few checks cannot tell how hard this season \
             tested."
        ),
        (ToldBy::Nothing, _) if seen.sprayed > 0 => say!(
            "In {name} no susceptible check was scored that had not been sprayed; {trees}. How \
             hard this season tested cannot be said."
        ),
        (ToldBy::Nothing, _) => say!(
            "In {name} no susceptible check was scored; {trees}. How hard this season tested \
             cannot be said."
        ),
    }
}

fn sprayed(seen: &SeasonStrength) -> Option<String> {
    (seen.sprayed > 0).then(|| {
        count!(
            seen.sprayed,
            "The clean looks of 1 tree after a spray are no test.",
            "The clean looks of {trees} trees after a spray are no test.",
            trees = seen.sprayed
        )
    })
}

fn trees(of: &str, seen: &SeasonStrength) -> String {
    let (some, all) = (seen.infected, seen.scored);
    match some {
        0 => count!(all, "none of 1 tree took {of}", "none of {all} trees took {of}"),
        some => count!(all, "{some} of 1 tree took {of}", "{some} of {all} trees took {of}"),
    }
}

fn said_of_weather(of: &str, allowed: &Allowed) -> String {
    let n = allowed.periods;
    let what = match allowed.rule {
        Rule::Wetness if n == 0 => say!("no wetness long and warm enough for {of}"),
        Rule::Wetness => count!(n, "1 infection period of {of}", "{n} infection periods of {of}"),
        Rule::OpenFlowers if n == 0 => {
            say!("no day on which open flowers could be infected").to_owned()
        }
        Rule::OpenFlowers => count!(
            n,
            "1 day on which open flowers could be infected",
            "{n} days on which open flowers could be infected"
        ),
        Rule::FavourableMonths if n == 0 => say!("no month that favoured {of}"),
        Rule::FavourableMonths => {
            count!(n, "1 month that favoured {of}", "{n} months that favoured {of}")
        }
    };
    let (from, to) = (day(allowed.from), day(allowed.to));
    let mut line = say!("The weather from {from} to {to} had {what}");
    if allowed.unclear > 0 {
        line = say!("{line}; of {n} more the record does not tell", n = allowed.unclear);
    }
    if allowed.known < 1.0 {
        line = say!("{line}; it holds {share} of the hours", share = percent(allowed.known));
    }
    line + "."
}

fn said_of_surprise(of: &str, surprise: Surprise) -> String {
    match surprise {
        Surprise::AllowedAndQuiet => say!(
            "The weather would have allowed more than was seen: {of} was not about, or the checks \
             are no good ones."
        ),
        Surprise::NotAllowedAndSeen => {
            say!("That does not explain the {of} that was seen: is the station near, and sound?")
        }
    }
}
