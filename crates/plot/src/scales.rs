//! Rating scales that the trade uses, ready to be scored with; direction, clean class and the
//! code for *not observed* belong to each.

use crate::{Kind, Scale, Step, Trait, TraitId};

/// The traits that a new plot may start with, diseases first.
pub fn starters() -> Vec<Trait> {
    vec![scab("scab_leaf", "Scab on leaves"), fire_blight(), cankers(), vigour(), trunk_diameter()]
}

/// Scab on the leaves or fruit of a tree, 1 (clean) to 9; 0 is *no observation*.
///
/// Lateur & Populer 1994, Euphytica 77:147. Severities are the middles of the published shares of
/// leaves; classes 4 and 6, published as *between*, take the middle of their neighbours.
fn scab(id: &str, label: &str) -> Trait {
    let steps = [
        (0, "not observed, or the plant is missing", None),
        (1, "no symptom", Some(0.0)),
        (2, "one or very few lesions, found on close scrutiny", Some(0.005)),
        (3, "seen at once, in few parts of the tree", Some(0.03)),
        (4, "between 3 and 5", Some(0.14)),
        (5, "numerous, over a large part of the tree", Some(0.25)),
        (6, "between 5 and 7", Some(0.375)),
        (7, "half the leaves badly infected", Some(0.5)),
        (8, "about three quarters of the leaves", Some(0.75)),
        (9, "nearly all leaves badly infected", Some(0.95)),
    ];
    ordinal(id, Some("scab"), label, &steps)
}

/// Share of the tree blighted, 10 (clean) to 1 (all of it, or dead).
///
/// van der Zwet, Oitto & Brooks 1970, Plant Disease Reporter 54:835–839; class limits from
/// memory. Severities are the middles of the classes.
fn fire_blight() -> Trait {
    let steps = [
        (10, "none", Some(0.0)),
        (9, "1–3 % of the tree", Some(0.02)),
        (8, "4–6 %", Some(0.05)),
        (7, "7–12 %", Some(0.095)),
        (6, "13–25 %", Some(0.19)),
        (5, "26–50 %", Some(0.38)),
        (4, "51–75 %", Some(0.63)),
        (3, "76–88 %", Some(0.82)),
        (2, "89–99 %", Some(0.94)),
        (1, "all of it, or dead", Some(1.0)),
    ];
    ordinal("blight_shoot", Some("fire blight"), "Fire blight on shoots", &steps)
}

/// How much of the tree cankers take; common practice, no source (no agreed scale was found).
fn cankers() -> Trait {
    let steps = [
        (0, "none", Some(0.0)),
        (1, "one on a branch", Some(0.05)),
        (2, "several on branches", Some(0.2)),
        (3, "on the stem, up to half the girth", Some(0.5)),
        (4, "on the stem, more than half the girth", Some(0.8)),
        (5, "dead above a canker", Some(1.0)),
    ];
    ordinal("canker", Some("canker"), "Cankers", &steps)
}

/// Visual vigour: 3 weak, 5 medium, 7 strong (UPOV TG/14/9, 2005).
fn vigour() -> Trait {
    let steps = [(3, "weak", None), (5, "medium", None), (7, "strong", None)];
    ordinal("vigour", None, "Vigour", &steps)
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

fn ordinal(
    id: &str,
    disease: Option<&str>,
    label: &str,
    steps: &[(u8, &str, Option<f64>)],
) -> Trait {
    let steps = steps.iter().map(|&(value, label, severity)| Step {
        value: f64::from(value),
        label: label.to_owned(),
        severity,
    });
    let scale = Scale::new(steps.collect()).expect("these scales are sound; a test makes them all");
    Trait {
        id: TraitId::new(id),
        disease: disease.map(str::to_owned),
        label: label.to_owned(),
        kind: Kind::Ordinal(scale),
        needs: None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_disease_has_one_clean_class_and_severity_runs_one_way() {
        for one in starters() {
            let (Some(_), Kind::Ordinal(scale)) = (&one.disease, &one.kind) else { continue };
            let severities: Vec<f64> =
                scale.steps().iter().filter_map(|step| step.severity).collect();
            assert_eq!(
                severities.iter().filter(|&&severity| severity == 0.0).count(),
                1,
                "{}",
                one.id
            );
            assert!(severities.is_sorted(), "{}", one.id);
        }
    }

    #[test]
    fn zero_of_the_scab_scale_is_not_clean() {
        let scab = &starters()[0];
        assert_eq!(scab.severity(0.0), None);
        assert_eq!(scab.severity(1.0), Some(0.0));
    }
}
