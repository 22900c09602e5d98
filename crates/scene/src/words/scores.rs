//! A score in words: the number that was written down, and what it stands for.

use language::{count, say};
use plot::{Kind, Trait};

use super::{number, percent};

/// `5: about 25 % of leaves`, `38 mm`; without a value `could not be scored`.
pub fn score(of: &Trait, value: Option<f64>) -> String {
    let Some(value) = value else { return say!("could not be scored").to_owned() };
    match &of.kind {
        Kind::Ordinal(scale) => match scale.step(value) {
            Some(step) => format!("{}: {}", number(value), step.label),
            None => number(value),
        },
        Kind::Number { unit: Some(unit), .. } => format!("{}\u{a0}{unit}", number(value)),
        Kind::Number { unit: None, .. } => number(value),
    }
}

/// Share of tissue affected: `clean`, `2 % of the tissue`.
pub fn severity(severity: f64) -> String {
    match severity > 0.0 {
        true => say!("{share} of the tissue", share = percent(severity)),
        false => say!("clean").to_owned(),
    }
}

/// What of the scores a wide table for spreadsheets has no cell for; none where it has all.
pub fn left_out_of_table(scores: usize) -> Option<String> {
    (scores > 0).then(|| {
        count!(
            scores,
            "1 score left out: a later one of the same tree, trait and round is in the table",
            "{scores} scores left out: a later one of the same tree, trait and round is in the \
             table"
        )
    })
}
