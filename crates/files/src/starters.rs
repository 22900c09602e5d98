//! The traits that a new plot may start with: those of the diseases that come with the program,
//! and what says how strongly a tree grows.

use plot::{Kind, Scale, Step, Trait, TraitId};

use crate::built_in_diseases;

/// A trait that a new plot may start with.
#[derive(Clone, Debug, PartialEq)]
pub struct Starter {
    /// The trait.
    pub one: Trait,
    /// Whether plots usually score it.
    pub is_usual: bool,
}

/// The traits that a new plot may start with, diseases first; each id once.
pub fn starters() -> Vec<Starter> {
    let diseases = built_in_diseases();
    let of_diseases = diseases.iter().flat_map(|it| &it.traits);
    let of_diseases = of_diseases.map(|it| Starter { one: it.one.clone(), is_usual: it.is_usual });
    let conditions = diseases.iter().flat_map(|it| &it.conditions);
    let conditions = conditions.map(|one| Starter { one: one.clone(), is_usual: false });
    let growth = [vigour(), trunk_diameter()].map(|one| Starter { one, is_usual: true });
    let mut all: Vec<Starter> = Vec::new();
    for starter in of_diseases.chain(conditions).chain(growth) {
        if !all.iter().any(|known| known.one.id == starter.one.id) {
            all.push(starter);
        }
    }
    all
}

/// The traits that plots usually score.
pub fn usual_traits() -> Vec<Trait> {
    starters().into_iter().filter(|it| it.is_usual).map(|it| it.one).collect()
}

/// The starters whose ids were chosen, in their order, with what they need to count at all.
pub fn chosen_traits(is_chosen: impl Fn(&TraitId) -> bool) -> Vec<Trait> {
    let all = starters();
    let chosen: Vec<&Trait> = all.iter().map(|it| &it.one).filter(|it| is_chosen(&it.id)).collect();
    let is_needed = |id: &TraitId| {
        chosen.iter().any(|it| it.needs.as_ref().is_some_and(|needs| needs.trait_id == *id))
    };
    let taken = all.iter().map(|it| &it.one).filter(|it| is_chosen(&it.id) || is_needed(&it.id));
    let mut taken: Vec<Trait> = taken.cloned().collect();
    let diseases = built_in_diseases();
    for it in diseases.iter().flat_map(|disease| &disease.traits) {
        let is_scored = |id: &TraitId| taken.iter().any(|one| one.id == *id);
        let needs = it.needs_where_scored.clone().filter(|needs| is_scored(&needs.trait_id));
        if let (Some(needs), Some(one)) = (needs, taken.iter_mut().find(|one| one.id == it.one.id))
        {
            one.needs.get_or_insert(needs);
        }
    }
    taken
}

/// Visual vigour: 3 weak, 5 medium, 7 strong (UPOV TG/14/9, 2005).
fn vigour() -> Trait {
    let steps = [(3.0, "weak"), (5.0, "medium"), (7.0, "strong")];
    let steps = steps.map(|(value, label)| Step { value, label: label.to_owned(), severity: None });
    Trait {
        id: TraitId::new("vigour"),
        disease: None,
        label: "Vigour".to_owned(),
        kind: Kind::Ordinal(Scale::new(steps.into()).expect("three values")),
        needs: None,
    }
}

/// Trunk diameter in millimetres.
fn trunk_diameter() -> Trait {
    Trait {
        id: TraitId::new("trunk_diameter"),
        disease: None,
        label: "Trunk diameter".to_owned(),
        kind: Kind::Number { unit: Some("mm".to_owned()), min: Some(1.0), max: Some(400.0) },
        needs: None,
    }
}

#[cfg(test)]
mod tests;
