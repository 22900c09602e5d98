//! `leeward vigour`: trunk area, growth, and numbers adjusted for the trend of the field.

use std::path::PathBuf;

use anyhow::{anyhow, bail};
use clap::{Args, ValueEnum};
use plot::{Plot, Season, TraitIx};
use scene::words;
use vigour::{Ranked, Run, SeasonFit, Trend, Vigour};

use crate::Answer;
use crate::folder::Folder;
use crate::judge;
use crate::progress::Progress;
use crate::table::{Cell, Format, Table};

const OF_TREES: &[&str] = &[
    "tree_id",
    "genotype",
    "trait",
    "season",
    "value",
    "area_cm2",
    "growth_cm2",
    "adjusted",
    "adjusted_se",
    "trend",
];
const OF_GENOTYPES: &[&str] =
    &["genotype", "trait", "season", "trees", "raw_mean", "adjusted", "adjusted_se"];
const OF_CROSSES: &[&str] = &[
    "seed_parent",
    "pollen_parent",
    "trait",
    "season",
    "trees",
    "raw_mean",
    "adjusted",
    "adjusted_se",
];

/// How strongly trees grow: one line for each tree and season in which it was measured.
#[derive(Args)]
pub(crate) struct Call {
    /// The plot folder, or a zip of one.
    plot: PathBuf,
    /// The trait: a trunk diameter or girth, a visual score, a yield. Without it, the plot's
    /// trait of vigour.
    #[arg(long = "trait", value_name = "ID")]
    of: Option<String>,
    /// The trend of the field that is taken out.
    #[arg(long, value_enum, default_value_t = Wanted::Auto)]
    trend: Wanted,
    /// What has a line: each tree, or each genotype or cross with two measured trees or more.
    #[arg(long, value_enum, default_value_t = By::Tree)]
    by: By,
    /// Says, too, how this disease goes with vigour.
    #[arg(long)]
    disease: Option<String>,
    /// How the table is written.
    #[arg(long, value_enum, default_value_t = Format::Csv)]
    format: Format,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Wanted {
    /// The best of none, rows, surface and ar1 by restricted likelihood.
    Auto,
    /// None.
    None,
    /// Neighbours' residuals.
    Papadakis,
    /// Rows, and places along them.
    Rows,
    /// A smooth surface.
    Surface,
    /// First-order autoregression along and across the rows.
    Ar1,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum By {
    Tree,
    Genotype,
    Cross,
}

/// Measures, adjusts and prints. 1 where no season could be adjusted.
///
/// # Errors
/// A folder with faults, a trait or disease that is not there, no trait of vigour.
pub(crate) fn run(call: &Call) -> anyhow::Result<Answer> {
    let book = Folder::sound(&call.plot)?;
    let plot = book.plot();
    let trait_ix = trait_of(plot, call.of.as_deref())?;
    let report =
        call.disease.as_ref().map(|disease| judge::judge(plot, disease, &[])).transpose()?;
    let found = adjusted(plot, trait_ix, call.trend.trend());
    match call.by {
        By::Tree => trees(plot, &found),
        By::Genotype => genotypes(plot, &found),
        By::Cross => crosses(plot, &found),
    }
    .print(call.format)?;
    for season in &found.seasons {
        words::trends(plot, season).iter().for_each(|told| eprintln!("{told}"));
    }
    if let Some(report) = &report {
        let link = vigour::link(plot, trait_ix, &report.disease);
        let name = words::disease(plot, &report.disease);
        eprintln!("{}", words::vigour_link(&name, &link));
        if let Some(fit) = &report.fit {
            eprintln!("{}", words::vigour_effect(&name, fit.vigour_effect));
        }
    }
    let is_adjusted = |season: &SeasonFit| !matches!(season.trend, None | Some(Trend::None));
    if found.seasons.iter().any(is_adjusted) {
        eprintln!("{}", words::trend_caution());
    }
    let any = found.seasons.iter().any(|season| season.trend.is_some());
    Ok(if any { Answer::Done } else { Answer::No })
}

fn adjusted(plot: &Plot, trait_ix: TraitIx, trend: Option<Trend>) -> Vigour {
    let mut run = Run::new(plot, trait_ix, trend);
    let mut progress = Progress::new("taking out the trend");
    loop {
        let at = run.step();
        progress.at(at.done, at.of);
        if at.is_done() {
            return run.finish();
        }
    }
}

impl Wanted {
    fn trend(self) -> Option<Trend> {
        match self {
            Self::Auto => None,
            Self::None => Some(Trend::None),
            Self::Papadakis => Some(Trend::Papadakis),
            Self::Rows => Some(Trend::Rows),
            Self::Surface => Some(Trend::Surface),
            Self::Ar1 => Some(Trend::Ar1),
        }
    }
}

fn trait_of(plot: &Plot, given: Option<&str>) -> anyhow::Result<TraitIx> {
    let known: Vec<&str> = plot.head().traits.iter().map(|one| one.id.as_str()).collect();
    let known = known.join(", ");
    match given {
        Some(id) => plot.trait_ix(id).ok_or_else(|| {
            anyhow!("--trait: found \"{id}\", expected a trait of plot.json ({known})")
        }),
        None => match plot.vigour_trait() {
            Some(ix) => Ok(ix),
            None => bail!(
                "--trait: found none, expected a trait of plot.json ({known}), or a trait called \
                 trunk_diameter, trunk_girth or vigour there"
            ),
        },
    }
}

fn trees(plot: &Plot, found: &Vigour) -> Table {
    let mut table = Table::new(OF_TREES);
    for line in &found.lines {
        let (measured, adjusted) = (&line.measured, line.adjusted);
        let tree = plot.tree(measured.tree);
        table.push(vec![
            tree.id().as_str().into(),
            tree.genotype().as_str().into(),
            plot.trait_of(found.trait_ix).id.as_str().into(),
            year(measured.season),
            measured.value.into(),
            measured.area_cm2.into(),
            measured.growth.map(|growth| growth.area_cm2).into(),
            adjusted.map(|value| value.adjusted).into(),
            adjusted.map(|value| value.standard_error).into(),
            adjusted.map(|value| value.trend).into(),
        ]);
    }
    table
}

fn genotypes(plot: &Plot, found: &Vigour) -> Table {
    let mut table = Table::new(OF_GENOTYPES);
    for season in &found.seasons {
        for (genotype, ranked) in &season.genotypes {
            let mut row = vec![genotype.as_str().into()];
            row.extend(rank(plot, found, season, ranked));
            table.push(row);
        }
    }
    table
}

fn crosses(plot: &Plot, found: &Vigour) -> Table {
    let mut table = Table::new(OF_CROSSES);
    for season in &found.seasons {
        for (cross, ranked) in &season.crosses {
            let mut row =
                vec![cross.seed_parent.as_deref().into(), cross.pollen_parent.as_deref().into()];
            row.extend(rank(plot, found, season, ranked));
            table.push(row);
        }
    }
    table
}

fn rank(plot: &Plot, found: &Vigour, season: &SeasonFit, ranked: &Ranked) -> [Cell; 6] {
    [
        plot.trait_of(found.trait_ix).id.as_str().into(),
        year(season.season),
        ranked.trees.into(),
        ranked.raw_mean.into(),
        ranked.adjusted().into(),
        ranked.predicted.map(|effect| effect.standard_error).into(),
    ]
}

/// A season by the year it starts in, a number also in JSON.
fn year(season: Season) -> Cell {
    u64::try_from(season.0).map_or_else(|_| season.to_string().into(), Cell::Count)
}
