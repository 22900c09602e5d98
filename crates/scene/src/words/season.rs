//! How much a season tested, in one sentence.

use plot::Plot;
use proof::SeasonStrength;

use super::{count, disease, season_name, share_of};

/// How hard a season tested, by the share of susceptible checks that took the disease.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Strength {
    /// No susceptible check was scored: nothing says how hard.
    Unknown,
    /// No check took it.
    Nothing,
    /// At most 30 % did. At that rate it takes nine clean seasons to bring a tree's chance of an
    /// escape to 5 % (0.7⁹ = 0.04).
    Little,
    /// At most 70 % did.
    Fair,
    /// More did.
    Hard,
}

/// The limits are common practice, without a source.
pub fn strength(season: &SeasonStrength) -> Strength {
    if season.checks_scored == 0 {
        return Strength::Unknown;
    }
    match season.checks_infected as f64 / season.checks_scored as f64 {
        0.0 => Strength::Nothing,
        share if share <= 0.3 => Strength::Little,
        share if share <= 0.7 => Strength::Fair,
        _ => Strength::Hard,
    }
}

/// `In 2031 only 1 of 12 susceptible checks took scab: this season tests little.`
pub fn season(plot: &Plot, of: &str, season: &SeasonStrength) -> String {
    let (of, name) = (disease(of), season_name(plot, season.season));
    let checks = |all: usize| if all == 1 { "susceptible check" } else { "susceptible checks" };
    let share = share_of(season.checks_infected, season.checks_scored);
    let checks = format!("{share} {} took {of}", checks(season.checks_scored));
    match strength(season) {
        Strength::Unknown => format!(
            "In {name} no susceptible check was scored; {} took {of}. How hard this season tested \
             cannot be said.",
            trees(season)
        ),
        Strength::Nothing => format!("In {name}, {checks}: this season tests nothing."),
        Strength::Little => format!("In {name} only {checks}: this season tests little."),
        Strength::Fair => format!("In {name}, {checks}: this season is a fair test."),
        Strength::Hard => format!("In {name}, {checks}: this season tests hard."),
    }
}

fn trees(season: &SeasonStrength) -> String {
    match season.infected {
        0 => format!("none of {}", count(season.scored, "tree")),
        some => format!("{some} of {}", count(season.scored, "tree")),
    }
}
