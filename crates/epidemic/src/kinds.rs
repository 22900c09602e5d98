//! Kinds of made-up plots: named recipes, their loose ends drawn from the seed.

use crate::draw::{Draw, For};
use crate::scales;
use crate::{
    Checks, Copies, CrossRecipe, Disease, Frailty, Genetics, Kernel, Looking, Order, Part, Pattern,
    Planting, Primary, Recipe, Span,
};

macro_rules! kinds {
    ($($(#[doc = $doc:literal])+ $kind:ident = $name:literal),+ $(,)?) => {
        /// A kind of made-up plot.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Kind { $($(#[doc = $doc])+ $kind),+ }

        impl Kind {
            /// All of them.
            pub const ALL: &[Self] = &[$(Self::$kind),+];
            /// Its name on the command line and in tables.
            pub fn as_str(self) -> &'static str {
                match self { $(Self::$kind => $name),+ }
            }
            /// The kind of a name.
            pub fn parse(name: &str) -> Option<Self> {
                match name { $($name => Some(Self::$kind),)+ _ => None }
            }
            /// What is special about it, in a few words.
            pub fn about(self) -> &'static str {
                match self { $(Self::$kind => concat!($($doc),+)),+ }
            }
        }
    };
}
kinds! {
    /// Families in blocks, susceptible checks at every tenth place, three seasons.
    Blocks = "blocks",
    /// Families mixed tree by tree.
    Scattered = "scattered",
    /// No checks of any sort.
    NoChecks = "no-checks",
    /// No seedling's parents were written down.
    ParentsUnknown = "parents-unknown",
    /// A tenth of the places empty and a quarter of the scores missing.
    Gaps = "gaps",
    /// A quarter of the looks miss what is there.
    Missed = "missed",
    /// One clean look in fifty sees something that is not there.
    FalseAlarms = "false-alarms",
    /// Inoculum drifts in from one edge and travels with the wind.
    Downwind = "downwind",
    /// A power law with a heavy tail carries disease far.
    FarReach = "far-reach",
    /// Disease starts from a few places and hardly leaves them.
    Foci = "foci",
    /// Quiet seasons.
    Quiet = "quiet",
    /// Violent seasons.
    Violent = "violent",
    /// One season only.
    OneSeason = "one-season",
    /// Four seasons.
    FourSeasons = "four-seasons",
    /// Two long rows.
    TwoRows = "two-rows",
    /// A third of the places hold cloned selections, three trees each.
    Clones = "clones",
    /// Grafts on shared trunks, trees replaced between seasons.
    Replanted = "replanted",
    /// Susceptible genotypes differ by a gamma distribution of variance 1.
    GammaFrailty = "gamma-frailty",
    /// Susceptible genotypes differ by a log-normal distribution of sd 1.
    LogNormalFrailty = "log-normal-frailty",
    /// Resistance of many genes: no two classes, a smooth slope.
    ManyGenes = "many-genes",
    /// Nothing is resistant.
    Null = "null",
    /// Nothing is resistant, and half of the trees stand in quiet corners.
    NullPatchy = "null-patchy",
    /// Fire blight on blossom and shoots; only trees in bloom can take it on blossom.
    Blossom = "blossom",
}

impl Kind {
    /// Whether no seedling is resistant.
    pub fn is_null(self) -> bool {
        matches!(self, Self::Null | Self::NullPatchy)
    }

    /// The recipe of this kind for a seed: reach, patchiness, strength of the seasons and
    /// frailty vary from seed to seed as they would from orchard to orchard.
    pub fn recipe(self, seed: u64) -> Recipe {
        let mut draw = Draw::new(seed, For::Kind, 0);
        let mut recipe = ordinary(&mut draw);
        recipe.name = format!("Made-up plot: {}, seed {seed}", self.as_str());
        self.turn(&mut recipe, &mut draw);
        recipe
    }

