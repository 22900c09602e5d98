//! When in a season a trait is usually rated.

use language::say;
use plot::{Plot, TraitIx, capital};

/// `Scab on leaves: usually rated 2–4 weeks after petal fall; when growth stops.`, for each of
/// these traits of which a disease's profile tells; where it does not know the trait, its rounds
/// for the disease as a whole, once.
pub fn usual_rounds(plot: &Plot, traits: &[TraitIx]) -> Vec<String> {
    let mut lines = Vec::new();
    for &ix in traits {
        let one = plot.trait_of(ix);
        let Some(disease) = one.disease.as_deref().and_then(|name| plot.disease(name)) else {
            continue;
        };
        let stages = |is_it: &dyn Fn(&[String]) -> bool| {
            let rounds = disease.rounds.iter().filter(|round| is_it(&round.traits));
            rounds.map(|round| language::said_of(&round.stage)).collect::<Vec<_>>().join("; ")
        };
        let is_known = disease.traits.iter().any(|known| known.one.id == one.id);
        let (what, when) = match is_known {
            true => {
                (one.label.clone(), stages(&|traits| traits.iter().any(|id| id == one.id.as_str())))
            }
            false => (capital(language::said_of(&disease.label)), stages(&|_| true)),
        };
        let line = say!("{what}: usually rated {when}.");
        if !when.is_empty() && !lines.contains(&line) {
            lines.push(line);
        }
    }
    lines
}
