//! Runs along a row: whether infected trees of a row stand together.

use serde::Serialize;

use crate::{Test, Undefined};

/// The runs of one stretch of a row, or of several together.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Runs {
    /// Number of trees N.
    pub n: usize,
    /// How many say yes, m.
    pub yes: usize,
    /// Number of runs U: longest unbroken successions of equal values.
    pub runs: usize,
    /// Expectation of U.
    pub expected: f64,
    /// Variance of U.
    pub variance: f64,
    /// The test with continuity correction: clustered where z is far below 0.
    pub test: Test,
    /// Exact probability of at most that many runs; none for several stretches together.
    pub p_exact_less: Option<f64>,
}

/// The runs of one unbroken stretch of a row.
///
/// With U runs, m yes among N (Madden, Louie, Abt & Knoke 1982, *Phytopathology* 72:195):
/// `E = 1 + 2m(N − m)/N`, `s² = 2m(N − m)(2m(N − m) − N) / (N²(N − 1))`, `Z = (U + 0.5 − E)/s`;
/// clustered at the 5 % level where Z < −1.64. Exact (Wald & Wolfowitz 1940): with a = m, b = N − m,
/// `P(U = 2k) = 2 C(a−1, k−1) C(b−1, k−1) / C(N, a)` and
/// `P(U = 2k+1) = (C(a−1, k) C(b−1, k−1) + C(a−1, k−1) C(b−1, k)) / C(N, a)`.
///
/// # Errors
/// [`Undefined::Constant`] where all or none say yes (also for an empty stretch), or where N = 2,
/// so that U cannot vary.
pub fn runs(stretch: &[bool]) -> Result<Runs, Undefined> {
    let counted = Counted::of(stretch);
    let mut runs = counted.test(1)?;
    runs.p_exact_less = Some(counted.exact_less());
    Ok(runs)
}

/// The runs of several stretches together, as of a row broken by gaps, or of all rows of a plot:
/// U, E and s² are summed over the stretches that have both kinds of value, each stretch keeping
/// its own m. The corrected z is `(U + 0.5 − E)/s` of the sums.
///
/// # Errors
/// [`Undefined::Constant`] where no stretch has both kinds.
pub fn runs_together<'a>(
    stretches: impl IntoIterator<Item = &'a [bool]>,
) -> Result<Runs, Undefined> {
    let mut total = Counted::default();
    for stretch in stretches {
        let counted = Counted::of(stretch);
        if counted.yes > 0 && counted.yes < counted.n {
            total.n += counted.n;
            total.yes += counted.yes;
            total.runs += counted.runs;
            total.expected += counted.expected;
            total.variance += counted.variance;
        }
    }
    total.test(1)
}

/// A row cut where a tree is missing or was not scored: its unbroken stretches, in order.
pub fn stretches(row: &[Option<bool>]) -> Vec<Vec<bool>> {
    row.split(Option::is_none)
        .filter(|stretch| !stretch.is_empty())
        .map(|stretch| stretch.iter().copied().flatten().collect())
        .collect()
}

#[derive(Clone, Copy, Debug, Default)]
struct Counted {
    n: usize,
    yes: usize,
    runs: usize,
    expected: f64,
    variance: f64,
}

impl Counted {
    fn of(stretch: &[bool]) -> Self {
        let yes = stretch.iter().filter(|&&yes| yes).count();
        let changes = stretch.windows(2).filter(|pair| pair[0] != pair[1]).count();
        let n = stretch.len() as f64;
        let twice = 2.0 * yes as f64 * (stretch.len() - yes) as f64;
        Self {
            n: stretch.len(),
            yes,
            runs: changes + usize::from(!stretch.is_empty()),
            expected: 1.0 + twice / n,
            variance: twice * (twice - n) / (n * n * (n - 1.0)),
        }
    }

    fn test(&self, least_yes: usize) -> Result<Runs, Undefined> {
        if self.yes < least_yes || self.yes == self.n {
            return Err(Undefined::Constant);
        }
        let test = Test::new(self.runs as f64 + 0.5, self.expected, self.variance)
            .ok_or(Undefined::Constant)?;
        Ok(Runs {
            n: self.n,
            yes: self.yes,
            runs: self.runs,
            expected: self.expected,
            variance: self.variance,
            test,
            p_exact_less: None,
        })
    }

