//! A new tree: where it stands, and what is known of it.

use language::say;
use time::Date;

use super::{Plan, Stand, numbered, place_of, place_words};
use crate::words::{capital, cell_of};
use crate::{
    EditPart, Plot, Refusal, Spot, Status, Tree, TreeField as F, TreeIx, TreeLine, WhereGiven,
};

/// Plants a tree of what is known by column; nothing of any other tree goes over to it. Without a
/// day it stands already, nobody knows since when.
pub(super) fn plan(
    plot: &Plot,
    stand: &Stand,
    cells: &[(F, String)],
    day: Option<Date>,
) -> Result<Plan, Refusal> {
    let id = plot.next_tree_id();
    let Put { at, words: place, moved } = put(plot, stand)?;
    let line = TreeLine::new(id.clone()).with(F::PlantedOn, cell_of(day));
    let line = cells
        .iter()
        .fold(at_place(line, &at), |line, (field, text)| line.with(*field, text.trim()));
    let named = match line.cell(F::Tag) {
        "" => id.to_string(),
        tag => tag.to_owned(),
    };
    let words = match day {
        Some(_) => say!("Planted {named} in {place}"),
        None => say!("Entered {named} in {place}"),
    };
    let place = capital(&place);
    let mut will_be = vec![match day {
        Some(day) => say!("{place}: a new tree {id}, planted {day}."),
        None => say!("{place}: a new tree {id}, planted nobody knows when."),
    }];
    will_be.extend(neighbours(plot, &at));
    if let (Some(first), Some(last)) = (moved.first(), moved.last()) {
        will_be.push(say!(
            "{trees} trees behind it count one place further, from {first} to {last}. Their scores \
             stay with them.",
            trees = moved.len(),
            first = plot.tree(first.0).name(),
            last = plot.tree(last.0).name()
        ));
    }
    let mut parts = vec![EditPart::Add(line)];
    parts.extend(
        moved
            .into_iter()
            .map(|(ix, number)| EditPart::set(plot.tree(ix).id(), F::Place, number.to_string())),
    );
    Ok(Plan { words, will_be, parts })
}

/// Where a new tree is put.
struct Put {
    at: WhereGiven,
    words: String,
    /// The trees that count one place further then, with their new places.
    moved: Vec<(TreeIx, i32)>,
}

impl Put {
    fn new(at: WhereGiven, words: String) -> Self {
        Self { at, words, moved: Vec::new() }
    }
}

fn put(plot: &Plot, stand: &Stand) -> Result<Put, Refusal> {
    match stand {
        Stand::At(row, place) => Ok(Put::new(numbered(*row, *place), place_words(*row, *place))),
        Stand::With(tree) => {
            let tree = trunk(plot, plot.of(tree)?);
            Ok(Put::new(tree.draft().location, place_of(tree)))
        }
        Stand::Behind(tree) => behind(plot, trunk(plot, plot.of(tree)?), false),
        Stand::BehindMovingOn(tree) => behind(plot, trunk(plot, plot.of(tree)?), true),
    }
}

fn behind(plot: &Plot, tree: &Tree, moves_on: bool) -> Result<Put, Refusal> {
    let location = tree.draft().location;
    let (Some(row), Some(place)) = (location.row, location.place) else {
        let spot = Some(one_further(plot, tree, None).to_mm());
        let at = WhereGiven { row: location.row, spot, ..WhereGiven::default() };
        return Ok(Put::new(at, say!("one place behind {name}", name = tree.name())));
    };
    let number = place_behind(place)?;
    let next = in_place(plot, row, number);
    if let Some(next) = next
        && !moves_on
    {
        let spot = Some(middle(tree.spot(), next.spot()).to_mm());
        let at = WhereGiven { spot, ..numbered(row, place) };
        return Ok(Put::new(at, say!("row {row}, between places {place} and {number}")));
    }
    let mut put = Put::new(numbered(row, number), place_words(row, number));
    if location.spot.is_some() || location.globe.is_some() {
        let spot = match next {
            Some(next) => middle(tree.spot(), next.spot()),
            None => {
                let before = place.checked_sub(1).and_then(|place| in_place(plot, row, place));
                one_further(plot, tree, before)
            }
        };
        put.at.spot = Some(spot.to_mm());
    }
    if next.is_some() {
        for (ix, _) in trunks(plot, row).filter(|(_, tree)| tree.place() > Some(place)) {
            let number = plot.tree(ix).place().unwrap_or_default();
            put.moved.push((ix, place_behind(number)?));
        }
        put.moved.sort_by_key(|&(_, number)| number);
    }
    Ok(put)
}

