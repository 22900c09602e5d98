//! Grafts onto a tree, each a line of its own.

use language::say;
use time::Date;

use super::{Plan, Scion};
use crate::{EditPart, Plot, Refusal, Status, TreeField as F, TreeIx, TreeLine};

/// Each scion with a name becomes a line; the limb stands in its note.
pub(super) fn plan(plot: &Plot, on: TreeIx, scions: &[Scion], day: Date) -> Result<Plan, Refusal> {
    let carrier = plot.tree(on);
    if carrier.status() != Status::Alive {
        return Err(Refusal::new("status", carrier.status().as_str(), say!("a tree that stands")));
    }
    let named: Vec<&Scion> =
        scions.iter().filter(|scion| !scion.genotype.trim().is_empty()).collect();
    if named.is_empty() {
        return Err(Refusal::new("genotype", say!("nothing"), say!("the name of what is grafted")));
    }
    let mut plan = Plan { words: String::new(), will_be: Vec::new(), parts: Vec::new() };
    for (scion, nth) in named.iter().zip(0..) {
        let id = plot.nth_next_tree_id(nth);
        let limb = scion.limb.trim();
        let note = if limb.is_empty() { String::new() } else { format!("limb: {limb}") };
        let (tree, genotype) = (carrier.name(), scion.genotype.trim());
        plan.will_be.push(match limb {
            "" => say!("On {tree}: {genotype}, a new graft {id}, grafted {day}."),
            limb => say!("On {tree}, {limb}: {genotype}, a new graft {id}, grafted {day}."),
        });
        let line = TreeLine::new(id)
            .with(F::Tag, scion.tag.trim())
            .with(F::Genotype, scion.genotype.trim())
            .with(F::GraftedOn, carrier.id().as_str())
            .with(F::PlantedOn, day.to_string())
            .with(F::Note, note);
        plan.parts.push(EditPart::Add(line));
    }
    let names: Vec<&str> = named.iter().map(|scion| scion.genotype.trim()).collect();
    plan.words = say!("Grafted {names} on {tree}", names = names.join(", "), tree = carrier.name());
    Ok(plan)
}
