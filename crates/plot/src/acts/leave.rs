//! A tree that died or was taken out, with what it carries.

use time::Date;

use super::{Plan, place_of};
use crate::{EditPart, Plot, Refusal, Status, TreeField as F, TreeIx};

/// The tree and its living grafts have that status from a day on.
pub(super) fn plan(plot: &Plot, tree: TreeIx, status: Status, day: Date) -> Result<Plan, Refusal> {
    let one = plot.tree(tree);
    let said = match status {
        Status::Dead => "died",
        Status::Removed => "was taken out",
        Status::Alive | Status::Empty => {
            return Err(Refusal::new("status", status.as_str(), "dead or removed"));
        }
    };
    let grafts: Vec<TreeIx> = plot
        .carried(tree)
        .into_iter()
        .filter(|&ix| plot.tree(ix).status() == Status::Alive)
        .collect();
    let mut parts = Vec::new();
    for id in [tree].iter().chain(&grafts).map(|&ix| plot.tree(ix).id()) {
        parts.push(EditPart::set(id, F::Status, status.as_str()));
        parts.push(EditPart::set(id, F::RemovedOn, day.to_string()));
    }
    let name = one.name();
    let mut will_be = vec![format!(
        "{name}, {}: {said} on {day}. Its line and its scores stay; the place can be planted anew.",
        place_of(one)
    )];
    if !grafts.is_empty() {
        let names: Vec<String> = grafts.iter().map(|&ix| plot.tree(ix).name()).collect();
        will_be.push(format!("What is grafted on it goes with it: {}.", names.join(", ")));
    }
    Ok(Plan { words: format!("{name} {said}"), will_be, parts })
}
