//! How hard a season tested: what the checks and the whole plot took, beside what the weather
//! allowed.

use crate::{Allowed, Rule};

/// How hard a season tested.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Strength {
    /// Nothing tells.
    Unknown,
    /// Of susceptible trees at most 30 % took the disease. At that rate it takes nine clean seasons
    /// to bring a tree's chance of an escape to 5 % (0.7⁹ = 0.04).
    Quiet,
    /// At most 70 % did.
    Fair,
    /// More did: three such seasons are enough (0.3³ = 0.03).
    Strong,
}

/// What tells it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ToldBy {
    /// The susceptible checks.
    Checks,
    /// All trees together: at least so many of the susceptible ones took the disease.
    Trees,
    /// The weather, which allowed no infection.
    Weather,
    /// Nothing.
    Nothing,
}

/// What was seen in a season.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Seen {
    /// Trees scored, checks among them.
    pub trees: usize,
    /// Of these, seen infected.
    pub infected: usize,
    /// Susceptible checks scored.
    pub checks: usize,
    /// Of these, seen infected.
    pub checks_infected: usize,
}

/// How hard a season tested, and why one thinks so.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Tested {
    /// How hard.
    pub strength: Strength,
    /// What tells it.
    pub told_by: ToldBy,
    /// Weather and trees say different things.
    pub surprise: Option<Surprise>,
}

/// Weather and trees say different things. What was seen decides; this is worth a thought.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Surprise {
    /// The weather allowed infections, and hardly a tree took the disease.
    AllowedAndQuiet,
    /// The weather allowed none for sure, and trees took the disease.
    NotAllowedAndSeen,
}

/// Checks that are needed to tell anything by them alone: of two, chance makes both diseased, or
/// both clean, too easily. *Common practice, no source.*
const ENOUGH_CHECKS: usize = 3;

/// Trees that are needed to tell anything by all of them. *Common practice, no source.*
const ENOUGH_TREES: usize = 10;

/// Limits of the share of susceptible trees that took the disease. *Common practice, no source.*
const QUIET_AT_MOST: f64 = 0.3;
const FAIR_AT_MOST: f64 = 0.7;

/// How hard a season tested.
///
/// What was seen decides: the share of susceptible checks, or of all trees where that is higher,
/// since of the susceptible at least as many must have taken the disease as of all. A low share of
/// all trees alone tells nothing: they may resist. Too few of either tell nothing: a walk's first
/// tree makes no season. Weather decides only where nothing else tells,
/// and only that a season was quiet: an infection period says nothing of inoculum.
pub fn strength(seen: &Seen, allowed: Option<&Allowed>) -> Tested {
    let by_checks = level(seen.checks_infected, seen.checks, ENOUGH_CHECKS);
    let by_trees = match level(seen.infected, seen.trees, ENOUGH_TREES) {
        Strength::Quiet => Strength::Unknown,
        level => level,
    };
    let never_allowed = allowed.is_some_and(|it| {
        // The other rules know blossoms alone, and months that only favour a disease.
        let is_whole = it.rule == Rule::Wetness && it.known >= 1.0;
        is_whole && it.periods == 0 && it.unclear == 0
    });
    let (strength, told_by) = if by_checks >= by_trees && by_checks > Strength::Unknown {
        (by_checks, ToldBy::Checks)
    } else if by_trees > Strength::Unknown {
        (by_trees, ToldBy::Trees)
    } else if never_allowed && seen.infected == 0 {
        (Strength::Quiet, ToldBy::Weather)
    } else {
        (Strength::Unknown, ToldBy::Nothing)
    };
    let surprise = match strength {
        Strength::Quiet
            if told_by == ToldBy::Checks && allowed.is_some_and(|it| it.periods > 0) =>
        {
            Some(Surprise::AllowedAndQuiet)
        }
        _ if never_allowed && seen.infected > 0 => Some(Surprise::NotAllowedAndSeen),
        _ => None,
    };
    Tested { strength, told_by, surprise }
}

