//! What a fit leaves unexplained, and what an expected dose means, in plain words.

use language::say;
use proof::{Leftover, typical_stays_clean};

use super::percent;

/// p up to which a pattern is taken for one.
const PATTERN_P: f64 = 0.05;
/// Moran's I from which a pattern is more than faint; common practice, without a source.
const PATTERN_I: f64 = 0.1;

/// Whether what is left over has a pattern, Moran's I and p beside it.
pub fn leftover(left: &Leftover) -> String {
    let said = if left.p > PATTERN_P {
        say!(
            "Nothing is left over that neighbours share: pressure is explained as far as this \
             test can see."
        )
    } else if left.moran_i < PATTERN_I {
        say!(
            "A little is left over that neighbours share: here and there pressure is not quite \
             explained."
        )
    } else {
        say!(
            "Something is left over: where infections came otherwise than predicted, neighbours \
             agree. Pressure is not well explained there."
        )
    };
    say!(
        "{said} Moran’s I {moran_i:.3} (0: no pattern, 1: neighbours alike), p {p:.3}.",
        moran_i = left.moran_i,
        p = left.p
    )
}

/// What *dose* means.
pub fn dose_meaning() -> String {
    say!(
        "Dose is how many infections a typical susceptible tree would have been expected to take \
         there, over all rounds in which the tree was scored until it was seen infected. A dose \
         of 3 leaves such a tree a {share} chance of staying clean.",
        share = percent(typical_stays_clean(3.0))
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(moran_i: f64, p: f64, begins: &str) {
        let left = Leftover { moran_i, p, permutations: 499, seed: 1, by_tree: Vec::new() };
        assert!(leftover(&left).starts_with(begins), "{}", leftover(&left));
        assert!(leftover(&left).contains(&format!("{moran_i:.3}")));
    }

    #[test]
    fn a_pattern_is_told_by_how_large_and_how_sure_it_is() {
        check(0.02, 0.31, "Nothing is left over");
        check(0.4, 0.06, "Nothing is left over");
        check(0.05, 0.002, "A little is left over");
        check(0.23, 0.002, "Something is left over");
    }

    #[test]
    fn a_dose_of_three_leaves_one_in_twenty() {
        assert!(dose_meaning().replace('\u{a0}', " ").contains("a 5 % chance"));
    }
}
