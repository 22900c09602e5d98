//! The columns of a partition: those of `leeward proof`, and what one would join to them.

use databases::{Frame, Values};
use plot::{Plot, Tree};
use proof::Report;

use crate::proof::{By, table};
use crate::table::{Cell, Table};

/// Columns of the table that hold words; the others hold numbers.
const WORDS: &[&str] = &["tree_id", "genotype", "disease", "verdict"];
/// Columns of the table that count.
const COUNTS: &[&str] =
    &["seasons_scored", "rounds_scored", "neighbours_scored", "neighbours_infected"];

/// One line for each tree or graft that was scored, as `leeward proof` gives them, then
/// `seed_parent`, `pollen_parent`, `row`, `place`. Types do not depend on what was found.
pub(super) fn frame(plot: &Plot, report: &Report) -> Frame {
    let mut frame = Frame::default();
    let table: Table = table(By::Tree, plot, report);
    for (name, cells) in table.columns() {
        frame.push(name, values(name, cells));
    }
    let trees = || report.trees.iter().map(|line| plot.tree(line.tree));
    let words = |of: fn(&Tree) -> Option<&str>| {
        Values::Text(trees().map(|tree| of(tree).map(str::to_owned)).collect())
    };
    let whole = |of: fn(&Tree) -> Option<i32>| {
        Values::Whole(trees().map(|tree| of(tree).map(i64::from)).collect())
    };
    frame.push("seed_parent", words(|tree| tree.cross().seed_parent.as_deref()));
    frame.push("pollen_parent", words(|tree| tree.cross().pollen_parent.as_deref()));
    frame.push("row", whole(Tree::row));
    frame.push("place", whole(Tree::place));
    frame
}

fn values<'a>(name: &str, cells: impl Iterator<Item = &'a Cell>) -> Values {
    if WORDS.contains(&name) {
        Values::Text(cells.map(|cell| taken(name, cell, word)).collect())
    } else if COUNTS.contains(&name) {
        Values::Whole(cells.map(|cell| taken(name, cell, count)).collect())
    } else {
        Values::Number(cells.map(|cell| taken(name, cell, number)).collect())
    }
}

/// What a cell holds; none where it is empty.
fn taken<T>(name: &str, cell: &Cell, of: fn(&Cell) -> Option<T>) -> Option<T> {
    (*cell != Cell::Empty).then(|| of(cell).unwrap_or_else(|| panic!("column {name}: {cell:?}")))
}

fn word(cell: &Cell) -> Option<String> {
    if let Cell::Text(text) = cell { Some(text.clone()) } else { None }
}

fn count(cell: &Cell) -> Option<i64> {
    if let Cell::Count(count) = cell { i64::try_from(*count).ok() } else { None }
}

fn number(cell: &Cell) -> Option<f64> {
    if let Cell::Number(number) = cell { Some(*number) } else { None }
}