fn level(infected: usize, of: usize, enough: usize) -> Strength {
    if of < enough {
        return Strength::Unknown;
    }
    match infected as f64 / of as f64 {
        share if share <= QUIET_AT_MOST => Strength::Quiet,
        share if share <= FAIR_AT_MOST => Strength::Fair,
        _ => Strength::Strong,
    }
}

#[cfg(test)]
mod tests {
    use plot::When;

    use super::strength as strength_of;
    use super::*;

    fn seen(trees: (usize, usize), checks: (usize, usize)) -> Seen {
        Seen { infected: trees.0, trees: trees.1, checks_infected: checks.0, checks: checks.1 }
    }

    fn weather(periods: usize, unclear: usize, known: f64) -> Allowed {
        let day = |text| When::parse_date(text).expect("a day");
        let (from, to) = (day("2031-04-01"), day("2031-09-01"));
        Allowed { rule: Rule::Wetness, from, to, periods, unclear, known }
    }

    #[test]
    fn what_was_seen_decides() {
        let check = |seen: Seen, strength, told_by| {
            let tested = strength_of(&seen, None);
            assert_eq!((tested.strength, tested.told_by), (strength, told_by), "{seen:?}");
        };
        check(seen((0, 0), (0, 0)), Strength::Unknown, ToldBy::Nothing);
        check(seen((34, 900), (0, 12)), Strength::Quiet, ToldBy::Checks);
        check(seen((34, 900), (3, 10)), Strength::Quiet, ToldBy::Checks);
        check(seen((34, 900), (4, 10)), Strength::Fair, ToldBy::Checks);
        check(seen((34, 900), (8, 10)), Strength::Strong, ToldBy::Checks);
        // One check or two tell nothing, whatever they took; many trees do.
        check(seen((34, 900), (2, 2)), Strength::Unknown, ToldBy::Nothing);
        check(seen((34, 900), (0, 2)), Strength::Unknown, ToldBy::Nothing);
        check(seen((34, 900), (3, 3)), Strength::Strong, ToldBy::Checks);
        check(seen((800, 900), (2, 2)), Strength::Strong, ToldBy::Trees);
        // Nor do the first trees of a walk.
        check(seen((1, 1), (1, 1)), Strength::Unknown, ToldBy::Nothing);
        check(seen((9, 9), (2, 2)), Strength::Unknown, ToldBy::Nothing);
        check(seen((10, 10), (2, 2)), Strength::Strong, ToldBy::Trees);
        check(seen((400, 900), (0, 2)), Strength::Fair, ToldBy::Trees);
        // Few of all trees may be resistance.
        check(seen((34, 900), (0, 0)), Strength::Unknown, ToldBy::Nothing);
    }

    #[test]
    fn weather_only_tells_that_a_season_was_quiet() {
        let check = |seen: Seen, weather: Allowed, strength, surprise| {
            let tested = strength_of(&seen, Some(&weather));
            assert_eq!((tested.strength, tested.surprise), (strength, surprise), "{weather:?}");
        };
        let nobody = seen((0, 900), (0, 0));
        check(nobody, weather(0, 0, 1.0), Strength::Quiet, None);
        check(nobody, weather(5, 0, 1.0), Strength::Unknown, None);
        check(nobody, weather(0, 1, 1.0), Strength::Unknown, None);
        check(nobody, weather(0, 0, 0.9), Strength::Unknown, None);
        let (quiet, not) = (Some(Surprise::AllowedAndQuiet), Some(Surprise::NotAllowedAndSeen));
        check(seen((5, 900), (0, 12)), weather(5, 0, 1.0), Strength::Quiet, quiet);
        check(seen((500, 900), (0, 0)), weather(0, 0, 1.0), Strength::Fair, not);
        check(seen((500, 900), (9, 12)), weather(5, 0, 1.0), Strength::Strong, None);
        let blossoms = Allowed { rule: Rule::OpenFlowers, ..weather(0, 0, 1.0) };
        check(nobody, blossoms, Strength::Unknown, None);
        check(seen((500, 900), (0, 0)), blossoms, Strength::Fair, None);
    }
}
