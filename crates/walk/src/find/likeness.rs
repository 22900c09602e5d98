//! How alike a typed word is to a word of the plot, and what that is worth.

use rapidfuzz::distance::osa;

use super::{Field, How};

/// A folded word as it was typed, made ready for many comparisons.
pub(crate) struct Typed {
    text: String,
    shape: Shape,
    /// Slips that are forgiven.
    slips: u32,
    is_number: bool,
    osa: osa::BatchComparator<char>,
}

/// What can be told of a word at a glance.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Shape {
    /// Which letters it holds, one bit each; rare letters share bits.
    letters: u64,
    /// How many.
    length: u32,
}

impl Shape {
    /// The shape of a folded word.
    pub(crate) fn of(word: &str) -> Self {
        let bit = |letter: char| match letter {
            'a'..='z' => u32::from(letter) - u32::from('a'),
            '0'..='9' => 26 + u32::from(letter) - u32::from('0'),
            other => 36 + u32::from(other) % 28,
        };
        word.chars().fold(Self { letters: 0, length: 0 }, |shape, letter| Self {
            letters: shape.letters | 1 << bit(letter),
            length: shape.length + 1,
        })
    }

    /// Whether another lacks at most so many of its kinds of letters. Few instructions, since it
    /// is asked of every word of a plot.
    fn is_in(self, other: Self, but: u32) -> bool {
        let mut lacking = self.letters & !other.letters;
        for _ in 0..but {
            // One of them is forgiven: the lowest bit goes.
            lacking &= lacking.wrapping_sub(1);
        }
        lacking == 0
    }
}

/// A likeness between a typed word and one of the plot.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Likeness {
    pub(crate) how: How,
    worth: u8,
}

impl Typed {
    pub(crate) fn new(text: &str) -> Self {
        let shape = Shape::of(text);
        Self {
            shape,
            slips: match shape.length {
                0..=2 => 0,
                3..=5 => 1,
                _ => 2,
            },
            is_number: text.bytes().all(|byte| byte.is_ascii_digit()),
            osa: osa::BatchComparator::new(text.chars()),
            text: text.to_owned(),
        }
    }

    /// Whether a word of this shape can be alike at all: cheap, and never wrongly no.
    pub(crate) fn may_match(&self, shape: Shape) -> bool {
        let length_fits = shape.length.abs_diff(self.shape.length) <= self.slips;
        self.shape.is_in(shape, if length_fits { self.slips } else { 0 })
    }

    /// Compares with a folded word of the plot and its shape.
    pub(crate) fn compare(&self, word: &str, shape: Shape) -> Option<Likeness> {
        let (typed, length) = (self.shape.length, shape.length);
        if length >= typed && self.shape.is_in(shape, 0) {
            if word == self.text {
                return Some(Likeness { how: How::Same, worth: 100 });
            }
            // How much of the word was typed counts for up to 15.
            let share = u8::try_from(15 * typed / length.max(1)).unwrap_or(15);
            if word.starts_with(&self.text) {
                return Some(Likeness { how: How::Begins, worth: 60 + share });
            }
            if typed >= 2 && word.contains(&self.text) {
                return Some(Likeness { how: How::Contains, worth: 45 + share });
            }
        }
        let may_be_close = self.slips > 0
            && length.abs_diff(typed) <= self.slips
            && shape.is_in(self.shape, self.slips);
        if !may_be_close {
            return None;
        }
        // Optimal string alignment: a slip is a letter missing, added, other, or two swapped.
        let cutoff = osa::Args::default().score_cutoff(self.slips as usize);
        let slips = self.osa.distance_with_args(word.chars(), &cutoff)?;
        Some(Likeness { how: How::Close, worth: if slips <= 1 { 40 } else { 25 } })
    }

    /// What a likeness is worth in a field, 1 to 112; none where it would only mislead. `whole`:
    /// the word is all of the field, not one piece of it.
    pub(super) fn quality(&self, likeness: Likeness, field: Field, whole: bool) -> Option<u8> {
        let bonus = match field {
            Field::Tag => 12,
            Field::Genotype => 10,
            Field::SeedlingNo => 8,
            Field::Id => 6,
            Field::Parent => 4,
            Field::CrossYear => 2,
            Field::Note | Field::Place | Field::Code => 0,
        };
        // 14 is not nearly 15, and 203 is no year.
        let is_count = matches!(field, Field::SeedlingNo | Field::CrossYear);
        let misleads = match likeness.how {
            How::Same => false,
            How::Begins => field == Field::Note && self.shape.length < 3,
            How::Contains => is_count || field == Field::Note,
            How::Close => {
                is_count || field == Field::Note || (self.is_number && field == Field::Parent)
            }
        };
        let piece = if whole { 0 } else { 8 };
        (!misleads).then(|| (likeness.worth + bonus).saturating_sub(piece).max(1))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(typed: &str, word: &str, expect: Option<How>) {
        let typed = Typed::new(typed);
        let likeness = typed.compare(word, Shape::of(word));
        assert_eq!(likeness.map(|likeness| likeness.how), expect, "{} {word}", typed.text);
        assert!(expect.is_none() || typed.may_match(Shape::of(word)), "{} {word}", typed.text);
    }

    #[test]
    fn words_are_compared() {
        check("q11", "q11", Some(How::Same));
        check("q1", "q11", Some(How::Begins));
        check("11", "q11", Some(How::Contains));
        check("1", "q11", None);
        check("q12", "q11", Some(How::Close));
        check("1q1", "q11", Some(How::Close));
        check("q2", "q1", None);
        check("marlbaety", "marlbeauty", Some(How::Close));
        check("marl", "tr9", None);
        check("яблона", "яблоня", Some(How::Close));
    }

    proptest::proptest! {
        #[test]
        fn shapes_hide_no_likeness(typed in "[a-e0-3é]{1,8}", word in "[a-e0-3é]{1,8}") {
            let (typed, shape) = (Typed::new(&typed), Shape::of(&word));
            let slips = osa::distance(typed.text.chars(), word.chars());
            let alike = word.contains(&typed.text) && (typed.shape.length >= 2 || word.starts_with(&typed.text));
            let found = typed.compare(&word, shape).filter(|_| typed.may_match(shape));
            proptest::prop_assert_eq!(found.is_some(), alike || slips <= typed.slips as usize);
        }
    }
}
