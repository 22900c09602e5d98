//! What a cross shows beside what its genetics promise, in one sentence.

use proof::{CrossReport, Fits, Segregation};

use super::{estimate, number, percent};

/// `58 of 100 clean, 50 % expected: no more than chance (p 0.13 exact, χ² 2.56).`, and where too
/// many are clean, the share corrected for escapes.
pub fn segregation(cross: &CrossReport, counts: &Segregation) -> String {
    let told = match counts.fits() {
        Fits::AsExpected => "no more than chance".to_owned(),
        Fits::TooFewClean => "fewer than it allows".to_owned(),
        Fits::TooManyClean => format!("more than it allows{}", corrected(cross)),
    };
    let chi_square = counts
        .chi_square
        .map(|it| format!(", χ² {}", number((it * 100.0).round() / 100.0)))
        .unwrap_or_default();
    let p = match counts.p_exact {
        p if p < 0.001 => "p below 0.001".to_owned(),
        p => format!("p {}", number(p)),
    };
    format!(
        "{} of {} clean, {} expected: {told} ({p} exact{chi_square}).",
        counts.clean,
        counts.scored,
        percent(counts.expected)
    )
}

/// The share corrected for escapes, which is drawn towards the expected one.
fn corrected(cross: &CrossReport) -> String {
    let share = cross.resistant_share.as_ref().map(estimate);
    share.map_or_else(String::new, |share| format!("; corrected for escapes {share}"))
}
