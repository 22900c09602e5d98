//! What a cross shows beside what its genetics promise, in one sentence.

use proof::{CrossReport, Fits, Segregation};

use super::{number, percent};

/// `58 of 100 clean, 50 % expected: no more than chance (p 0.13 exact, χ² 2.56).`, and where too
/// many are clean, whether escapes explain it.
pub fn segregation(cross: &CrossReport, counts: &Segregation) -> String {
    let rounded = |value: f64| number((value * 1000.0).round() / 1000.0);
    let told = match counts.fits() {
        Fits::AsExpected => "no more than chance".to_owned(),
        Fits::TooFewClean => "fewer than it allows".to_owned(),
        Fits::TooManyClean => format!("more than it allows{}", escapes(cross, counts)),
    };
    let chi_square = counts
        .chi_square
        .map(|it| format!(", χ² {}", number((it * 100.0).round() / 100.0)))
        .unwrap_or_default();
    let p = match counts.p_exact {
        p if p < 0.001 => "p below 0.001".to_owned(),
        p => format!("p {}", rounded(p)),
    };
    format!(
        "{} of {} clean, {} expected: {told} ({p} exact{chi_square}).",
        counts.clean,
        counts.scored,
        percent(counts.expected)
    )
}

/// Whether the share corrected for escapes holds the expected one.
fn escapes(cross: &CrossReport, counts: &Segregation) -> &'static str {
    match cross.resistant_share {
        Some(share) if (share.low..=share.high).contains(&counts.expected) => {
            ", and escapes explain it"
        }
        _ => "",
    }
}
