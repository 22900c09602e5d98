//! One loop for every command that judges a disease, and what is said beside its numbers.

use anyhow::anyhow;
use plot::{Plot, Season};
use proof::{Options, Report, Run, Unusable, Verdict};
use scene::words;

use crate::progress::Progress;

/// Judges a disease in the seasons given (none: all).
///
/// # Errors
/// No trait of the plot counts for the disease.
pub(crate) fn judge(plot: &Plot, disease: &str, seasons: &[i32]) -> anyhow::Result<Report> {
    let seasons = seasons.iter().map(|&year| Season(year)).collect();
    let options = Options { seasons, ..Options::default() };
    let mut run = Run::new(plot, disease, &options).map_err(|unusable| match unusable {
        Unusable::NoSuchDisease { disease, known } => {
            anyhow!("--disease: found \"{disease}\", expected a disease of plot.json ({known})")
        }
    })?;
    let mut progress = Progress::new(format!("judging {}", words::disease(disease)));
    loop {
        let at = run.step();
        progress.at(at.done, at.of);
        if at.is_done() {
            return Ok(run.finish());
        }
    }
}

/// Says how much each season tested, what the data could not carry, and what proof means.
pub(crate) fn tell(plot: &Plot, report: &Report) {
    for season in &report.seasons {
        eprintln!("{}", words::season(plot, &report.disease, season));
    }
    for limit in &report.limits {
        eprintln!("{}", words::limit(&report.disease, limit));
    }
    if report.trees.iter().any(|tree| tree.judgement.verdict == Verdict::Proven) {
        eprintln!("{}", words::PROOF_IS_LOCAL);
    }
}
