//! A piece of the row as one sees it standing before it: who is left and right of the tree.

use language::say;
use leptos::prelude::*;
use plot::{Plot, Status, TreeIx};
use walk::{Ends, Row};

use crate::route::Route;
use crate::state::app;

/// Places shown on either side; the outermost only where there is room.
const REACH: i32 = 4;
/// Places shown on a narrow screen.
const NARROW: i32 = 2;

/// The places around a tree, the low-number end on the left.
#[component]
pub fn RowStrip(tree: TreeIx) -> impl IntoView {
    let cells = app().look_up(|plot, look| {
        let (row, place) = (plot.tree(tree).row()?, plot.tree(tree).place()?);
        Some(cells(plot, look.rows.row(row)?, place, tree, &look.ends))
    });
    let cells = cells.flatten().unwrap_or_default();
    let one = |cell: Cell| {
        match cell {
        Cell::End(name) => view! { <li class="strip-end">{name}</li> }.into_any(),
        Cell::Empty { place, is_far } => view! {
            <li class="strip-empty" class:strip-far=is_far><span class="strip-place">{place}</span><span>{say!("empty")}</span></li>
        }
        .into_any(),
        Cell::Tree { place, name, id, is_here, is_gone, is_far } => view! {
            <li class:strip-far=is_far class:strip-here=is_here class:strip-gone=is_gone aria-current=is_here.then_some("location")>
                <span class="strip-place">{place}</span>
                <a href=Route::Tree { id }.address() title=name.clone()>{name.clone()}</a>
                {is_gone.then_some(view! { <span class="hidden-words">{say!(" (gone)")}</span> })}
            </li>
        }
        .into_any(),
    }
    };
    (!cells.is_empty()).then(|| view! {
        <ol class="strip" aria-label=say!("The row around it")>{cells.into_iter().map(one).collect_view()}</ol>
    })
}

enum Cell {
    End(String),
    Empty { place: i32, is_far: bool },
    Tree { place: i32, name: String, id: String, is_here: bool, is_gone: bool, is_far: bool },
}

fn cells(plot: &Plot, row: &Row, place: i32, tree: TreeIx, ends: &Ends) -> Vec<Cell> {
    let trunk = plot.tree(tree).carrier().unwrap_or(tree);
    let around = place.saturating_sub(REACH)..=place.saturating_add(REACH);
    let mut cells = Vec::new();
    // An end is worth showing only where the narrow strip reaches it.
    let shows = |number: i32| number.abs_diff(place) <= NARROW.unsigned_abs();
    if shows(row.first()) {
        cells.push(Cell::End(ends.name(walk::End::Low).to_owned()));
    }
    for number in around.filter(|number| (row.first()..=row.last()).contains(number)) {
        let is_far = number.abs_diff(place) > NARROW.unsigned_abs();
        let occupant = row.place(number).map(walk::Place::occupant);
        let shown = if number == place { Some(trunk) } else { occupant };
        let shown = shown.filter(|&it| plot.tree(it).status() != Status::Empty);
        cells.push(match shown {
            None => Cell::Empty { place: number, is_far },
            Some(it) => Cell::Tree {
                place: number,
                name: plot.tree(it).name(),
                id: plot.tree(it).id().to_string(),
                is_here: number == place,
                is_gone: plot.tree(it).status() != Status::Alive,
                is_far,
            },
        });
    }
    if shows(row.last()) {
        cells.push(Cell::End(ends.name(walk::End::High).to_owned()));
    }
    cells
}
