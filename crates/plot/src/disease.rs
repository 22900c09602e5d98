//! What is known of a disease, as data: what it is called, what is scored of it, which weather and
//! distances suit it, and what to mind.

mod weather_rule;

use std::ops::Deref;
use std::sync::Arc;

use crate::{Needs, Trait};

pub use weather_rule::{FavourableMonths, Night, OpenFlowers, WeatherRule, Wetness, WetnessLine};

/// The diseases that a plot knows: those that come with the program, and its own.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Diseases(Arc<[Disease]>);

/// What is known of a disease.
#[derive(Clone, Debug, PartialEq)]
pub struct Disease {
    /// Its name in `plot.json`.
    pub id: String,
    /// Other names that mean it.
    pub names: Vec<String>,
    /// What it is called amid a sentence, such as `fire blight`.
    pub label: String,
    /// What of a tree it attacks.
    pub organs: Vec<Organ>,
    /// What may be scored of it.
    pub traits: Vec<ProfileTrait>,
    /// What may be scored to know whether a tree was at risk; of no disease.
    pub conditions: Vec<Trait>,
    /// When there is something to infect; none: all the year.
    pub months_at_risk: Option<Months>,
    /// Days before a look within which an infection could not be seen yet.
    pub unseen_days: u16,
    /// How weather tells what could infect; none: no rule is known.
    pub weather: Option<WeatherRule>,
    /// How far it may travel.
    pub reach: Reach,
    /// What is usually rated when.
    pub rounds: Vec<UsualRound>,
    /// What to keep in mind, in whole sentences.
    pub cautions: Vec<String>,
    /// Whether it travels on tools and hands.
    pub is_on_tools: bool,
    /// Whether grafting wood of a diseased tree spreads it.
    pub is_in_grafting_wood: bool,
    /// The JSON by which the plot itself tells of it; none: it is as it comes with the program.
    pub own: Option<Arc<str>>,
}

/// What of a tree a disease attacks.
#[derive(Clone, Debug, PartialEq)]
pub struct Organ {
    /// Such as `leaves`.
    pub organ: String,
    /// When it can be infected, in words.
    pub stage: Option<String>,
}

/// A trait that a disease is scored by.
#[derive(Clone, Debug, PartialEq)]
pub struct ProfileTrait {
    /// The trait.
    pub one: Trait,
    /// Whether a new plot usually scores it.
    pub is_usual: bool,
    /// What a tree must have shown to be at risk, in a plot that scores that at all.
    pub needs_where_scored: Option<Needs>,
}

/// A part of the year in the northern half of the earth; half a year later in the southern half.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Months {
    /// The first month, 1 to 12.
    pub first: u8,
    /// The last; before the first where the new year lies between.
    pub last: u8,
}

/// How far a disease may travel: what is tried when a plot is judged.
#[derive(Clone, Debug, PartialEq)]
pub struct Reach {
    /// Distances over which the pressure of a diseased tree may halve, metres, rising; one at least.
    pub half_distances_m: Vec<f64>,
    /// The one that stands where a plot cannot tell, metres.
    pub usual_half_distance_m: f64,
}

/// A walk-through that is usual for a disease.
#[derive(Clone, Debug, PartialEq)]
pub struct UsualRound {
    /// When in the season, in words.
    pub stage: String,
    /// Ids of the traits that are rated.
    pub traits: Vec<String>,
}

impl Default for Reach {
    /// From splash to the next tree to spread over rows. Published gradients bound it: canker
    /// conidia mostly within 1 m (Campbell, Wallis & Walter 2023), an exponential with b = 0.5 per
    /// m halves in 1.386 m, ascospores within 30 m of the litter.
    fn default() -> Self {
        Self {
            half_distances_m: vec![0.7, 1.4, 2.8, 5.6, 11.2],
            usual_half_distance_m: std::f64::consts::LN_2 / 0.5,
        }
    }
}

impl Months {
    /// Whether a month, 1 to 12, is one of them; `is_south`: in the southern half of the earth.
    pub fn holds(self, month: u8, is_south: bool) -> bool {
        let month = if is_south { (month + 5) % 12 + 1 } else { month };
        match self.first <= self.last {
            true => (self.first..=self.last).contains(&month),
            false => month >= self.first || month <= self.last,
        }
    }
}

impl Diseases {
    /// Where two are called alike, the first counts.
    pub fn new(all: Vec<Disease>) -> Self {
        Self(all.into())
    }

    /// The disease that a name means; upper and lower case, spaces and dashes make no difference.
    pub fn called(&self, name: &str) -> Option<&Disease> {
        self.iter().find(|one| one.is_called(name))
    }
}

impl Deref for Diseases {
    type Target = [Disease];

    fn deref(&self) -> &[Disease] {
        &self.0
    }
}

impl Disease {
    /// Whether a name means this disease.
    pub fn is_called(&self, name: &str) -> bool {
        self.all_names().any(|own| is_same_name(own, name))
    }

    /// Everything that it is called: its id, its label, other names.
    pub fn all_names(&self) -> impl Iterator<Item = &str> {
        let names = self.names.iter().map(String::as_str);
        [self.id.as_str(), self.label.as_str()].into_iter().chain(names)
    }
}

/// Whether two names are the same but for upper and lower case, spaces and dashes: `fire blight`,
/// `fire_blight`, `Fireblight`.
pub fn is_same_name(one: &str, other: &str) -> bool {
    let letters = |name: &str| {
        let letters = name.chars().filter(|letter| letter.is_alphanumeric());
        letters.flat_map(char::to_lowercase).collect::<String>()
    };
    let (one, other) = (letters(one), letters(other));
    one == other && !one.is_empty()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_differ_by_letters_alone() {
        for name in ["fire blight", "fire_blight", "Fireblight", "FIRE-BLIGHT"] {
            assert!(is_same_name("fire_blight", name), "{name}");
        }
        assert!(is_same_name("Königskrebs", "KÖNIGS krebs"));
        for (one, other) in [("scab", "scabs"), ("", ""), ("_", " "), ("scab", "")] {
            assert!(!is_same_name(one, other), "{one}, {other}");
        }
    }

    #[test]
    fn months_may_reach_over_the_new_year_and_come_half_a_year_later_in_the_south() {
        let held = |first, last, is_south| {
            let months = Months { first, last };
            (1..=12).filter(|&month| months.holds(month, is_south)).collect::<Vec<u8>>()
        };
        assert_eq!(held(4, 5, false), [4, 5]);
        assert_eq!(held(4, 5, true), [10, 11]);
        assert_eq!(held(11, 2, false), [1, 2, 11, 12]);
        assert_eq!(held(1, 12, true).len(), 12);
    }
}
