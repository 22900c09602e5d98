//! `leeward proof`: verdict, luck and dose of each tree or genotype, with the facts beside them.

use std::path::PathBuf;

use anyhow::{Context, bail};
use clap::{Args, ValueEnum};
use plot::{GenotypeId, Plot, TreeIx};
use proof::{Judgement, Report};

use crate::Answer;
use crate::folder::Folder;
use crate::judge;
use crate::many;
use crate::table::{Cell, Format, Table, json, say};
use crate::whole::whole;

const COLUMNS: &[&str] = &[
    "tree_id",
    "genotype",
    "disease",
    "verdict",
    "luck",
    "luck_low",
    "luck_high",
    "dose",
    "seasons_scored",
    "rounds_scored",
    "worst_score",
    "neighbours_scored",
    "neighbours_infected",
    "nearest_infected_m",
    "expected_severity",
    "severity_gap",
];

/// Who is proven, who was merely missed: one line for each tree or graft that was scored.
#[derive(Args)]
pub(crate) struct Call {
    /// The plot folder, or a zip of one.
    #[arg(required_unless_present = "folders", conflicts_with = "folders")]
    plot: Option<PathBuf>,
    /// The disease, as the traits of plot.json name it.
    #[arg(long)]
    disease: String,
    /// What has a line: each tree or graft, or each genotype with its copies pooled.
    #[arg(long, value_enum, default_value_t = By::Tree, conflicts_with = "folders")]
    by: By,
    /// Only these seasons, named by the year they start in; without it, all.
    #[arg(long = "season", value_name = "YEAR", value_delimiter = ',')]
    seasons: Vec<i32>,
    /// How the table is written: csv unless given, or with --many always parquet.
    #[arg(long, value_enum)]
    format: Option<Written>,
    /// In place of the table the whole report as JSON: the fit, seasons, crosses with their
    /// position test, calibration, what is left over, reasons, and what would settle each tree.
    #[arg(long, conflicts_with_all = ["by", "format", "folders"])]
    whole: bool,
    #[command(flatten)]
    many: many::Options,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Written {
    /// RFC 4180, with a header line.
    Csv,
    /// A list of objects, one for each line; empty cells are null.
    Json,
    /// A partitioned data set (Apache Parquet), with --many.
    Parquet,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum By {
    /// Each tree or graft.
    Tree,
    /// Each genotype, its copies pooled.
    Genotype,
}

/// Judges and prints. 1 where nobody could be judged.
///
/// # Errors
/// A folder with faults, a disease that no trait counts for.
pub(crate) fn run(call: &Call) -> anyhow::Result<Answer> {
    let is_table = call.format != Some(Written::Parquet);
    if call.many.are_many() {
        if is_table && call.format.is_some() {
            bail!("--format: found a table, expected parquet: --many writes a data set");
        }
        return many::run(&call.many, &call.disease, &call.seasons);
    }
    if !is_table {
        bail!("--format: found parquet, expected csv or json: parquet is what --many writes");
    }
    let path = call.plot.as_deref().context("found no plot folder")?;
    let book = Folder::sound(path)?;
    let plot = book.plot();
    let report = judge::judge(plot, &call.disease, &call.seasons)?;
    if call.whole {
        say(&json(&whole(plot, &report)?)?)?;
    } else {
        let is_json = call.format == Some(Written::Json);
        let format = if is_json { Format::Json } else { Format::Csv };
        table(call.by, plot, &report).print(format)?;
    }
    judge::tell(&book, &report);
    Ok(if report.fit.is_some() { Answer::Done } else { Answer::No })
}

/// The table of a report.
pub(crate) fn table(by: By, plot: &Plot, report: &Report) -> Table {
    let mut table = Table::new(COLUMNS);
    match by {
        By::Tree => {
            for line in &report.trees {
                let genotype = plot.tree(line.tree).genotype();
                table.push(row(plot, report, &[line.tree], &genotype, &line.judgement));
            }
        }
        By::Genotype => {
            for line in &report.genotypes {
                table.push(row(plot, report, &line.trees, &line.genotype, &line.judgement));
            }
        }
    }
    table
}

/// A line; the ids of pooled copies are parted by spaces.
fn row(
    plot: &Plot,
    report: &Report,
    trees: &[TreeIx],
    genotype: &GenotypeId,
    judgement: &Judgement,
) -> Vec<Cell> {
    let ids: Vec<&str> = trees.iter().map(|&tree| plot.tree(tree).id().as_str()).collect();
    let nearest = judgement.neighbours.nearest_infected;
    vec![
        ids.join(" ").into(),
        genotype.as_str().into(),
        report.disease.as_str().into(),
        judgement.verdict.as_str().into(),
        judgement.luck.map(|luck| luck.value).into(),
        judgement.luck.map(|luck| luck.low).into(),
        judgement.luck.map(|luck| luck.high).into(),
        judgement.dose.into(),
        judgement.seasons_scored.into(),
        judgement.rounds_scored.into(),
        judgement.worst_score.into(),
        judgement.neighbours.scored.into(),
        judgement.neighbours.infected.into(),
        nearest.map(|nearest| nearest.distance_m).into(),
        judgement.expected_severity.into(),
        judgement.severity_gap.into(),
    ]
}