/// Whether a tree stands or stood in the next place.
pub(super) fn is_followed(plot: &Plot, tree: TreeIx) -> bool {
    let tree = trunk(plot, tree);
    let next = tree.place().and_then(|place| place.checked_add(1));
    tree.row().zip(next).is_some_and(|(row, next)| in_place(plot, row, next).is_some())
}

fn place_behind(place: i32) -> Result<i32, Refusal> {
    let expected = say!("a place that can be followed by another");
    place.checked_add(1).ok_or_else(|| Refusal::new("place", place.to_string(), expected))
}

/// The trees in the ground of a row.
fn trunks(plot: &Plot, row: i32) -> impl Iterator<Item = (TreeIx, &Tree)> {
    plot.trees_ix().filter(move |(_, tree)| tree.row() == Some(row) && tree.carrier().is_none())
}

fn in_place(plot: &Plot, row: i32, place: i32) -> Option<&Tree> {
    trunks(plot, row).map(|(_, tree)| tree).find(|tree| tree.place() == Some(place))
}

/// As far from a tree as that is from the one before it; without one, a place along the row.
fn one_further(plot: &Plot, tree: &Tree, before: Option<&Tree>) -> Spot {
    let (spot, spacing_m) = (tree.spot(), plot.head().layout.place_spacing_m);
    let (x_m, y_m) = before.map_or((spacing_m, 0.0), |before| {
        (spot.x_m - before.spot().x_m, spot.y_m - before.spot().y_m)
    });
    Spot { x_m: spot.x_m + x_m, y_m: spot.y_m + y_m }
}

/// The tree that stands in the ground.
fn trunk(plot: &Plot, mut ix: TreeIx) -> &Tree {
    while let Some(carrier) = plot.tree(ix).carrier() {
        ix = carrier;
    }
    plot.tree(ix)
}

fn middle(one: Spot, other: Spot) -> Spot {
    Spot { x_m: (one.x_m + other.x_m) / 2.0, y_m: (one.y_m + other.y_m) / 2.0 }
}

fn at_place(line: TreeLine, at: &WhereGiven) -> TreeLine {
    line.with(F::Row, cell_of(at.row))
        .with(F::Place, cell_of(at.place))
        .with(F::X, cell_of(at.spot.map(|spot| spot.x_m)))
        .with(F::Y, cell_of(at.spot.map(|spot| spot.y_m)))
        .with(F::Lon, cell_of(at.globe.map(|globe| globe.lon)))
        .with(F::Lat, cell_of(at.globe.map(|globe| globe.lat)))
}

/// Who stands or stood there.
pub(super) fn neighbours(plot: &Plot, at: &WhereGiven) -> Vec<String> {
    let here = |tree: &&Tree| {
        let location = &tree.draft().location;
        let same = (location.row, location.place) == (at.row, at.place) && at.row.is_some();
        tree.carrier().is_none() && location.spot == at.spot && (same || at.spot.is_some())
    };
    let said = |tree: &Tree| match tree.status() {
        Status::Alive => Some(say!("{name} stands there, too.", name = tree.name())),
        Status::Empty => None,
        Status::Dead => Some(say!(
            "{name}, dead, stood there before and keeps its scores; a new tree begins with none.",
            name = tree.name()
        )),
        Status::Removed => Some(say!(
            "{name}, removed, stood there before and keeps its scores; a new tree begins with none.",
            name = tree.name()
        )),
    };
    plot.trees().iter().filter(here).filter_map(said).collect()
}
