//! `leeward near`: a tree's nearest neighbours, and what each of them can tell.

use anyhow::anyhow;
use clap::Args;
use plot::{Plot, TreeIx};
use proof::{Neighbour, Report};
use scene::words;

use crate::Answer;
use crate::asked::Asked;
use crate::folder::Folder;
use crate::judge;
use crate::table::{Cell, Table};

const COLUMNS: &[&str] = &[
    "tree_id",
    "distance_m",
    "bearing_deg",
    "tag",
    "cross",
    "trait",
    "score",
    "severity",
    "scored_on",
    "could_have",
];

/// A tree's nearest neighbours with distance, bearing, worst score and its date.
#[derive(Args)]
pub(crate) struct Call {
    #[command(flatten)]
    asked: Asked,
    /// The tree_id of the tree.
    #[arg(long)]
    tree: String,
    /// How many neighbours.
    #[arg(long, default_value_t = 12, value_parser = clap::value_parser!(u32).range(1..=10_000))]
    count: u32,
}

/// Prints the neighbours, nearest first, ties by tree id. 1 where there are none.
///
/// # Errors
/// A folder with faults, a tree that is not in it, a disease that no trait counts for.
pub(crate) fn run(call: &Call) -> anyhow::Result<Answer> {
    let book = Folder::sound(&call.asked.plot)?;
    let plot = book.plot();
    let tree = plot.tree_ix(&call.tree).ok_or_else(|| no_such_tree(plot, &call.tree))?;
    let report = judge::judge(plot, &call.asked.disease, &[])?;
    let near = proof::near(plot, Some(&report), tree, &call.asked.disease, call.count as usize);
    let mut table = Table::new(COLUMNS);
    for neighbour in &near {
        table.push(row(plot, neighbour));
    }
    table.print(call.asked.format)?;
    tell(plot, &report, tree);
    Ok(if near.is_empty() { Answer::No } else { Answer::Done })
}

/// A person may give what the tag says instead of the id.
fn no_such_tree(plot: &Plot, given: &str) -> anyhow::Error {
    let tagged: Vec<&str> = plot
        .trees()
        .iter()
        .filter(|tree| tree.tag() == Some(given))
        .map(|tree| tree.id().as_str())
        .collect();
    match tagged[..] {
        [] => anyhow!("--tree: found \"{given}\", expected a tree_id of trees.csv"),
        _ => anyhow!(
            "--tree: found \"{given}\", which is the tag of {}, expected a tree_id of trees.csv",
            tagged.join(", ")
        ),
    }
}

fn row(plot: &Plot, neighbour: &Neighbour) -> Vec<Cell> {
    let tree = plot.tree(neighbour.tree);
    let cross = (!tree.cross().is_unknown()).then(|| tree.cross().to_string());
    let (trait_ix, score, scored_on) = match neighbour.known.worst {
        Some((trait_ix, score, on)) => (Some(trait_ix), Some(score), Some(on.to_string())),
        None => (None, None, None),
    };
    vec![
        tree.id().as_str().into(),
        neighbour.distance_m.into(),
        neighbour.bearing_deg.into(),
        tree.tag().into(),
        cross.into(),
        trait_ix.map(|trait_ix| plot.trait_of(trait_ix).id.as_str()).into(),
        score.into(),
        neighbour.known.severity.into(),
        scored_on.into(),
        neighbour.could_have.into(),
    ]
}

/// Says what is known of the tree itself.
fn tell(plot: &Plot, report: &Report, tree: TreeIx) {
    let name = words::tree(plot, tree);
    match report.tree(tree) {
        None => eprintln!("{name}: {}", words::unscored()),
        Some(line) => {
            let disease = words::disease(plot, &report.disease);
            eprintln!("{name}: {}", words::judgement(&disease, &line.judgement));
            for reason in words::reasons(plot, &report.disease, &line.judgement) {
                eprintln!("{reason}");
            }
        }
    }
}
