//! One loop for every command that judges a disease, and what is said beside its numbers.

use anyhow::anyhow;
use files::Book;
use plot::{Plot, Season};
use proof::{Options, Report, Run, Unusable, Verdict};
use scene::words;

use crate::progress::Progress;

/// A judgement that has not begun, of a disease in the seasons given (none: all).
///
/// # Errors
/// No trait of the plot counts for the disease.
pub(crate) fn run_of(plot: &Plot, disease: &str, seasons: &[i32]) -> anyhow::Result<Run> {
    let seasons = seasons.iter().map(|&year| Season(year)).collect();
    let options = Options { seasons, ..Options::default() };
    Run::new(plot, disease, &options).map_err(|unusable| match unusable {
        Unusable::NoSuchDisease { disease, known } => no_such_disease(&disease, &known),
    })
}

/// What is said where no trait counts for a disease; `known` names those that some do.
pub(crate) fn no_such_disease(disease: &str, known: &str) -> anyhow::Error {
    anyhow!("--disease: found \"{disease}\", expected a disease of plot.json ({known})")
}

/// Judges a disease in the seasons given (none: all).
///
/// # Errors
/// As [`run_of`].
pub(crate) fn judge(plot: &Plot, disease: &str, seasons: &[i32]) -> anyhow::Result<Report> {
    let mut run = run_of(plot, disease, seasons)?;
    let mut progress = Progress::new(format!("judging {}", words::disease(plot, disease)));
    loop {
        let at = run.step();
        progress.at(at.done, at.of);
        if at.is_done() {
            return Ok(run.finish());
        }
    }
}

/// Says how much each season tested, what the data could not carry, and what proof means.
pub(crate) fn tell(book: &Book, report: &Report) {
    let plot = book.plot();
    for seen in &report.seasons {
        let test = words::season_test(plot, book.weather(), &report.disease, seen);
        eprintln!("{}", words::season(plot, &report.disease, seen, &test).join(" "));
    }
    let name = words::disease(plot, &report.disease);
    for limit in &report.limits {
        eprintln!("{}", words::limit(&name, limit));
    }
    if report.trees.iter().any(|tree| tree.judgement.verdict == Verdict::Proven) {
        eprintln!("{}", words::proof_is_local());
    }
}
