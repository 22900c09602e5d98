//! All scores of one trait, in order of the rounds, ready for any moment to be shown. Made once
//! for each state of the plot.

use std::sync::Arc;

use plot::{Plot, Round, Score, TraitIx, TreeIx, When};

use crate::Moment;
use crate::moment::Part;

/// The standing scores of one trait.
#[derive(Clone, Debug)]
pub struct Record {
    trait_ix: TraitIx,
    rounds: Arc<Vec<Round>>,
    looks: Vec<Look>,
    trees: usize,
    has_disease: bool,
}

/// What is known of one tree's trait.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum State {
    /// No score.
    #[default]
    NotScored,
    /// Looked for but could not be scored.
    CouldNotScore,
    /// Clean, but without what the trait needs to be shown: neither clean nor infected.
    NotAtRisk,
    /// A value.
    Scored(f64),
}

#[derive(Clone, Copy, Debug)]
struct Look {
    tree: TreeIx,
    round: u32,
    on: When,
    state: State,
    severity: Option<f64>,
}

impl Record {
    /// Gathers the scores of a trait. Scores from before a tree was planted belong to no tree.
    pub fn of(plot: &Plot, trait_ix: TraitIx) -> Self {
        let (rounds, scores) = plot.by_round(|score| score.trait_ix == trait_ix);
        let one = plot.trait_of(trait_ix);
        let mut looks: Vec<Look> = scores
            .into_iter()
            .map(|(ix, round)| (plot.score(ix), round))
            .filter(|(score, _)| !plot.is_before_planting(score))
            .map(|(score, round)| {
                let severity = score.value.and_then(|value| one.severity(value));
                let state = state(plot, score, severity);
                Look { tree: score.tree, round: round as u32, on: score.scored_on, state, severity }
            })
            .collect();
        looks.sort_by(|a, b| a.round.cmp(&b.round).then(a.on.cmp_in_time(&b.on)));
        let (trees, has_disease) = (plot.trees().len(), one.disease.is_some());
        Self { trait_ix, rounds: Arc::new(rounds), looks, trees, has_disease }
    }

    /// The trait.
    pub fn trait_ix(&self) -> TraitIx {
        self.trait_ix
    }

    /// The rounds in which it was scored, in time.
    pub fn rounds(&self) -> &Arc<Vec<Round>> {
        &self.rounds
    }

    /// The value of each tree over the whole record, lowest first: what class breaks are made
    /// from, so that they stay the same from round to round.
    pub fn values(&self) -> Vec<f64> {
        let scored = |state: State| match state {
            State::Scored(value) => Some(value),
            _ => None,
        };
        let mut values: Vec<f64> =
            self.states(&Moment::All).into_iter().filter_map(scored).collect();
        values.sort_by(f64::total_cmp);
        values
    }

    /// What is known of each tree at a moment, by tree index.
    ///
    /// Of a disease's trait the worst counts, and a tree seen infected in an earlier round stays
    /// so to the season's end; a tree that was clean earlier and is not scored now is not scored.
    /// Of any other trait the latest value counts.
    pub fn states(&self, moment: &Moment) -> Vec<State> {
        let parts = moment.parts(&self.rounds);
        let mut known: Vec<(State, Option<f64>)> = vec![(State::NotScored, None); self.trees];
        for look in &self.looks {
            let infected = look.severity.is_some_and(|severity| severity > 0.0);
            match parts[look.round as usize] {
                Part::Shown => {}
                Part::Before if infected => {}
                Part::Before | Part::Out => continue,
            }
            let before = &mut known[look.tree.get()];
            let now = (look.state, look.severity);
            if rank(now, self.has_disease) >= rank(*before, self.has_disease) {
                *before = now;
            }
        }
        known.into_iter().map(|(state, _)| state).collect()
    }
}

/// What outweighs what: a value any other state, a worse severity a lesser one.
fn rank((state, severity): (State, Option<f64>), has_disease: bool) -> f64 {
    match state {
        State::NotScored => -4.0,
        State::CouldNotScore => -3.0,
        State::NotAtRisk => -2.0,
        State::Scored(_) if has_disease => severity.unwrap_or(-1.0),
        State::Scored(_) => 0.0,
    }
}

fn state(plot: &Plot, score: &Score, severity: Option<f64>) -> State {
    let Some(value) = score.value else { return State::CouldNotScore };
    let of = plot.trait_of(score.trait_ix);
    match severity {
        Some(0.0) if !plot.is_at_risk(score) => State::NotAtRisk,
        None if of.disease.is_some() && matches!(of.kind, plot::Kind::Ordinal(_)) => {
            State::CouldNotScore
        }
        _ => State::Scored(value),
    }
}
