//! `leeward simulate`: a made-up plot folder with its truth beside it.

use std::path::PathBuf;

use anyhow::bail;
use clap::Args;
use clap::builder::PossibleValuesParser;
use epidemic::{DiseaseTruth, Kind, MadeUp, Recipe, demo};

use crate::Answer;
use crate::folder;
use crate::progress::timed;

/// Name of the kind that is the demo plot.
const DEMO: &str = "demo";
/// Where the truth goes.
const TRUTH: &str = "truth.csv";

/// A made-up plot folder with its truth beside it.
#[derive(Args)]
pub(crate) struct Call {
    /// The folder to write; files that are there already are never written over.
    out: PathBuf,
    /// The same seed, kind and numbers give the same files.
    #[arg(long)]
    seed: u64,
    /// Kind of plot; `demo` is the invented orchard that comes with the program.
    #[arg(long, default_value = "blocks", value_parser = kinds())]
    kind: String,
    /// Number of rows, in place of the kind's own.
    #[arg(long, value_parser = clap::value_parser!(u32).range(1..=2000))]
    rows: Option<u32>,
    /// Places in each row, in place of the kind's own.
    #[arg(long, value_parser = clap::value_parser!(u32).range(1..=2000))]
    places: Option<u32>,
    /// Number of seasons, in place of the kind's own.
    #[arg(long, value_parser = clap::value_parser!(u32).range(1..=30))]
    seasons: Option<u32>,
    /// Leave out truth.csv.
    #[arg(long)]
    no_truth: bool,
}

fn kinds() -> PossibleValuesParser {
    PossibleValuesParser::new(Kind::ALL.iter().map(|kind| kind.as_str()).chain([DEMO]))
}

/// Makes the plot and writes it.
///
/// # Errors
/// A file of the plot that is there already, a folder that cannot be written.
pub(crate) fn run(call: &Call) -> anyhow::Result<Answer> {
    let recipe = recipe(call);
    let made = timed("making up", || epidemic::make(&recipe, call.seed))?;
    let ends = recipe.row_ends.each_ref().map(Option::as_deref);
    let mut files = files::write_with_ends(&made.plot, ends);
    if !call.no_truth {
        files.insert(TRUTH.to_owned(), truth_csv(&made)?);
    }
    for name in files.keys() {
        let path = call.out.join(name);
        if path.exists() {
            bail!("{}: found a file, expected none: nothing is written over", path.display());
        }
    }
    folder::write(&call.out, &files)?;
    eprintln!(
        "{}: {} trees, {} scores, seed {}",
        made.plot.head().name,
        made.plot.trees().len(),
        made.plot.scores().len(),
        call.seed
    );
    Ok(Answer::Done)
}

fn recipe(call: &Call) -> Recipe {
    let mut recipe = match Kind::parse(&call.kind) {
        Some(kind) => kind.recipe(call.seed),
        None => demo::recipe(),
    };
    recipe.planting.rows = call.rows.unwrap_or(recipe.planting.rows);
    recipe.planting.places = call.places.unwrap_or(recipe.planting.places);
    recipe.seasons = call.seasons.map_or(recipe.seasons, |seasons| seasons as usize);
    recipe
}

/// One line for each tree and disease, in the order of the recipe's diseases and of the trees.
fn truth_csv(made: &MadeUp) -> anyhow::Result<Vec<u8>> {
    let seasons = made.truth.iter().flat_map(|truth| truth.trees.first());
    let seasons = seasons.map(|tree| tree.infected_on.len()).max().unwrap_or(0);
    let mut csv = csv::Writer::from_writer(Vec::new());
    let fixed = ["tree_id", "disease", "resistant", "susceptibility", "frailty", "true_dose"];
    let infected_on = (1..=seasons).map(|season| format!("infected_on_season_{season}"));
    csv.write_record(fixed.map(str::to_owned).into_iter().chain(infected_on))?;
    for truth in &made.truth {
        for (tree, id) in made.plot.trees_ix().map(|(ix, tree)| (ix, tree.id())) {
            csv.write_record(truth_cells(truth, tree, id.as_str()))?;
        }
    }
    Ok(csv.into_inner()?)
}

fn truth_cells(truth: &DiseaseTruth, tree: plot::TreeIx, id: &str) -> Vec<String> {
    let of_tree = truth.tree(tree);
    let mut cells = vec![
        id.to_owned(),
        truth.disease.clone(),
        of_tree.resistant.to_string(),
        format!("{:.6}", of_tree.susceptibility),
        format!("{:.6}", of_tree.frailty),
        format!("{:.6}", of_tree.dose),
    ];
    let day = |on: &Option<_>| on.map_or_else(String::new, |day| plot::When::on(day).to_string());
    cells.extend(of_tree.infected_on.iter().map(day));
    cells
}
