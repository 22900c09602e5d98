//! Whether a cross shows as many clean seedlings as its genetics promise: observed against
//! expected shares.

use serde::{Deserialize, Serialize};

/// Seedlings of either class that χ² needs to be expected (Cochran 1954, *Biometrics* 10:417, from
/// memory).
const CHI_SQUARE_NEEDS: f64 = 5.0;
/// Chance below which a difference is told. *Common practice, no source.*
const TOLD_BELOW: f64 = 0.05;

/// Clean seedlings of a cross against the share of resistant ones that the breeder expects.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Segregation {
    /// Share of resistant seedlings expected, 0 to 1.
    pub expected: f64,
    /// Seedlings without symptoms, escapes among them.
    pub clean: usize,
    /// Seedlings scored, but for those that were only looked at after a spray.
    pub scored: usize,
    /// χ² with one degree of freedom, `Σ (observed − expected)² / expected` over clean and infected;
    /// none where fewer than five of either are expected.
    pub chi_square: Option<f64>,
    /// Its p.
    pub p_chi_square: Option<f64>,
    /// Two-sided p of the exact binomial test: the chance of all counts that are no likelier than
    /// the one that was seen.
    pub p_exact: f64,
}

/// What the counts say beside the expected share.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fits {
    /// No more than chance.
    AsExpected,
    /// More clean seedlings than the share allows: a cross's fingerprint of escapes.
    TooManyClean,
    /// Fewer: resistance is rarer than thought, or was overcome.
    TooFewClean,
}

impl Segregation {
    /// Compares `clean` of `scored` seedlings with an expected share of 0 to 1; none without any.
    pub(crate) fn new(clean: usize, scored: usize, expected: f64) -> Option<Self> {
        if scored == 0 {
            return None;
        }
        let (all, seen) = (scored as f64, clean as f64);
        let (resistant, susceptible) = (all * expected, all * (1.0 - expected));
        let is_enough = resistant.min(susceptible) >= CHI_SQUARE_NEEDS;
        let chi_square = is_enough.then(|| {
            let gap = seen - resistant;
            gap * gap / resistant + gap * gap / susceptible
        });
        // One degree of freedom: the square of a standard normal deviate.
        let p_chi_square = chi_square.map(|it| libm::erfc(libm::sqrt(it / 2.0)));
        Some(Self {
            expected,
            clean,
            scored,
            chi_square,
            p_chi_square,
            p_exact: exact(clean, scored, expected),
        })
    }

    /// What the exact test says, at one chance in twenty.
    pub fn fits(&self) -> Fits {
        let expected = self.expected * self.scored as f64;
        match self.p_exact < TOLD_BELOW {
            true if self.clean as f64 > expected => Fits::TooManyClean,
            true => Fits::TooFewClean,
            false => Fits::AsExpected,
        }
    }
}

/// Counts within this part of the seen one's chance are as likely: rounding decides nothing.
const AS_LIKELY: f64 = 1.0 + 1e-7;

fn exact(clean: usize, scored: usize, expected: f64) -> f64 {
    let seen = chance(clean, scored, expected) * AS_LIKELY;
    let chances = (0..=scored).map(|count| chance(count, scored, expected));
    chances.filter(|&it| it <= seen).sum::<f64>().min(1.0)
}

/// The binomial chance of a count.
fn chance(count: usize, of: usize, share: f64) -> f64 {
    let log = |share: f64, times: usize| match times {
        0 => 0.0,
        times => times as f64 * libm::log(share),
    };
    let ways = |n: usize| libm::lgamma(n as f64 + 1.0);
    libm::exp(
        ways(of) - ways(count) - ways(of - count)
            + log(share, count)
            + log(1.0 - share, of - count),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    /// χ² of 58 : 42 against 1 : 1 is 2.56, of 83 : 17 against 3 : 1 3.413 (trade facts; computed).
    /// All p: scipy 1.17.1, `stats.binomtest` and `stats.chi2.sf`.
    #[test]
    fn observed_against_expected_is_that_of_a_statistics_library() {
        let check = |clean, scored, expected, exact: f64, chi: Option<(f64, f64)>, fits| {
            let found = Segregation::new(clean, scored, expected).expect("seedlings");
            let near = |a: f64, b: f64| (a - b).abs() <= 1e-9 * b.abs().max(1e-12);
            assert!(near(found.p_exact, exact), "{clean} of {scored}: {}", found.p_exact);
            assert_eq!(found.chi_square.is_some(), chi.is_some(), "{clean} of {scored}");
            if let (Some(found_chi), Some(found_p), Some((chi, p))) =
                (found.chi_square, found.p_chi_square, chi)
            {
                assert!(near(found_chi, chi) && near(found_p, p), "{found_chi} {found_p}");
            }
            assert_eq!(found.fits(), fits, "{clean} of {scored}");
        };
        use Fits::{AsExpected, TooFewClean, TooManyClean};
        check(58, 100, 0.5, 0.13321061920721358, Some((2.56, 0.10959858339911568)), AsExpected);
        let chi = Some((3.4133333333333336, 0.06467168750236404));
        check(83, 100, 0.75, 0.0652208278312792, chi, AsExpected);
        let chi = Some((6.4, 0.01141203638600166));
        check(9, 10, 0.5, 0.021484375, chi, TooManyClean);
        check(0, 12, 0.25, 0.04592913389205933, None, TooFewClean);
        let chi = Some((6.666666666666667, 0.009823274507519235));
        check(40, 60, 0.5, 0.01348929373119186, chi, TooManyClean);
        let chi = Some((80.0, 3.744097384202887e-19));
        check(1200, 2000, 0.5, 3.505006206935571e-19, chi, TooManyClean);
        check(3, 4, 0.5, 0.625, None, AsExpected);
    }

    #[test]
    fn a_share_of_all_or_nothing_leaves_no_room() {
        let fits =
            |clean, scored, expected| Segregation::new(clean, scored, expected).map(|it| it.fits());
        assert_eq!(fits(7, 7, 1.0), Some(Fits::AsExpected));
        assert_eq!(fits(6, 7, 1.0), Some(Fits::TooFewClean));
        assert_eq!(fits(0, 7, 0.0), Some(Fits::AsExpected));
        assert_eq!(fits(1, 7, 0.0), Some(Fits::TooManyClean));
        assert_eq!(fits(0, 0, 0.5), None);
    }
}
