//! A tree that died or was taken out, with what it carries.

use language::say;
use time::Date;

use super::{Plan, place_of};
use crate::{EditPart, Plot, Refusal, Status, TreeField as F, TreeIx};

/// The tree and its living grafts have that status from a day on.
pub(super) fn plan(plot: &Plot, tree: TreeIx, status: Status, day: Date) -> Result<Plan, Refusal> {
    let one = plot.tree(tree);
    let (name, place) = (one.name(), place_of(one));
    let (words, told) = match status {
        Status::Dead => (
            say!("{name} died"),
            say!(
                "{name}, {place}: died on {day}. Its line and its scores stay; the place can be \
                 planted anew."
            ),
        ),
        Status::Removed => (
            say!("{name} was taken out"),
            say!(
                "{name}, {place}: was taken out on {day}. Its line and its scores stay; the place \
                 can be planted anew."
            ),
        ),
        Status::Alive | Status::Empty => {
            return Err(Refusal::new("status", status.as_str(), say!("dead or removed")));
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
    let mut will_be = vec![told];
    if !grafts.is_empty() {
        let names: Vec<String> = grafts.iter().map(|&ix| plot.tree(ix).name()).collect();
        will_be
            .push(say!("What is grafted on it goes with it: {names}.", names = names.join(", ")));
    }
    Ok(Plan { words, will_be, parts })
}
