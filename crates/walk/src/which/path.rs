//! Steps laid along a whole row, both walked from the same end to the other: the best way, and how
//! probable each of its pieces is among all ways.

use super::align::INSERTED;
use super::list::Stand;
use super::odds::Step;

/// One piece of a way.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Laid {
    /// A step on a place: the nth step, the nth place.
    On(usize, usize),
    /// A place that was passed over.
    Passed(usize),
    /// A step into the gap before the next place.
    Between(usize),
    /// A place behind the last step of a row that was not walked to its end.
    Unwalked,
}

/// All ways, as logarithms of their weights: weights of long rows leave the range of numbers.
///
/// The weight of a way is that of [`Along`](super::align::Along) with gaps at the ends like any
/// other, since the row is walked from end to end; what every way has in common is left out.
pub(super) struct Paths {
    steps: usize,
    places: usize,
    /// For each step and place.
    on: Vec<f64>,
    /// For each step.
    between: Vec<f64>,
    /// For each place.
    passed: Vec<f64>,
    whole: bool,
    /// Sum over the ways that lead to a state: so many steps and so many places are behind.
    forward: Vec<f64>,
    /// Sum over the ways from there to the end.
    backward: Vec<f64>,
}

impl Paths {
    pub(super) fn new(steps: &[Step], places: &[&Stand], whole: bool) -> Self {
        let mut paths = Self {
            steps: steps.len(),
            places: places.len(),
            on: steps
                .iter()
                .flat_map(|step| {
                    places.iter().map(|place| libm::log(place.stands * step.at(place)))
                })
                .collect(),
            between: steps.iter().map(|step| libm::log(INSERTED * step.on_unlisted())).collect(),
            passed: places.iter().map(|place| libm::log(1.0 - place.stands)).collect(),
            whole,
            forward: Vec::new(),
            backward: Vec::new(),
        };
        paths.forward = paths.forward();
        paths.backward = paths.backward();
        paths
    }

    /// The way of most weight, from the first place on.
    pub(super) fn best(&self) -> Vec<Laid> {
        // Best weight from each state to the end, and the piece that it begins with.
        let mut best = vec![(f64::NEG_INFINITY, None); self.states()];
        for (step, place) in self.backwards() {
            let state = self.state(step, place);
            if (step, place) == (self.steps, self.places) {
                best[state].0 = 0.0;
                continue;
            }
            for (laid, weight, next) in self.moves(step, place) {
                let whole = weight + best[next].0;
                if whole > best[state].0 {
                    best[state] = (whole, Some(laid));
                }
            }
        }
        let (mut step, mut place) = (0, 0);
        let mut way = Vec::new();
        while let Some(laid) = best[self.state(step, place)].1 {
            way.push(laid);
            step += usize::from(matches!(laid, Laid::On(..) | Laid::Between(_)));
            place += usize::from(!matches!(laid, Laid::Between(_)));
        }
        way
    }

    /// The share of all ways that have this piece.
    pub(super) fn probability(&self, laid: Laid) -> f64 {
        let on = |step: usize, place: usize| {
            let ways = self.forward[self.state(step, place)]
                + self.on[step * self.places + place]
                + self.backward[self.state(step + 1, place + 1)];
            libm::exp(ways - self.total())
        };
        let rest = |sum: f64| (1.0 - sum).clamp(0.0, 1.0);
        match laid {
            Laid::On(step, place) => on(step, place).min(1.0),
            Laid::Passed(place) => rest((0..self.steps).map(|step| on(step, place)).sum()),
            Laid::Between(step) => rest((0..self.places).map(|place| on(step, place)).sum()),
            Laid::Unwalked => 1.0,
        }
    }

    /// The weight of all ways together, as a logarithm.
    pub(super) fn total(&self) -> f64 {
        self.backward[0]
    }

    fn forward(&self) -> Vec<f64> {
        let mut sums = vec![f64::NEG_INFINITY; self.states()];
        sums[0] = 0.0;
        for (step, place) in self.backwards().rev() {
            let here = sums[self.state(step, place)];
            for (_, weight, next) in self.moves(step, place) {
                sums[next] = log_sum(sums[next], here + weight);
            }
        }
        sums
    }

    fn backward(&self) -> Vec<f64> {
        let mut sums = vec![f64::NEG_INFINITY; self.states()];
        for (step, place) in self.backwards() {
            let state = self.state(step, place);
            if (step, place) == (self.steps, self.places) {
                sums[state] = 0.0;
            }
            for (_, weight, next) in self.moves(step, place) {
                sums[state] = log_sum(sums[state], weight + sums[next]);
            }
        }
        sums
    }

    /// What may come next, with its weight and the state it leads to.
    fn moves(&self, step: usize, place: usize) -> impl Iterator<Item = (Laid, f64, usize)> {
        let (more_steps, more_places) = (step < self.steps, place < self.places);
        let on = (more_steps && more_places).then(|| {
            let weight = self.on[step * self.places + place];
            (Laid::On(step, place), weight, self.state(step + 1, place + 1))
        });
        let passed = more_places.then(|| {
            let next = self.state(step, place + 1);
            match !more_steps && !self.whole {
                true => (Laid::Unwalked, 0.0, next),
                false => (Laid::Passed(place), self.passed[place], next),
            }
        });
        let between = more_steps
            .then(|| (Laid::Between(step), self.between[step], self.state(step + 1, place)));
        [on, passed, between].into_iter().flatten()
    }

    fn states(&self) -> usize {
        (self.steps + 1) * (self.places + 1)
    }

    fn state(&self, step: usize, place: usize) -> usize {
        step * (self.places + 1) + place
    }

    /// All states from the end to the beginning.
    fn backwards(&self) -> impl DoubleEndedIterator<Item = (usize, usize)> + use<> {
        let width = self.places + 1;
        (0..self.states()).rev().map(move |state| (state / width, state % width))
    }
}

/// ln(eᵃ + eᵇ).
fn log_sum(a: f64, b: f64) -> f64 {
    let (least, most) = if a < b { (a, b) } else { (b, a) };
    if least == f64::NEG_INFINITY {
        return most;
    }
    most + libm::log1p(libm::exp(least - most))
}
