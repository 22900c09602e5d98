//! Lantern Bank, an orchard that was never planted: the recipe of the demo plot.
//!
//! Its sorts, crosses and scores are invented. It lies in the open sea, where nobody will look
//! for it.

use plot::Origin;

use crate::kinds::fire_blight_parts;
use crate::scales;
use crate::{
    Checks, Copies, CrossRecipe, Disease, Frailty, Genetics, Kernel, Looking, Order, Part, Pattern,
    Planting, Primary, Recipe, Span,
};

/// A family of Lantern Bank.
struct Family {
    seed_parent: &'static str,
    pollen_parent: &'static str,
    mark: &'static str,
    year: i32,
    size: f64,
    /// Share of seedlings that resist scab, fire blight, canker.
    resist: [f64; 3],
}

const fn family(
    (seed_parent, pollen_parent): (&'static str, &'static str),
    mark: &'static str,
    year: i32,
    size: f64,
    resist: [f64; 3],
) -> Family {
    Family { seed_parent, pollen_parent, mark, year, size, resist }
}

/// TR-9 carries a gene against scab, Ottermoss one against fire blight; both are heterozygous.
const FAMILIES: [Family; 10] = [
    family(("Marl Beauty", "TR-9"), "MB", 2022, 1.4, [0.5, 0.0, 0.1]),
    family(("Wickerbell", "TR-9"), "W", 2022, 1.3, [0.5, 0.1, 0.0]),
    family(("Ottermoss", "TR-9"), "OT", 2022, 1.2, [0.5, 0.5, 0.1]),
    family(("TR-9", "TR-14"), "TT", 2023, 0.7, [0.75, 0.0, 0.0]),
    family(("Thimbledown", "Ottermoss"), "TO", 2022, 1.1, [0.0, 0.5, 0.2]),
    family(("Marl Beauty", "Wickerbell"), "MW", 2022, 1.0, [0.0, 0.0, 0.0]),
    family(("Pewter Lamp", "TR-14"), "P", 2023, 1.0, [0.5, 0.1, 0.1]),
    family(("Cinderquill", "TR-9"), "Q", 2023, 0.9, [0.5, 0.0, 0.2]),
    family(("Pewter Lamp", "Ottermoss"), "PO", 2023, 0.8, [0.0, 0.5, 0.0]),
    family(("Thimbledown", "TR-14"), "TH", 2023, 0.6, [0.5, 0.0, 0.1]),
];

/// The recipe: 20 rows of 60 places, 10 crosses, three seasons of which the middle one is quiet.
pub fn recipe() -> Recipe {
    let crosses = FAMILIES.iter().map(|family| CrossRecipe {
        seed_parent: family.seed_parent.to_owned(),
        pollen_parent: family.pollen_parent.to_owned(),
        mark: family.mark.to_owned(),
        year: family.year,
        size: family.size,
    });
    Recipe {
        name: "Lantern Bank, an invented orchard".to_owned(),
        origin: Some(Origin { lon: -20.0, lat: 46.0, row_bearing_deg: 12.0 }),
        row_ends: ["road end", "brook end"].map(|end| Some(end.to_owned())),
        planting: Planting {
            rows: 20,
            places: 60,
            row_spacing_m: 3.0,
            place_spacing_m: 0.75,
            planted: 2024,
            crosses: crosses.collect(),
            order: Order::Blocks,
            susceptible_checks: (Checks::Every(15), "Sallow Queen".to_owned()),
            resistant_checks: (Checks::Every(60), "Hob's Iron".to_owned()),
            parents_unknown: 0.015,
            gaps: 0.04,
            tags_lost: 0.04,
            copies: Some(Copies { share: 0.03, each: 3 }),
            graft_carriers: (5, "Frame Sallow".to_owned()),
            replaced: 0.02,
            shares_stated: false,
        },
        first_season: 2029,
        seasons: 3,
        diseases: vec![scab(), fire_blight(), canker()],
        looking: Looking {
            missing: 0.03,
            false_negative: 0.02,
            false_positive: 0.0,
            days_per_round: 2,
        },
        bloom: vec![0.12, 0.3, 0.5],
        trunks: true,
    }
}

fn resist(disease: usize) -> Genetics {
    Genetics::Gene(FAMILIES.iter().map(|family| family.resist[disease]).collect())
}

/// Old litter along one side keeps the same corners sick year by year.
fn scab() -> Disease {
    Disease {
        name: "scab".to_owned(),
        parts: vec![Part {
            shows_as: scales::scab("scab_leaf", "Scab on leaves", "leaves"),
            force_share: 1.0,
            open: Span { first: 5, end: 140 },
            rounds: vec![54, 88],
        }],
        genetics: resist(0),
        frailty: Frailty::LogNormal { sd: 0.6 },
        check_frailty: 1.2,
        leak: 0.02,
        kernel: Kernel::Elliptical { along_m: 2.2, across_m: 1.4 },
        secondary: 10.0,
        primary: Primary {
            amount: 0.3,
            flies: Span { first: 5, end: 75 },
            pattern: Pattern::Patchy { sd: 1.4, length_m: 11.0 },
            lasting: 0.9,
        },
        strength: vec![1.8, 0.2, 2.8],
        active: Span { first: 0, end: 150 },
        latent_days: 13.0,
        first_severity: 0.005,
        severity_per_infection: 0.08,
        vigour_effect: 0.0,
    }
}

/// Starts from a few trees in bloom and strikes in clusters; strong shoots blight more.
fn fire_blight() -> Disease {
    Disease {
        name: "fire_blight".to_owned(),
        parts: fire_blight_parts(vec![70], vec![88]),
        genetics: resist(1),
        frailty: Frailty::LogNormal { sd: 0.6 },
        check_frailty: 1.2,
        leak: 0.03,
        kernel: Kernel::Exponential { half_distance_m: 1.8 },
        secondary: 14.0,
        primary: Primary {
            amount: 0.1,
            flies: Span { first: 20, end: 70 },
            pattern: Pattern::Foci { count: 5, length_m: 2.5 },
            lasting: 0.3,
        },
        strength: vec![0.6, 0.25, 2.4],
        active: Span { first: 0, end: 150 },
        latent_days: 10.0,
        first_severity: 0.02,
        severity_per_infection: 0.12,
        vigour_effect: 0.3,
    }
}

/// Infects through leaf scars in autumn, is counted on bare trees before bud burst.
fn canker() -> Disease {
    Disease {
        name: "canker".to_owned(),
        parts: vec![Part {
            shows_as: scales::canker_count(),
            force_share: 1.0,
            open: Span { first: -180, end: -110 },
            rounds: vec![-24],
        }],
        genetics: resist(2),
        frailty: Frailty::LogNormal { sd: 0.5 },
        check_frailty: 1.0,
        leak: 0.05,
        kernel: Kernel::Exponential { half_distance_m: 1.0 },
        secondary: 4.0,
        primary: Primary {
            amount: 0.12,
            flies: Span { first: -180, end: -120 },
            pattern: Pattern::Patchy { sd: 1.0, length_m: 8.0 },
            lasting: 0.8,
        },
        strength: vec![0.5, 0.7, 0.8],
        active: Span { first: -180, end: -20 },
        latent_days: 60.0,
        first_severity: 0.05,
        severity_per_infection: 0.05,
        vigour_effect: 0.0,
    }
}
