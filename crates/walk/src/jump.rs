//! Odd jumps: scores that differ from the same tree's earlier one by so much that one of the two
//! is likely a slip.
//!
//! What counts is common practice, no source: a slip of the thumb or a wrong tree shows as a leap
//! over several classes, and disease that was seen does not leave a leaf within a season. Leaves
//! may fall, fruits ripen: a jump asks for a second look, it is no fault.

use plot::{Kind, Plot, RoundKey, Score, Season, Trait, TraitIx, TreeIx};

/// Why a score is odd after an earlier one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Odd {
    /// Symptoms were seen earlier in the season, and none now.
    CleanAgain,
    /// So many classes of the scale lie between the two.
    Classes(usize),
    /// A measured number rose or fell by more than half.
    ByHalf,
}

impl Odd {
    /// Why `now` is odd after `earlier` of the same season; none when it is not.
    ///
    /// Classes are counted over those that say something (in a disease's trait those with a
    /// severity); a leap is half the scale and no less than three. A number counts by its change
    /// against the earlier one; after 0 nothing is odd.
    pub fn of(one: &Trait, earlier: f64, now: f64) -> Option<Self> {
        let infected = |value| one.severity(value).map(|severity| severity > 0.0);
        if infected(earlier) == Some(true) && infected(now) == Some(false) {
            return Some(Self::CleanAgain);
        }
        match &one.kind {
            Kind::Ordinal(scale) => {
                let classes: Vec<f64> = scale
                    .steps()
                    .iter()
                    .filter(|step| one.disease.is_none() || step.severity.is_some())
                    .map(|step| step.value)
                    .collect();
                let rank = |value: f64| classes.iter().position(|&class| class == value);
                let leap = rank(earlier)?.abs_diff(rank(now)?);
                (leap >= LEAST_LEAP && 2 * leap >= classes.len()).then_some(Self::Classes(leap))
            }
            Kind::Number { .. } => {
                let is_odd = earlier != 0.0 && (now - earlier).abs() > earlier.abs() / 2.0;
                is_odd.then_some(Self::ByHalf)
            }
        }
    }
}

/// Fewer classes are never a leap.
const LEAST_LEAP: usize = 3;

/// The last score with a value that a tree had of a trait earlier in the season: in another round
/// than the one that is walked.
pub(crate) fn earlier<'a>(
    plot: &'a Plot,
    tree: TreeIx,
    trait_ix: TraitIx,
    walked: &(Season, RoundKey),
) -> Option<&'a Score> {
    let scores = plot.scores_of(tree).map(|(_, score)| score);
    let of_it = scores.filter(|score| {
        let key = plot.round_key_of(score);
        score.trait_ix == trait_ix && score.value.is_some() && key.0 == walked.0 && key != *walked
    });
    of_it.max_by(|a, b| a.scored_on.cmp_in_time(&b.scored_on))
}

#[cfg(test)]
mod tests {
    use plot::{Scale, Step, TraitId};

    use super::*;

    fn graded(disease: Option<&str>, severities: &[Option<f64>]) -> Trait {
        let steps = (0..).zip(severities);
        let step = |(nth, &severity): (i32, _)| Step {
            value: f64::from(nth),
            label: String::new(),
            severity,
        };
        one(disease, Kind::Ordinal(Scale::new(steps.map(step).collect()).expect("a scale")))
    }

    fn one(disease: Option<&str>, kind: Kind) -> Trait {
        let (id, disease) = (TraitId::new("t"), disease.map(str::to_owned));
        Trait { id, disease, label: String::new(), kind, needs: None }
    }

    #[test]
    fn a_leap_is_half_the_scale_and_three_classes() {
        // 0 not observed, 1 clean, 2 to 6 sick: six classes that say something.
        let grades = [None, Some(0.0), Some(0.01), Some(0.05), Some(0.1), Some(0.3), Some(0.6)];
        let scab = graded(Some("scab"), &grades);
        let check = |earlier: f64, now: f64, expect: Option<Odd>| {
            assert_eq!(Odd::of(&scab, earlier, now), expect, "{earlier} then {now}");
        };
        check(1.0, 3.0, None);
        check(1.0, 4.0, Some(Odd::Classes(3)));
        check(6.0, 2.0, Some(Odd::Classes(4)));
        check(2.0, 1.0, Some(Odd::CleanAgain));
        check(1.0, 1.0, None);
        check(6.0, 0.0, None);
        check(0.0, 6.0, None);
        let ten = graded(None, &[None; 10]);
        assert_eq!(Odd::of(&ten, 2.0, 6.0), None, "four of ten classes");
        assert_eq!(Odd::of(&ten, 2.0, 7.0), Some(Odd::Classes(5)));
        let two = graded(Some("blight"), &[Some(0.0), Some(0.1)]);
        assert_eq!(Odd::of(&two, 0.0, 1.0), None, "a tree fell ill");
    }

    #[test]
    fn a_number_is_odd_when_it_changes_by_more_than_half() {
        let trunk = one(None, Kind::Number { unit: None, min: None, max: None });
        assert_eq!(Odd::of(&trunk, 20.0, 30.0), None);
        assert_eq!(Odd::of(&trunk, 20.0, 31.0), Some(Odd::ByHalf));
        assert_eq!(Odd::of(&trunk, 20.0, 9.0), Some(Odd::ByHalf));
        assert_eq!(Odd::of(&trunk, 0.0, 9.0), None);
        let share = Kind::Number { unit: None, min: Some(0.0), max: Some(100.0) };
        assert_eq!(Odd::of(&one(Some("rot"), share), 5.0, 0.0), Some(Odd::CleanAgain));
    }
}
