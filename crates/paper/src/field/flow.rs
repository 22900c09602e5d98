//! Which trees of the walk stand on which page.

use language::say;
use plot::{Plot, Refusal, TreeIx};
use walk::{End, Ends, Leg, Route, Rows, seen_infected};

use super::FieldSheets;
use super::columns::LINE_MM;

/// What stands below each other on a page.
pub(super) enum Item {
    /// A row begins, or goes on: `Row 7, from the road end`.
    Leg(String),
    /// A tree.
    Stop(TreeIx),
}

/// What is on a page.
pub(super) type Lines = Vec<Item>;

impl Item {
    pub(super) fn height_mm(&self) -> f64 {
        match self {
            Self::Leg(_) => 7.0,
            Self::Stop(_) => LINE_MM,
        }
    }
}

/// Fills pages with so much room, mm: the first, and all others. A row's name never stands at the
/// foot of a page without a tree.
///
/// # Errors
/// No tree to walk to.
pub(super) fn pages(
    asked: &FieldSheets<'_>,
    [first_mm, other_mm]: [f64; 2],
) -> Result<Vec<Lines>, Refusal> {
    let plot = asked.plot;
    let sick = seen_infected(plot, asked.traits, |_| true);
    let is_sick = |tree: TreeIx| sick[tree.get()];
    let route = Route::plan(plot, &Rows::of(plot), asked.wish, is_sick, |_| false);
    if route.stops.is_empty() {
        return Err(Refusal::new(
            "rows",
            say!("no tree that stands"),
            say!("rows with trees that stand"),
        ));
    }
    let mut pages: Vec<Lines> = vec![Vec::new()];
    let mut left_mm = first_mm;
    for leg in &route.legs {
        let stops = &route.stops[leg.from..leg.to];
        let name = leg_words(plot, asked.ends, leg, stops);
        let mut begins = Some(name.clone());
        for &stop in stops {
            let heading_mm = if begins.is_some() { 7.0 } else { 0.0 };
            if left_mm < heading_mm + LINE_MM
                && pages.last().is_some_and(|page| !page.is_empty() || pages.len() == 1)
            {
                pages.push(Vec::new());
                left_mm = other_mm;
                begins.get_or_insert_with(|| say!("{name}, continued"));
            }
            let Some(page) = pages.last_mut() else { continue };
            let items = begins.take().map(Item::Leg).into_iter().chain([Item::Stop(stop)]);
            for item in items {
                left_mm -= item.height_mm();
                page.push(item);
            }
        }
    }
    pages.retain(|page| !page.is_empty());
    Ok(pages)
}

/// `Row 7, from the road end`; of one tree, and of trees without a row, no direction is told.
fn leg_words(plot: &Plot, ends: &Ends, leg: &Leg, stops: &[TreeIx]) -> String {
    let place = |tree: Option<&TreeIx>| tree.and_then(|&tree| plot.tree(tree).place());
    let places = place(stops.first()).zip(place(stops.last())).filter(|(from, to)| from != to);
    let name = match (leg.row, places) {
        (None, _) => say!("Without a row").to_owned(),
        (Some(row), None) => say!("Row {row}"),
        (Some(row), Some((from, to))) => {
            let end = if from < to { End::Low } else { End::High };
            say!("Row {row}, from the {end}", end = ends.name(end))
        }
    };
    if leg.sick { say!("{name}: trees seen with symptoms") } else { name }
}
