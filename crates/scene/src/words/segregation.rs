//! What a cross shows beside what its genetics promise, in one sentence.

use language::say;
use proof::{CrossReport, Fits, Segregation};

use super::{estimate, number, percent};

/// `58 of 100 clean, 50 % expected: no more than chance (p 0.13 exact, χ² 2.56).`, and where too
/// many are clean, the share corrected for escapes.
pub fn segregation(cross: &CrossReport, counts: &Segregation) -> String {
    let told = match counts.fits() {
        Fits::AsExpected => say!("no more than chance").to_owned(),
        Fits::TooFewClean => say!("fewer than it allows").to_owned(),
        // The corrected share is drawn towards the expected one.
        Fits::TooManyClean => match cross.resistant_share.as_ref().map(estimate) {
            None => say!("more than it allows").to_owned(),
            Some(share) => say!("more than it allows; corrected for escapes {share}"),
        },
    };
    let p = match counts.p_exact {
        p if p < 0.001 => say!("p below {least:.3}", least = 0.001),
        p => format!("p {}", number(p)),
    };
    let mut tests = say!("{p} exact");
    if let Some(chi_square) = counts.chi_square {
        tests.push_str(&format!(", χ² {}", number((chi_square * 100.0).round() / 100.0)));
    }
    say!(
        "{clean} of {scored} clean, {expected} expected: {told} ({tests}).",
        clean = counts.clean,
        scored = counts.scored,
        expected = percent(counts.expected)
    )
}
