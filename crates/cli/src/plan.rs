//! `leeward plan`: what to do next about a disease, and the walk that goes with it.

use ::walk::{Route, Rows, Wish};
use clap::Args;
use plot::{Plot, TreeIx};
use proof::{MOST_PROMISING, Plan, Promising, Way};

use crate::Answer;
use crate::asked::Asked;
use crate::folder::Folder;
use crate::judge;
use crate::table::{Cell, Table};

const COLUMNS: &[&str] = &[
    "what",
    "tree_id",
    "row",
    "place",
    "luck",
    "luck_after_season",
    "way",
    "seasons",
    "tells",
    "trees_near",
];

/// What to do next: trees worth another season, scores that are missing, places for checks.
#[derive(Args)]
pub(crate) struct Call {
    #[command(flatten)]
    asked: Asked,
    /// Promising trees at the heart of the plan, at the most.
    #[arg(long, default_value_t = MOST_PROMISING)]
    most: usize,
    /// The trees that the next walk goes to, in walking order, in place of the plan.
    #[arg(long)]
    walk: bool,
}

/// Judges, plans, and prints. 1 where there is nothing to do.
///
/// # Errors
/// A folder with faults, a disease that no trait counts for.
pub(crate) fn run(call: &Call) -> anyhow::Result<Answer> {
    let book = Folder::sound(&call.asked.plot)?;
    let plot = book.plot();
    let report = judge::judge(plot, &call.asked.disease, &[])?;
    let plan = Plan::of(plot, &report, call.most);
    let table = if call.walk { walk(plot, plan.route) } else { of(plot, &plan) };
    table.print(call.asked.format)?;
    judge::tell(&book, &report);
    Ok(if table.is_empty() { Answer::No } else { Answer::Done })
}

fn of(plot: &Plot, plan: &Plan) -> Table {
    let mut table = Table::new(COLUMNS);
    for one in &plan.promising {
        let Promising { tree, luck, luck_after_season, way } = *one;
        let (way, seasons) = match way {
            Way::Stay(seasons) => ("stay", Some(seasons as usize)),
            Way::Graft(seasons) => ("graft", Some(seasons as usize)),
            Way::Elsewhere => ("elsewhere", None),
        };
        let settles = [luck.into(), luck_after_season.into(), way.into(), seasons.into()];
        table.push(line(plot, "watch", tree, settles, [Cell::Empty, Cell::Empty]));
    }
    const NOTHING: [Cell; 4] = [Cell::Empty, Cell::Empty, Cell::Empty, Cell::Empty];
    for one in &plan.scores {
        table.push(line(plot, "score", one.tree, NOTHING, [one.tells.into(), one.near.into()]));
    }
    for one in &plan.checks {
        table.push(line(plot, "check", one.place, NOTHING, [one.gain.into(), one.near.into()]));
    }
    table
}

fn line(plot: &Plot, what: &str, tree: TreeIx, settles: [Cell; 4], tells: [Cell; 2]) -> Vec<Cell> {
    let place = place(plot, tree);
    [Cell::from(what)].into_iter().chain(place).chain(settles).chain(tells).collect()
}

/// Id, row and place.
fn place(plot: &Plot, tree: TreeIx) -> [Cell; 3] {
    let one = plot.tree(tree);
    let whole = |number: Option<i32>| number.map(|number| number.to_string()).into();
    [one.id().as_str().into(), whole(one.row()), whole(one.place())]
}

/// The serpentine from the first place of the first row.
fn walk(plot: &Plot, route: impl IntoIterator<Item = TreeIx>) -> Table {
    let only = route.into_iter().map(|tree| plot.tree(tree).id().clone()).collect();
    let wish = Wish { only: Some(only), ..Wish::default() };
    let stops = Route::plan(plot, &Rows::of(plot), &wish, |_| false, |_| false).stops;
    let mut table = Table::new(&["tree_id", "row", "place"]);
    stops.into_iter().for_each(|tree| table.push(place(plot, tree).to_vec()));
    table
}
