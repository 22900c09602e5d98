//! `leeward proof --many`: many plots judged side by side, into one data set that engines query.

mod columns;
mod found;
mod hive;
mod side_by_side;

use std::num::NonZeroUsize;
use std::path::{Path, PathBuf};

use anyhow::{Context, bail};
use clap::Args;
use plot::{Plot, Season};
use proof::Report;
use scene::words;

use crate::Answer;
use crate::folder::{Folder, counted};
use crate::judge;
use crate::out::{must_be_free, write_file};
use crate::progress::{self, Progress};
use found::Found;

/// What is asked of many plots.
#[derive(Args)]
pub(crate) struct Options {
    /// In place of PLOT: plot folders, and folders that hold plot folders.
    #[arg(long = "many", value_name = "FOLDER", num_args = 1.., requires = "out")]
    folders: Vec<PathBuf>,
    /// With --many: the folder to write, which must not be there yet.
    #[arg(long, value_name = "DIR", requires = "folders")]
    out: Option<PathBuf>,
    /// With --many: plots judged at a time; without it, one for each processor.
    #[arg(long, value_name = "N", requires = "folders", value_parser = clap::value_parser!(u16).range(1..=1024))]
    jobs: Option<u16>,
    /// With --many: each plot judged up to each of its seasons as well, a partition for each.
    #[arg(long, requires = "folders")]
    each_season: bool,
}

impl Options {
    /// Whether many plots are meant.
    pub(crate) fn are_many(&self) -> bool {
        !self.folders.is_empty()
    }
}

/// What became of a plot, and what is to be said of it.
struct Done {
    outcome: Outcome,
    said: Vec<String>,
    files: usize,
    trees: usize,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Outcome {
    /// At least one tree was judged.
    Judged,
    /// Nobody could be judged; what was scored is in the data set.
    Nobody,
    /// No trait of the plot counts for the disease.
    Elsewhere,
    /// The folder has faults, or its files could not be written.
    Failed,
}

/// Judges the plots and writes `OUT/plot=NAME/season=YEAR/part-0.parquet` for each, the season
/// being the last one judged. 2 where a plot has faults, or none knows the disease; 1 where nobody
/// could be judged.
///
/// # Errors
/// An OUT that is there already, no plot, plots of one name.
pub(crate) fn run(options: &Options, disease: &str, seasons: &[i32]) -> anyhow::Result<Answer> {
    let out = options.out.as_deref().context("--out: found nothing, expected a folder to write")?;
    must_be_free(out)?;
    let plots = found::plots(&options.folders)?;
    let jobs = options.jobs.map_or_else(
        || std::thread::available_parallelism().map_or(1, NonZeroUsize::get),
        usize::from,
    );
    let task = Task { disease, seasons, each_season: options.each_season, out };
    let mut all = Vec::with_capacity(plots.len());
    let (mut files, mut trees) = (0, 0);
    let mut progress = Progress::new("judging plots");
    side_by_side::run(
        jobs,
        &plots,
        |plot| task.one(plot),
        |done, judged| {
            if let Some(judged) = judged {
                if !judged.said.is_empty() {
                    progress.clear();
                }
                judged.said.iter().for_each(|line| eprintln!("{line}"));
                all.push(judged.outcome);
                files += judged.files;
                trees += judged.trees;
            }
            progress.at(done, plots.len());
        },
    );
    drop(progress);
    let count = |of: Outcome| all.iter().filter(|&&outcome| outcome == of).count();
    let (judged, failed) = (count(Outcome::Judged), count(Outcome::Failed));
    if count(Outcome::Elsewhere) == plots.len() {
        bail!("--disease: found \"{disease}\", expected a disease that one of the plots knows");
    }
    eprintln!(
        "{}: {} of {} judged, {}, {}",
        out.display(),
        judged,
        counted(plots.len(), "plot"),
        counted(trees, "line"),
        counted(files, "file")
    );
    Ok(match (failed, judged) {
        (1.., _) => Answer::Unusable,
        (0, 0) => Answer::No,
        (0, _) => Answer::Done,
    })
}

/// What is done with each plot.
struct Task<'a> {
    disease: &'a str,
    seasons: &'a [i32],
    each_season: bool,
    out: &'a Path,
}

impl Task<'_> {
    fn one(&self, found: &Found) -> Done {
        progress::hush();
        let mut done = Done { outcome: Outcome::Failed, said: Vec::new(), files: 0, trees: 0 };
        if let Err(error) = self.fill(found, &mut done) {
            done.outcome = Outcome::Failed;
            done.said.push(format!("{error:#}"));
        }
        done
    }

    fn fill(&self, found: &Found, done: &mut Done) -> anyhow::Result<()> {
        let (said, book) = Folder::read(&found.path)?.checked(&found.path);
        done.said = said;
        let book = book?;
        let plot = book.plot();
        let place = found.path.display();
        if plot.traits_of_disease(self.disease).is_empty() {
            done.outcome = Outcome::Elsewhere;
            let known = plot.diseases().join(", ");
            let disease = self.disease;
            done.said.push(format!("{place}: no trait counts for \"{disease}\" ({known})"));
            return Ok(());
        }
        done.outcome = Outcome::Nobody;
        let looked = judge::run_of(plot, self.disease, self.seasons)?.seasons();
        let looked: Vec<Season> = looked.iter().map(|seen| seen.season).collect();
        let first = if self.each_season { 1 } else { looked.len().max(1) };
        for so_far in (first..=looked.len()).map(|end| &looked[..end]) {
            let years: Vec<i32> = so_far.iter().map(|season| season.0).collect();
            let report = judge::judge(plot, self.disease, &years)?;
            done.trees += self.write(found, plot, years[years.len() - 1], &report)?;
            done.files += 1;
            if report.fit.is_some() {
                done.outcome = Outcome::Judged;
            }
            if so_far.len() == looked.len() {
                let name = words::disease(plot, self.disease);
                let limit = |limit| format!("{place}: {}", words::limit(&name, limit));
                done.said.extend(report.limits.iter().map(limit));
            }
        }
        if looked.is_empty() {
            done.said.push(format!("{place}: nobody was scored for {}", self.disease));
        }
        Ok(())
    }

    /// Writes a partition; how many lines it has.
    fn write(
        &self,
        found: &Found,
        plot: &Plot,
        year: i32,
        report: &Report,
    ) -> anyhow::Result<usize> {
        let frame = columns::frame(plot, report);
        let name = found.name.as_deref().unwrap_or(&plot.head().name);
        let folder = self.out.join(hive::partition("plot", name));
        let folder = folder.join(hive::partition("season", &year.to_string()));
        write_file(&folder.join("part-0.parquet"), &databases::parquet(&frame)?)?;
        Ok(frame.len())
    }
}
