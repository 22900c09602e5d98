//! Class breaks of measured numbers: at most five classes of about equal number, with round
//! limits.

use language::say;

use crate::words::{from_to, number};

/// Limits between classes, and their words.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Breaks {
    /// Lower limit of each class but the first; a value on a limit is of the class above.
    limits: Vec<f64>,
    whole: bool,
    least: f64,
    most: f64,
}

/// Classes at most.
const MOST: usize = 5;

impl Breaks {
    /// Of values in ascending order.
    pub(crate) fn of(values: &[f64]) -> Self {
        let (least, most) = (values.first().copied(), values.last().copied());
        let (least, most) = (least.unwrap_or(0.0), most.unwrap_or(0.0));
        let whole = values.iter().all(|value| value.fract() == 0.0);
        let mut distinct = values.to_vec();
        distinct.dedup();
        let mut limits: Vec<f64> = if whole && distinct.len() <= MOST {
            distinct.split_off(1.min(distinct.len()))
        } else {
            let quantile = |nth: usize| values[values.len() * nth / MOST];
            (1..MOST).map(quantile).map(|value| rounded(value, most - least, whole)).collect()
        };
        limits.retain(|limit| *limit > least && *limit <= most);
        limits.dedup();
        Self { limits, whole, least, most }
    }

    /// With stated limits.
    pub(crate) fn at(limits: &[f64], least: f64, most: f64) -> Self {
        Self { limits: limits.to_vec(), whole: false, least, most }
    }

    /// How many classes there are.
    pub(crate) fn classes(&self) -> usize {
        self.limits.len() + 1
    }

    /// The class of a value.
    pub(crate) fn class(&self, value: f64) -> usize {
        self.limits.partition_point(|limit| *limit <= value)
    }

    /// Words of a class: `under 25`, `25 to 32`, `32 and more`, `2 to 3`, `4`.
    pub(crate) fn label(&self, class: usize) -> String {
        let low = class.checked_sub(1).map(|below| self.limits[below]);
        let high = self.limits.get(class).copied();
        match (low, high) {
            (None, None) => range(self.least, self.most),
            (None, Some(high)) if self.whole => range(self.least, high - 1.0),
            (None, Some(high)) => say!("under {high}", high = number(high)),
            (Some(low), Some(high)) if self.whole => range(low, high - 1.0),
            (Some(low), Some(high)) => range(low, high),
            (Some(low), None) if self.whole && low == self.most => number(low),
            (Some(low), None) => say!("{low} and more", low = number(low)),
        }
    }

    /// The step, 0 to 4, by which a class is drawn: few classes are spread over all five.
    pub(crate) fn step(&self, class: usize) -> u8 {
        spread(class, self.classes())
    }
}

/// The nth of `of` classes as a step from 0 to 4; a single class is the middle one.
pub(crate) fn spread(nth: usize, of: usize) -> u8 {
    if of <= 1 { 2 } else { ((nth * 4 * 2 + of - 1) / ((of - 1) * 2)) as u8 }
}

fn range(low: f64, high: f64) -> String {
    if low >= high { number(low) } else { from_to(&number(low), &number(high)) }
}

/// To a round number that is fine enough for the range: a twentieth of it or finer.
fn rounded(value: f64, range: f64, whole: bool) -> f64 {
    if range <= 0.0 {
        return value;
    }
    let fine = range / 20.0;
    let power = libm::pow(10.0, libm::floor(libm::log10(fine)));
    let unit = [5.0, 2.0, 1.0].map(|times| times * power).into_iter().find(|unit| *unit <= fine);
    let unit = unit.unwrap_or(power);
    let unit = if whole { unit.max(1.0).round() } else { unit };
    (value / unit).round() * unit
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(values: &[f64], labels: &[&str]) {
        let mut sorted = values.to_vec();
        sorted.sort_by(f64::total_cmp);
        let breaks = Breaks::of(&sorted);
        let made: Vec<String> = (0..breaks.classes()).map(|nth| breaks.label(nth)).collect();
        assert_eq!(made, labels);
        for value in values {
            assert!(breaks.class(*value) < breaks.classes());
        }
    }

    #[test]
    fn limits_are_round_and_words_plain() {
        let diameters: Vec<f64> = (0..200).map(|nth| 18.3 + f64::from(nth) * 0.17).collect();
        check(&diameters, &["under 25", "25 to 32", "32 to 39", "39 to 46", "46 and more"]);
        let counts = [1.0, 1.0, 1.0, 1.0, 2.0, 2.0, 3.0, 5.0, 8.0, 13.0];
        check(&counts, &["1", "2", "3 to 7", "8 and more"]);
    }

    #[test]
    fn few_whole_numbers_are_a_class_each() {
        check(&[1.0, 1.0, 2.0, 4.0], &["1", "2 to 3", "4"]);
        check(&[7.0], &["7"]);
        check(&[], &["0"]);
    }

    #[test]
    fn few_classes_are_spread_over_the_five_steps() {
        let steps = |of: usize| (0..of).map(|nth| spread(nth, of)).collect::<Vec<_>>();
        assert_eq!(steps(5), [0, 1, 2, 3, 4]);
        assert_eq!(steps(4), [0, 1, 3, 4]);
        assert_eq!(steps(3), [0, 2, 4]);
        assert_eq!(steps(2), [0, 4]);
        assert_eq!(steps(1), [2]);
    }
}