    fn turn(self, recipe: &mut Recipe, draw: &mut Draw) {
        let families = recipe.planting.crosses.len();
        let planting = &mut recipe.planting;
        let looking = &mut recipe.looking;
        let disease = &mut recipe.diseases[0];
        match self {
            Self::Blocks => {}
            Self::Scattered => planting.order = Order::Scattered,
            Self::NoChecks => {
                planting.order = Order::Scattered;
                planting.susceptible_checks.0 = Checks::None;
                planting.resistant_checks.0 = Checks::None;
            }
            Self::ParentsUnknown => {
                planting.order = Order::Scattered;
                planting.parents_unknown = 1.0;
                planting.susceptible_checks.0 = Checks::Anywhere(20);
            }
            Self::Gaps => {
                planting.gaps = 0.1;
                planting.tags_lost = 0.1;
                looking.missing = 0.25;
            }
            Self::Missed => looking.false_negative = 0.25,
            Self::FalseAlarms => looking.false_positive = 0.02,
            Self::Downwind => {
                let to_deg = draw.between(0.0, 360.0);
                disease.kernel = Kernel::Downwind {
                    half_distance_m: draw.log_between(2.0, 6.0),
                    to_deg,
                    against: 0.25,
                };
                disease.primary.pattern =
                    Pattern::Edge { to_deg, length_m: draw.between(6.0, 14.0) };
                disease.primary.amount *= 1.5;
            }
            Self::FarReach => {
                disease.kernel = Kernel::PowerLaw {
                    scale_m: draw.log_between(0.5, 1.5),
                    exponent: draw.between(2.2, 3.0),
                };
            }
            Self::Foci => {
                disease.primary.pattern =
                    Pattern::Foci { count: 3 + draw.below(4) as u32, length_m: 4.0 };
                disease.primary.lasting = 0.8;
            }
            Self::Quiet => disease.strength.iter_mut().for_each(|strength| *strength *= 0.5),
            Self::Violent => disease.strength.iter_mut().for_each(|strength| *strength *= 1.8),
            Self::OneSeason => {
                recipe.seasons = 1;
                disease.strength = vec![draw.log_between(1.2, 2.5)];
            }
            Self::FourSeasons => recipe.seasons = 4,
            Self::TwoRows => (planting.rows, planting.places) = (2, 250),
            Self::Clones => {
                planting.order = Order::Scattered;
                planting.copies = Some(Copies { share: 1.0 / 3.0, each: 3 });
            }
            Self::Replanted => {
                planting.graft_carriers.0 = 12;
                planting.replaced = 0.15;
            }
            Self::GammaFrailty => disease.frailty = Frailty::Gamma { shape: 1.0 },
            Self::LogNormalFrailty => disease.frailty = Frailty::LogNormal { sd: 1.0 },
            Self::ManyGenes => {
                planting.order = Order::Scattered;
                disease.genetics = Genetics::Many {
                    mean_ln: (0..families).map(|_| draw.between(-2.2, -0.4)).collect(),
                    sd_ln: 1.2,
                    resistant_at_most: 0.15,
                };
                disease.frailty = Frailty::None;
            }
            Self::Null => disease.genetics = Genetics::Gene(vec![0.0; families]),
            Self::NullPatchy => {
                disease.genetics = Genetics::Gene(vec![0.0; families]);
                disease.primary.pattern = Pattern::Patchy { sd: 1.6, length_m: 8.0 };
                disease.primary.lasting = 1.0;
                planting.order = Order::Scattered;
            }
            Self::Blossom => {
                recipe.bloom = vec![0.3, 0.55, 0.7];
                *disease = fire_blight(disease);
            }
        }
    }
}

/// Families of the ordinary recipe: parents, mark, share of resistant seedlings.
const FAMILIES: [(&str, &str, &str, f64); 6] = [
    ("S-1", "R-1", "A", 0.5),
    ("S-2", "R-1", "B", 0.5),
    ("R-1", "R-2", "C", 0.75),
    ("S-3", "S-1", "D", 0.0),
    ("S-1", "R-3", "E", 0.25),
    ("S-3", "R-2", "F", 0.5),
];

