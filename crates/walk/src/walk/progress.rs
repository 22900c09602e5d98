//! How far a walk is: row by row, and what was left behind.

use super::Walk;
use super::ledger::Content;
use crate::Leg;

/// Trees of a stretch of the route by what was said of them.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Tally {
    /// Trees in all.
    pub trees: usize,
    /// Every trait was scored, or said to be unscorable at least once.
    pub done: usize,
    /// Of those done, trees with a trait that could not be scored.
    pub could_not: usize,
    /// Not done although the walker has come past: left behind.
    pub left_behind: usize,
}

/// How far one leg is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LegProgress {
    /// The leg.
    pub leg: Leg,
    /// Its trees.
    pub tally: Tally,
    /// Whether the walker stands in it.
    pub here: bool,
}

impl Walk {
    /// How far each leg is, in walking order.
    pub fn legs(&self) -> Vec<LegProgress> {
        let here = |leg: &Leg| self.cursor.is_some_and(|at| (leg.from..leg.to).contains(&at.stop));
        let legs = self.route.legs.iter();
        legs.map(|leg| LegProgress {
            leg: *leg,
            tally: self.tally(leg.from, leg.to),
            here: here(leg),
        })
        .collect()
    }

    /// How far the whole walk is.
    pub fn total(&self) -> Tally {
        self.tally(0, self.route.stops.len())
    }

    /// The stops that were left behind, in walking order.
    pub fn left_behind(&self) -> Vec<usize> {
        (0..self.passed()).filter(|&stop| self.is_open(stop)).collect()
    }

    fn tally(&self, from: usize, to: usize) -> Tally {
        let passed = self.passed();
        let mut tally = Tally { trees: to - from, ..Tally::default() };
        for stop in from..to {
            if self.is_open(stop) {
                tally.left_behind += usize::from(stop < passed);
            } else {
                let could_not =
                    self.ledger.stop(stop).any(|it| matches!(it, Content::CouldNot { .. }));
                tally.done += 1;
                tally.could_not += usize::from(could_not);
            }
        }
        tally
    }

    /// Stops before the walker; all of them behind the last tree.
    fn passed(&self) -> usize {
        self.cursor.map_or(self.route.stops.len(), |at| at.stop)
    }

    fn is_open(&self, stop: usize) -> bool {
        self.ledger.stop(stop).any(Content::is_open)
    }
}
