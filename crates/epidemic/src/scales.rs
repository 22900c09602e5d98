//! The traits that made-up plots are scored with.

use plot::{Kind, Needs, Scale, Step, Trait, TraitId};

use crate::scoring::{BLOOM, TRUNK};

/// Field score of scab, 1 clean to 9, 0 not observed; shares of leaves after Lateur & Populer
/// 1994 (Euphytica 77:147), between them by halves (common practice, no source).
pub fn scab(id: &str, label: &str, of: &str) -> Trait {
    let share = |words: &str| format!("{words} of {of}");
    ordinal(
        id,
        "scab",
        label,
        &[
            (0.0, "not observed".to_owned(), None),
            (1.0, "no visible symptom".to_owned(), Some(0.0)),
            (2.0, "one or very few lesions, found on close scrutiny".to_owned(), Some(0.005)),
            (3.0, share("seen at once, up to 5 %"), Some(0.03)),
            (4.0, share("about 12 %"), Some(0.12)),
            (5.0, share("about 25 %"), Some(0.25)),
            (6.0, share("about 37 %"), Some(0.37)),
            (7.0, share("about 50 %"), Some(0.50)),
            (8.0, share("about 75 %"), Some(0.75)),
            (9.0, share("over 90 %"), Some(0.95)),
        ],
    )
}

/// Share of the tree blighted, 10 clean to 1 dead; a high number is healthy. Classes of van der
/// Zwet, Oitto & Brooks 1970 (Plant Disease Reporter 54:835); class limits from memory.
pub fn fire_blight(id: &str, label: &str) -> Trait {
    let class = |value: f64, words: &str, severity: f64| (value, words.to_owned(), Some(severity));
    ordinal(
        id,
        "fire_blight",
        label,
        &[
            class(10.0, "no strike", 0.0),
            class(9.0, "1 to 3 %", 0.02),
            class(8.0, "4 to 6 %", 0.05),
            class(7.0, "7 to 12 %", 0.095),
            class(6.0, "13 to 25 %", 0.19),
            class(5.0, "26 to 50 %", 0.38),
            class(4.0, "51 to 75 %", 0.63),
            class(3.0, "76 to 88 %", 0.82),
            class(2.0, "89 to 99 %", 0.94),
            class(1.0, "100 % or dead", 1.0),
        ],
    )
}

/// Number of cankers on stem and branches (common practice, no source).
pub fn canker_count() -> Trait {
    Trait {
        id: TraitId::new("canker_count"),
        disease: Some("canker".to_owned()),
        label: "Cankers on stem and branches".to_owned(),
        kind: Kind::Number { unit: Some("cankers".to_owned()), min: Some(0.0), max: Some(20.0) },
        needs: None,
    }
}

/// How much a tree blooms; no disease.
pub fn bloom() -> Trait {
    let steps = ["none", "a few clusters", "half of the tree", "all over"];
    Trait {
        id: TraitId::new(BLOOM),
        disease: None,
        label: "Bloom".to_owned(),
        kind: Kind::Ordinal(scale(
            steps.iter().enumerate().map(|(n, words)| (n as f64, (*words).to_owned(), None)),
        )),
        needs: None,
    }
}

/// Trunk diameter at a marked height, millimetres.
pub fn trunk_diameter() -> Trait {
    Trait {
        id: TraitId::new(TRUNK),
        disease: None,
        label: "Trunk diameter".to_owned(),
        kind: Kind::Number { unit: Some("mm".to_owned()), min: Some(1.0), max: Some(400.0) },
        needs: None,
    }
}

/// The same trait, for trees that bloom.
pub fn needs_bloom(shown: Trait) -> Trait {
    Trait { needs: Some(Needs { trait_id: TraitId::new(BLOOM), at_least: 1.0 }), ..shown }
}

fn ordinal(id: &str, disease: &str, label: &str, steps: &[(f64, String, Option<f64>)]) -> Trait {
    Trait {
        id: TraitId::new(id),
        disease: Some(disease.to_owned()),
        label: label.to_owned(),
        kind: Kind::Ordinal(scale(steps.iter().cloned())),
        needs: None,
    }
}

fn scale(steps: impl Iterator<Item = (f64, String, Option<f64>)>) -> Scale {
    let steps = steps.map(|(value, label, severity)| Step { value, label, severity }).collect();
    Scale::new(steps).expect("the scales of this module are valid")
}
