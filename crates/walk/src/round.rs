//! Rounds to take up again, and a name for a new one.

use std::collections::BTreeMap;
use std::sync::Arc;

use plot::{Plot, RoundKey, TraitIx};
use time::Date;

/// A named round of the season.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OpenRound {
    /// Its name.
    pub name: Arc<str>,
    /// Day of its last score.
    pub last_day: Date,
    /// Scores that stand in it of the chosen traits.
    pub scores: usize,
}

/// What a walker can choose from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RoundChoices {
    /// The season's named rounds, the last walked first.
    pub rounds: Vec<OpenRound>,
    /// A name that no round of the season has: one above the highest number, or above their count.
    pub new_name: Arc<str>,
    /// The round one most likely means: the last walked one when that was at most
    /// [`RoundChoices::SAME_WALK_DAYS`] ago, else none: a new one.
    pub likely: Option<Arc<str>>,
}

impl RoundChoices {
    /// A walk that was left for longer is taken for ended (common practice, no source).
    pub const SAME_WALK_DAYS: i64 = 4;
}

/// The rounds of the season of `today`, for a walk that scores `traits`.
pub fn round_choices(plot: &Plot, traits: &[TraitIx], today: Date) -> RoundChoices {
    let season = plot.season_on(today);
    let mut named: BTreeMap<Arc<str>, (Date, usize)> = BTreeMap::new();
    let mut dated: Vec<Date> = Vec::new();
    for (_, score) in plot.standing_scores() {
        match plot.round_key_of(score) {
            (of, RoundKey::Named(name)) if of == season => {
                let day = score.scored_on.date();
                let entry = named.entry(name).or_insert((day, 0));
                entry.0 = entry.0.max(day);
                entry.1 += usize::from(traits.contains(&score.trait_ix));
            }
            (of, RoundKey::Dated(day)) if of == season => dated.push(day),
            _ => {}
        }
    }
    dated.sort_unstable();
    dated.dedup();
    let highest = named.keys().filter_map(|name| name.parse::<u32>().ok()).max().unwrap_or(0);
    let count = u32::try_from(named.len() + dated.len()).unwrap_or(u32::MAX);
    let new_name: Arc<str> = highest.max(count).saturating_add(1).to_string().into();
    let mut rounds: Vec<OpenRound> = named
        .into_iter()
        .map(|(name, (last_day, scores))| OpenRound { name, last_day, scores })
        .collect();
    rounds.sort_by(|a, b| b.last_day.cmp(&a.last_day).then_with(|| a.name.cmp(&b.name)));
    let likely = rounds
        .first()
        .filter(|round| {
            (0..=RoundChoices::SAME_WALK_DAYS).contains(&(today - round.last_day).whole_days())
        })
        .map(|round| round.name.clone());
    RoundChoices { rounds, new_name, likely }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample::{orchard, score};

    fn choices(scores: &[(&str, &str)], today: &str) -> (Vec<String>, String, Option<String>) {
        let mut plot = orchard();
        for (nth, (day, round)) in scores.iter().enumerate() {
            let mut draft = score(&format!("s{nth}"), "t01001", "scab", 0.0, day);
            draft.round = (!round.is_empty()).then(|| (*round).into());
            plot.add_score(draft).expect("a score");
        }
        let today = plot::When::parse_date(today).expect("a day");
        let choices = round_choices(&plot, &[TraitIx::new(0)], today);
        let rounds = choices.rounds.iter().map(|it| format!("{} {}", it.name, it.scores)).collect();
        (rounds, choices.new_name.to_string(), choices.likely.map(|name| name.to_string()))
    }

    #[test]
    fn a_new_round_takes_the_next_number() {
        assert_eq!(choices(&[], "2031-06-14"), (vec![], "1".into(), None));
        let walked = [("2031-05-02", "1"), ("2031-06-01", "late"), ("2031-06-01", "")];
        let (rounds, new, likely) = choices(&walked, "2031-06-14");
        assert_eq!(rounds, ["late 1", "1 1"]);
        assert_eq!((new.as_str(), likely), ("4", None));
        assert_eq!(choices(&[("2031-05-02", "7")], "2031-06-14").1, "8");
    }

    #[test]
    fn a_round_walked_lately_is_the_likely_one() {
        let walked = [("2031-05-02", "1"), ("2031-06-11", "2")];
        assert_eq!(choices(&walked, "2031-06-14").2.as_deref(), Some("2"));
        assert_eq!(choices(&walked, "2031-06-16").2, None);
    }

    #[test]
    fn another_season_has_rounds_of_its_own() {
        assert_eq!(choices(&[("2030-12-31", "3")], "2031-01-01"), (vec![], "1".into(), None));
    }
}
