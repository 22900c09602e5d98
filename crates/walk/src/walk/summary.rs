//! What a walk came to: how long it took, what was done, what to look at again.

use plot::{Plot, RoundKey, Score, Season};
use time::{Duration, OffsetDateTime};

use super::{Content, Cursor, Tally, Walk};
use crate::Odd;
use crate::jump::earlier;

/// What a walk came to.
#[derive(Clone, Debug, PartialEq)]
pub struct Summary {
    /// Time spent on it, from line to line; pauses are left out.
    pub time: Duration,
    /// The trees by what was said of them.
    pub tally: Tally,
    /// Of the trees left behind, those that were skipped by hand.
    pub skipped: usize,
    /// Scores that ask for a second look, in walking order; none for a blind walk.
    pub jumps: Vec<Jump>,
}

/// A score that differs by much from the same tree's earlier one of the season.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Jump {
    /// Where.
    pub at: Cursor,
    /// The earlier score.
    pub earlier: f64,
    /// The score of this walk.
    pub now: f64,
    /// What is odd about it.
    pub odd: Odd,
}

impl Summary {
    /// Longer between two lines is a pause (common practice, no source).
    pub const PAUSE: Duration = Duration::minutes(10);
}

impl Walk {
    /// What the walk came to so far.
    pub fn summary(&self, plot: &Plot) -> Summary {
        Summary {
            time: self.time(plot),
            tally: self.total(),
            skipped: self.ledger.still_skipped().filter(|&stop| stop < self.passed()).count(),
            jumps: self.jumps(plot),
        }
    }

    /// The last score that the asked tree had of the asked trait earlier in the season; none for a
    /// blind walk, where it is not to be seen.
    pub fn earlier<'a>(&self, plot: &'a Plot) -> Option<&'a Score> {
        if self.setup.blind {
            return None;
        }
        earlier(plot, self.tree()?, self.asked()?, &self.key())
    }

    fn key(&self) -> (Season, RoundKey) {
        (self.setup.season, RoundKey::Named(self.setup.round.clone()))
    }

    fn jumps(&self, plot: &Plot) -> Vec<Jump> {
        if self.setup.blind {
            return Vec::new();
        }
        let key = self.key();
        let slots = self.setup.traits.len();
        let cells = (0..self.route.stops.len())
            .flat_map(|stop| (0..slots).map(move |slot| Cursor { stop, slot }));
        cells
            .filter_map(|at| {
                let Content::Scored { value: now, .. } = *self.ledger.own(at) else { return None };
                let trait_ix = self.setup.traits[at.slot];
                let before = earlier(plot, self.route.stops[at.stop], trait_ix, &key)?.value?;
                let odd = Odd::of(plot.trait_of(trait_ix), before, now)?;
                Some(Jump { at, earlier: before, now, odd })
            })
            .collect()
    }

    fn time(&self, plot: &Plot) -> Duration {
        let key = self.key();
        let lines = plot
            .scores()
            .iter()
            .filter(|score| score.scorer == self.setup.scorer && plot.round_key_of(score) == key)
            .filter_map(|score| score.scored_on.moment());
        let changes = plot
            .changes()
            .iter()
            .filter(|change| {
                change.scorer == self.setup.scorer && super::taken_up::is_of(plot, change, &key)
            })
            .filter_map(|change| change.changed_on.moment());
        let mut moments: Vec<OffsetDateTime> = lines.chain(changes).collect();
        moments.sort_unstable();
        let steps = moments.windows(2).map(|pair| pair[1] - pair[0]);
        steps.filter(|&step| step <= Summary::PAUSE).sum()
    }
}
