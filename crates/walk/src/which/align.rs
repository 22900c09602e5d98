//! Steps laid along a row: the sum over all ways to do so, by dynamic programming.

/// A tree stands between two listed places that nobody wrote down. *Common practice, no source:*
/// one in a hundred.
pub(super) const INSERTED: f64 = 0.01;

/// Odds of each step along one row.
pub(super) struct Along {
    /// For each step the odds of seeing it at each place, a tree standing there.
    pub(super) at: Vec<Vec<f64>>,
    /// For each step the odds of seeing it on a tree that is not on the list.
    pub(super) unlisted: Vec<f64>,
    /// For each place how probable it is that something stands there.
    pub(super) stands: Vec<f64>,
}

/// Weights of one step being at each place, and in each gap: gap `g` lies before place `g`, the
/// last one behind the last place.
pub(super) struct Weights {
    pub(super) places: Vec<f64>,
    pub(super) gaps: Vec<f64>,
}

/// Which way the numbers go as the steps go on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Sense {
    /// Place numbers rise.
    Rising,
    /// They fall.
    Falling,
}

impl Along {
    /// The weights of all ways to lay the steps along the row in one sense, by where the step
    /// `nth` comes to lie. A walk begins anywhere in the row, everywhere alike.
    ///
    /// The weight of a way is the product of `stands · odds` of each place that a step is laid on,
    /// `1 − stands` of each place passed over, and for each gap crossed with k steps laid into it
    /// `(1 − inserted) · inserted^k ·` odds; gaps at the two ends are not crossed and count
    /// `inserted^k`. It is the same from both ends, so what comes after `nth` is what would have
    /// come before it on the way back.
    pub(super) fn weights(&self, nth: usize, sense: Sense) -> Weights {
        let steps = self.at.len();
        let before: Vec<usize> = (0..=nth).collect();
        let after: Vec<usize> = (nth..steps).rev().collect();
        let is_rising = sense == Sense::Rising;
        let mut there = self.forward(&before, is_rising);
        let back = self.forward(&after, !is_rising);
        for (at, (here, back)) in there.places.iter_mut().zip(&back.places).enumerate() {
            let odds = self.stands[at] * self.at[nth][at];
            *here = if odds > 0.0 { *here * back / odds } else { 0.0 };
        }
        let odds = INSERTED * self.unlisted[nth] / (1.0 - INSERTED);
        for (here, back) in there.gaps.iter_mut().zip(&back.gaps) {
            *here *= back / odds;
        }
        there
    }

    /// Weights of the last of these steps, summed over the ways to lay those before it.
    fn forward(&self, steps: &[usize], is_rising: bool) -> Weights {
        let places = self.stands.len();
        let place = |at: usize| if is_rising { at } else { places - 1 - at };
        let mut on = vec![0.0; places];
        let mut between = vec![0.0; places + 1];
        for (nth, &step) in steps.iter().enumerate() {
            let (odds, unlisted) = (&self.at[step], INSERTED * self.unlisted[step]);
            // What was laid so far and has come up to the gap; beyond it, it is about to meet the
            // place.
            let (mut arrived, mut passed) = (0.0, 0.0);
            for (gap, between) in between.iter_mut().enumerate() {
                if gap > 0 {
                    let last = place(gap - 1);
                    let was_on = std::mem::take(&mut on[last]);
                    on[last] = self.stands[last] * odds[last] * passed;
                    arrived = was_on + (1.0 - self.stands[last]) * passed;
                }
                let crossing = arrived + *between;
                *between = unlisted * crossing;
                passed = (1.0 - INSERTED) * crossing;
            }
            if nth == 0 {
                for at in 0..places {
                    on[at] = self.stands[at] * odds[at];
                }
                // A gap holds k trees with the weight inserted^k: one may begin at any of them.
                between.fill(unlisted / (1.0 - INSERTED));
            }
        }
        if !is_rising {
            between.reverse();
        }
        Weights { places: on, gaps: between }
    }
}