fn ordinary(draw: &mut Draw) -> Recipe {
    let crosses = FAMILIES.map(|(seed_parent, pollen_parent, mark, _)| CrossRecipe {
        seed_parent: seed_parent.to_owned(),
        pollen_parent: pollen_parent.to_owned(),
        mark: mark.to_owned(),
        year: 2024,
        size: draw.log_between(0.6, 1.6),
    });
    Recipe {
        name: String::new(),
        origin: None,
        row_ends: [None, None],
        planting: Planting {
            rows: 12,
            places: 50,
            row_spacing_m: [2.5, 3.0, 3.5][draw.below(3)],
            place_spacing_m: [0.5, 0.75, 1.0][draw.below(3)],
            planted: 2026,
            crosses: crosses.to_vec(),
            order: Order::Blocks,
            susceptible_checks: (Checks::Every(10), "susceptible check".to_owned()),
            resistant_checks: (Checks::Every(50), "resistant check".to_owned()),
            parents_unknown: 0.0,
            gaps: 0.03,
            tags_lost: 0.02,
            copies: None,
            graft_carriers: (0, "carrier".to_owned()),
            replaced: 0.0,
            shares_stated: false,
        },
        first_season: 2029,
        seasons: 3,
        diseases: vec![scab(draw)],
        looking: Looking {
            missing: 0.04,
            false_negative: 0.02,
            false_positive: 0.0,
            days_per_round: 2,
        },
        bloom: Vec::new(),
        trunks: false,
    }
}

fn scab(draw: &mut Draw) -> Disease {
    Disease {
        name: "scab".to_owned(),
        parts: vec![Part {
            shows_as: scales::scab("scab_leaf", "Scab on leaves", "leaves"),
            force_share: 1.0,
            open: Span { first: 5, end: 140 },
            rounds: vec![52, 82, 118],
        }],
        genetics: Genetics::Gene(FAMILIES.map(|family| family.3).to_vec()),
        frailty: Frailty::LogNormal { sd: draw.between(0.4, 0.8) },
        check_frailty: 1.0,
        leak: 0.02,
        kernel: Kernel::Exponential { half_distance_m: draw.log_between(0.8, 3.0) },
        secondary: draw.log_between(7.0, 14.0),
        primary: Primary {
            amount: draw.log_between(0.12, 0.35),
            flies: Span { first: 5, end: 75 },
            pattern: Pattern::Patchy {
                sd: draw.between(0.9, 1.5),
                length_m: draw.log_between(4.0, 10.0),
            },
            lasting: draw.between(0.4, 0.9),
        },
        strength: (0..4).map(|_| draw.log_between(0.5, 1.8)).collect(),
        active: Span { first: 0, end: 150 },
        latent_days: 13.0,
        first_severity: 0.005,
        severity_per_infection: 0.08,
        vigour_effect: 0.0,
    }
}

/// Fire blight in the same surroundings.
fn fire_blight(like: &Disease) -> Disease {
    Disease {
        name: "fire_blight".to_owned(),
        parts: fire_blight_parts(vec![66], vec![66, 96, 130]),
        primary: Primary { flies: Span { first: 20, end: 70 }, ..like.primary },
        latent_days: 10.0,
        first_severity: 0.02,
        severity_per_infection: 0.12,
        ..like.clone()
    }
}

/// Blossom and shoots, with the days on which their rounds begin.
pub(crate) fn fire_blight_parts(blossom: Vec<i32>, shoots: Vec<i32>) -> Vec<Part> {
    let on_blossom = scales::fire_blight("blossom_blight", "Fire blight on blossom");
    vec![
        Part {
            shows_as: scales::needs_bloom(on_blossom),
            force_share: 3.0,
            open: Span { first: 20, end: 50 },
            rounds: blossom,
        },
        Part {
            shows_as: scales::fire_blight("shoot_blight", "Fire blight on shoots"),
            force_share: 1.0,
            open: Span { first: 40, end: 120 },
            rounds: shoots,
        },
    ]
}
