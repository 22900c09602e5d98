//! `leeward progress`: how a disease went on on each tree, as areas under its curve and its stairs.

use ::season::{TreeProgress, progress_of};
use clap::Args;
use plot::{Plot, TraitIx};
use scene::words;

use crate::Answer;
use crate::asked::Asked;
use crate::folder::Folder;
use crate::judge::no_such_disease;
use crate::table::Table;

const COLUMNS: &[&str] = &[
    "tree_id",
    "genotype",
    "disease",
    "trait",
    "season",
    "looks",
    "first_look",
    "last_look",
    "days",
    "audpc",
    "audps",
];

/// How a disease went on on each tree: one line for each tree, trait and season in which it was read.
#[derive(Args)]
pub(crate) struct Call {
    #[command(flatten)]
    asked: Asked,
}

/// Adds up and prints. 1 where no tree was read on two days of a season.
///
/// # Errors
/// A folder with faults, a disease that no trait counts for.
pub(crate) fn run(call: &Call) -> anyhow::Result<Answer> {
    let book = Folder::sound(&call.asked.plot)?;
    let plot = book.plot();
    let traits = plot.traits_of_disease(&call.asked.disease);
    if traits.is_empty() {
        return Err(no_such_disease(&call.asked.disease, &plot.diseases().join(", ")));
    }
    let of_trait = |&ix: &TraitIx| progress_of(plot, ix).into_iter().map(move |curve| (ix, curve));
    let mut curves: Vec<(TraitIx, TreeProgress)> = traits.iter().flat_map(of_trait).collect();
    curves.sort_by_key(|(ix, curve)| (curve.tree, *ix, curve.season));
    let mut table = Table::new(COLUMNS);
    for (ix, curve) in &curves {
        line(&mut table, plot, &call.asked.disease, *ix, curve);
    }
    table.print(call.asked.format)?;
    eprintln!("{}", words::area_unit());
    let any = curves.iter().any(|(_, curve)| curve.audpc().is_ok());
    Ok(if any { Answer::Done } else { Answer::No })
}

fn line(table: &mut Table, plot: &Plot, disease: &str, ix: TraitIx, curve: &TreeProgress) {
    let tree = plot.tree(curve.tree);
    let days = usize::try_from(curve.days()).ok().filter(|_| curve.readings.len() > 1);
    table.push(vec![
        tree.id().as_str().into(),
        tree.genotype().as_str().into(),
        disease.into(),
        plot.trait_of(ix).id.as_str().into(),
        words::season_name(plot, curve.season).into(),
        curve.readings.len().into(),
        curve.readings.first().map(|(day, _)| day.to_string()).into(),
        curve.readings.last().map(|(day, _)| day.to_string()).into(),
        days.into(),
        curve.audpc().ok().into(),
        curve.audps().ok().into(),
    ]);
}
