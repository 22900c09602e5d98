//! A new tree: where it stands, and what is known of it.

use time::Date;

use super::{Plan, Stand, place_of};
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
    let (at, place, moved) = place(plot, stand)?;
    let planted_on = day.map(|day| day.to_string()).unwrap_or_default();
    let line = TreeLine::new(id.clone()).with(F::PlantedOn, planted_on);
    let line = cells
        .iter()
        .fold(at_place(line, &at), |line, (field, text)| line.with(*field, text.trim()));
    let named = match line.cell(F::Tag) {
        "" => id.to_string(),
        tag => tag.to_owned(),
    };
    let (did, since) = match day {
        Some(day) => ("Planted", format!("planted {day}")),
        None => ("Entered", "planted nobody knows when".to_owned()),
    };
    let mut will_be = vec![format!("{}: a new tree {id}, {since}.", capital(&place))];
    will_be.extend(neighbours(plot, &at));
    if let (Some(first), Some(last)) = (moved.first(), moved.last()) {
        will_be.push(format!(
            "{} trees behind it count one place further, from {} to {}. Their scores stay with \
             them.",
            moved.len(),
            plot.tree(*first).name(),
            plot.tree(*last).name()
        ));
    }
    let mut parts = vec![EditPart::Add(line)];
    parts.extend(moved.into_iter().map(|ix| {
        let tree = plot.tree(ix);
        let place = tree.place().unwrap_or_default() + 1;
        EditPart::set(tree.id(), F::Place, place.to_string())
    }));
    Ok(Plan { words: format!("{did} {named} in {place}"), will_be, parts })
}

/// Where it is, in words, too, and the trees that count one place further then.
fn place(plot: &Plot, stand: &Stand) -> Result<(WhereGiven, String, Vec<TreeIx>), Refusal> {
    let none = Vec::new();
    let (behind, moves_on) = match stand {
        Stand::At(row, place) => {
            let at = WhereGiven { row: Some(*row), place: Some(*place), ..WhereGiven::default() };
            return Ok((at, format!("row {row}, place {place}"), none));
        }
        Stand::With(tree) => {
            let tree = trunk(plot, plot.of(tree)?);
            return Ok((tree.draft().location, place_of(tree), none));
        }
        Stand::Behind(tree) => (trunk(plot, plot.of(tree)?), false),
        Stand::BehindMovingOn(tree) => (trunk(plot, plot.of(tree)?), true),
    };
    let location = behind.draft().location;
    let has_own_spot = location.spot.is_some() || location.globe.is_some();
    let (Some(row), Some(place)) = (location.row, location.place) else {
        let spot =
            Spot { x_m: behind.spot().x_m + plot.head().layout.place_spacing_m, ..behind.spot() };
        let at = WhereGiven { row: location.row, spot: Some(to_mm(spot)), ..WhereGiven::default() };
        return Ok((at, format!("one place behind {}", behind.name()), none));
    };
    let number = place.checked_add(1).ok_or_else(|| {
        Refusal::new("place", place.to_string(), "a place that can be followed by another")
    })?;
    let in_row = || {
        plot.trees_ix().filter(move |(_, tree)| tree.row() == Some(row) && tree.carrier().is_none())
    };
    let at_number =
        |wanted: i32| in_row().map(|(_, tree)| tree).find(|tree| tree.place() == Some(wanted));
    let mut at = WhereGiven { row: Some(row), place: Some(number), ..WhereGiven::default() };
    let words = format!("row {row}, place {number}");
    let next = at_number(number);
    if next.is_none() || moves_on {
        // As far from the tree before as that one is from its own.
        let step = at_number(place - 1).filter(|_| has_own_spot).map(|before| Spot {
            x_m: behind.spot().x_m - before.spot().x_m,
            y_m: behind.spot().y_m - before.spot().y_m,
        });
        let step = step.unwrap_or(Spot { x_m: plot.head().layout.place_spacing_m, y_m: 0.0 });
        if has_own_spot {
            at.spot = Some(to_mm(match next {
                Some(next) => middle(behind.spot(), next.spot()),
                None => {
                    Spot { x_m: behind.spot().x_m + step.x_m, y_m: behind.spot().y_m + step.y_m }
                }
            }));
        }
        let moved = in_row().filter(|(_, tree)| next.is_some() && tree.place() > Some(place));
        let mut moved: Vec<TreeIx> = moved.map(|(ix, _)| ix).collect();
        moved.sort_by_key(|&ix| plot.tree(ix).place());
        return Ok((at, words, moved));
    }
    let next = next.unwrap_or(behind);
    let between = WhereGiven {
        place: Some(place),
        spot: Some(to_mm(middle(behind.spot(), next.spot()))),
        ..at
    };
    Ok((between, format!("row {row}, between places {place} and {number}"), none))
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

/// A tape tells no less than a millimetre.
fn to_mm(spot: Spot) -> Spot {
    let round = |metres: f64| (metres * 1000.0).round() / 1000.0;
    Spot { x_m: round(spot.x_m), y_m: round(spot.y_m) }
}

fn at_place(line: TreeLine, at: &WhereGiven) -> TreeLine {
    let say = |number: Option<f64>| number.map(|number| number.to_string()).unwrap_or_default();
    let whole = |number: Option<i32>| number.map(|number| number.to_string()).unwrap_or_default();
    line.with(F::Row, whole(at.row))
        .with(F::Place, whole(at.place))
        .with(F::X, say(at.spot.map(|spot| spot.x_m)))
        .with(F::Y, say(at.spot.map(|spot| spot.y_m)))
        .with(F::Lon, say(at.globe.map(|globe| globe.lon)))
        .with(F::Lat, say(at.globe.map(|globe| globe.lat)))
}

/// Who stands or stood there.
pub(super) fn neighbours(plot: &Plot, at: &WhereGiven) -> Vec<String> {
    let here = |tree: &&Tree| {
        let location = &tree.draft().location;
        let same = (location.row, location.place) == (at.row, at.place) && at.row.is_some();
        tree.carrier().is_none() && location.spot == at.spot && (same || at.spot.is_some())
    };
    let said = |tree: &Tree| match tree.status() {
        Status::Alive => Some(format!("{} stands there, too.", tree.name())),
        Status::Empty => None,
        gone => Some(format!(
            "{}, {}, stood there before and keeps its scores; a new tree begins with none.",
            tree.name(),
            gone.as_str()
        )),
    };
    plot.trees().iter().filter(here).filter_map(said).collect()
}

fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}
