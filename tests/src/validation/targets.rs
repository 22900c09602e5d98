//! What validation must reach, and whether it did.

use super::summary::Summary;

/// A target, what was found, and whether that is enough.
#[derive(Clone, Debug, PartialEq)]
pub struct Target {
    /// What is asked, in words.
    pub asked: &'static str,
    /// What was found, in words.
    pub found: String,
    /// Whether it is met; a target that cannot be computed is not met.
    pub met: bool,
}

/// All targets, over all kinds together and over the null plots.
pub fn all(everything: &Summary, null: &Summary) -> Vec<Target> {
    let share = |asked, share: super::summary::Share, met: fn(f64) -> bool| Target {
        asked,
        found: format!(
            "{} ± {:.1} ({} of {})",
            percent(share.share()),
            100.0 * share.error,
            share.count,
            share.of
        ),
        met: share.share().is_some_and(met),
    };
    let area = everything.area;
    let areas = |asked, gap: Option<f64>, met: fn(f64) -> bool| Target {
        asked,
        found: gap.map_or_else(|| "–".to_owned(), |gap| format!("{gap:.3}")),
        met: gap.is_some_and(met),
    };
    vec![
        share("Wrong among proven: at most 5 %", everything.wrong, |wrong| wrong <= 0.05),
        share("Proven on null plots: at most 1 % of clean trees", null.proven, |p| p <= 0.01),
        areas(
            "Area under the ROC curve: at most 0.03 below the oracle",
            area.map(|area| area.oracle - area.luck),
            |gap| gap <= 0.03,
        ),
        areas(
            "Area under the ROC curve: at least 0.15 above the naive rule",
            area.map(|area| area.luck - area.naive),
            |gain| gain >= 0.15,
        ),
        share("Found of the oracle's proven trees: at least 60 %", everything.found, |f| f >= 0.6),
        share(
            "Oracle's luck within the 90 % interval: 85 to 95 % of trees",
            everything.covered,
            |covered| (0.85..=0.95).contains(&covered),
        ),
    ]
}

/// A share in percent.
pub fn percent(share: Option<f64>) -> String {
    share.map_or_else(|| "–".to_owned(), |share| format!("{:.1} %", 100.0 * share))
}
