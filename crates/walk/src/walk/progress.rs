//! How far a walk is: row by row, and what was left behind.

use super::Walk;
use super::ledger::Content;
use crate::Leg;

/// Trees of a stretch of the route by what was said of them.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Tally {
    /// Trees in all.
    pub trees: usize,
    /// Every trait was scored or said to be unscorable, or nothing stands there any more.
    pub done: usize,
    /// Of those done, trees with a trait that could not be scored.
    pub could_not: usize,
    /// Of those done, trees that were found dead, and places with nothing in them.
    pub gone: usize,
    /// Not done although the walker has come past: left behind.
    pub left_behind: usize,
}

/// How a stop stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Looked {
    /// Something is still to be scored.
    Open,
    /// Every trait has an answer, and one could not be scored.
    CouldNot,
    /// Every trait is scored.
    Scored,
    /// Nothing stands there any more.
    Gone,
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

    /// How far the leg is in which the walker stands.
    pub fn leg_here(&self) -> Option<LegProgress> {
        let stop = self.cursor?.stop;
        let leg = *self.route.legs.iter().find(|leg| (leg.from..leg.to).contains(&stop))?;
        Some(LegProgress { leg, tally: self.tally(leg.from, leg.to), here: true })
    }

    /// How far the whole walk is.
    pub fn total(&self) -> Tally {
        self.tally(0, self.route.stops.len())
    }

    /// The stops that were left behind, in walking order.
    pub fn left_behind(&self) -> Vec<usize> {
        (0..self.passed()).filter(|&stop| self.ledger.is_open(stop)).collect()
    }

    fn tally(&self, from: usize, to: usize) -> Tally {
        let passed = self.passed();
        let mut tally = Tally { trees: to - from, ..Tally::default() };
        for stop in from..to {
            match self.looked(stop) {
                Looked::Open => tally.left_behind += usize::from(stop < passed),
                Looked::CouldNot => tally.could_not += 1,
                Looked::Scored => tally.done += 1,
                Looked::Gone => tally.gone += 1,
            }
        }
        tally.done += tally.could_not + tally.gone;
        tally
    }

    /// How a stop stands.
    pub fn looked(&self, stop: usize) -> Looked {
        if self.is_gone(stop) {
            Looked::Gone
        } else if self.is_open(stop) {
            Looked::Open
        } else if self.ledger.stop(stop).any(|it| matches!(it, Content::CouldNot { .. })) {
            Looked::CouldNot
        } else {
            Looked::Scored
        }
    }

    /// Whether a tree was found dead or its place empty: no score is asked for any more.
    pub fn is_gone(&self, stop: usize) -> bool {
        self.ledger.is_gone(stop)
    }

    /// Whether something is still to be scored at a stop.
    pub fn is_open(&self, stop: usize) -> bool {
        self.ledger.is_open(stop)
    }

    /// Stops before the walker; all of them behind the last tree.
    pub(super) fn passed(&self) -> usize {
        self.cursor.map_or(self.route.stops.len(), |at| at.stop)
    }
}
