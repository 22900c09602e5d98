//! Which distances count as equal: the tie rule shared by every search.

/// Share by which a distance may exceed a radius and still lie on its limit.
const SLACK: f64 = 1e-9;

/// A distance in the order of the tie rule: squared metres rounded to 30 significant bits, so
/// that distances closer than about one part in 10⁹ compare equal and go by index.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Rank(u64);

impl Rank {
    /// Larger than the rank of any point.
    pub(crate) const LAST: Self = Self(u64::MAX);

    /// The rank of a squared distance; `distance_2` is finite and not negative, so that its bits
    /// rise with it.
    pub(crate) fn of(distance_2: f64) -> Self {
        const DROPPED_BITS: u32 = 22;
        Self((distance_2.to_bits() + (1 << (DROPPED_BITS - 1))) >> DROPPED_BITS)
    }
}

/// The square of the largest distance that still counts as within `radius_m`.
pub(crate) fn limit_2(radius_m: f64) -> f64 {
    let limit_m = radius_m * (1.0 + SLACK);
    limit_m * limit_m
}

/// Squared distance between two points.
pub(crate) fn distance_2(a: (f64, f64), b: (f64, f64)) -> f64 {
    let (dx, dy) = (a.0 - b.0, a.1 - b.1);
    dx * dx + dy * dy
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rounding_does_not_decide_a_tie() {
        let check = |left: f64, right: f64, tied: bool| {
            assert_eq!(Rank::of(left * left) == Rank::of(right * right), tied, "{left} {right}");
        };
        check(0.3 - 0.2, 0.2 - 0.1, true);
        check(8.0 * 0.35 - 7.0 * 0.35, 7.0 * 0.35 - 6.0 * 0.35, true);
        check(0.0, 0.0, true);
        check(0.75, 0.750_001, false);
        check(0.0, 1e-6, false);
    }

    #[test]
    fn ranks_rise_with_distance() {
        let mut last = Rank::of(0.0);
        for step in 1..2000 {
            let rank = Rank::of(f64::from(step) * 0.01);
            assert!(rank > last && rank < Rank::LAST);
            last = rank;
        }
    }
}