    /// Exact P(U ≤ runs).
    fn exact_less(&self) -> f64 {
        let (a, b) = (self.yes, self.n - self.yes);
        let all = log_choose(self.n, a);
        let share = |top: usize, bottom: usize| {
            let (c, d) = (log_choose(a - 1, top), log_choose(b - 1, bottom));
            libm::exp(c + d - all)
        };
        (2..=self.runs)
            .map(|u| {
                let k = u / 2;
                if u % 2 == 0 {
                    2.0 * share(k - 1, k - 1)
                } else {
                    share(k, k - 1) + share(k - 1, k)
                }
            })
            .sum::<f64>()
            .min(1.0)
    }
}

/// ln C(n, k); −∞ where k > n.
fn log_choose(n: usize, k: usize) -> f64 {
    if k > n {
        return f64::NEG_INFINITY;
    }
    let log_factorial = |x: usize| libm::lgamma(x as f64 + 1.0);
    log_factorial(n) - log_factorial(k) - log_factorial(n - k)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn marks(text: &str) -> Vec<bool> {
        text.bytes().map(|mark| mark == b'1').collect()
    }

    /// Values computed from the formula of Madden et al. 1982.
    #[test]
    fn worked_rows() {
        let check = |text: &str, u: usize, expected: f64, z: f64| {
            let found = runs(&marks(text)).expect("defined");
            assert_eq!(found.runs, u);
            assert!((found.expected - expected).abs() < 1e-12);
            assert!((found.test.z - z).abs() < 5e-4, "{}", found.test.z);
        };
        check("00000111111000000000", 3, 9.4, -3.262);
        check("01001000100100001001", 12, 9.4, 1.714);
        check("000111100011100000001100000000", 7, 13.6, -2.717);
        let first = runs(&marks("00000111111000000000")).expect("defined");
        assert!((first.variance.sqrt() - 1.80875).abs() < 5e-6);
        assert!((first.p_exact_less.expect("one stretch") - 0.000_516).abs() < 5e-7);
    }

    /// The exact probability against every arrangement of small rows.
    #[test]
    fn exact_by_enumeration() {
        for n in 3..10usize {
            for yes in 1..n {
                let rows: Vec<Vec<bool>> = (0u32..1 << n)
                    .filter(|bits| bits.count_ones() as usize == yes)
                    .map(|bits| (0..n).map(|at| bits >> at & 1 == 1).collect())
                    .collect();
                for row in &rows {
                    let found = runs(row).expect("defined");
                    let fewer = rows.iter().filter(|other| Counted::of(other).runs <= found.runs);
                    let share = fewer.count() as f64 / rows.len() as f64;
                    assert!((found.p_exact_less.expect("one stretch") - share).abs() < 1e-12);
                }
                let mean = rows.iter().map(|row| Counted::of(row).runs as f64).sum::<f64>()
                    / rows.len() as f64;
                assert!((mean - Counted::of(&rows[0]).expected).abs() < 1e-12);
            }
        }
    }

    #[test]
    fn a_gap_breaks_the_row() {
        let row = [Some(true), Some(true), None, Some(true), Some(false), Some(false), None];
        let cut = stretches(&row);
        assert_eq!(cut, [vec![true, true], vec![true, false, false]]);
        let together = runs_together(cut.iter().map(Vec::as_slice)).expect("one has both");
        let alone = runs(&cut[1]).expect("both");
        assert_eq!((together.n, together.runs, together.test), (3, 2, alone.test));
    }

    #[test]
    fn nothing_to_compare() {
        assert_eq!(runs(&[]), Err(Undefined::Constant));
        assert_eq!(runs(&[true, true]), Err(Undefined::Constant));
        assert_eq!(runs(&[true, false]), Err(Undefined::Constant));
        assert_eq!(runs_together([]), Err(Undefined::Constant));
    }
}
