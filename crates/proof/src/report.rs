//! What comes out: one report for browser, command line and exports alike.

use plot::{GenotypeId, Season, TraitIx, TreeIx, When};
use serde::{Deserialize, Serialize};

use crate::Reach;
use crate::pressure::Spread;
use crate::segregation::Segregation;

/// What a score history amounts to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Verdict {
    /// Clean, luck at most 0.05.
    Proven,
    /// Clean, luck at most 0.25.
    Leaning,
    /// Clean, luck above 0.25.
    Untested,
    /// Seen with symptoms.
    Infected,
}

impl Verdict {
    /// Largest luck of a *proven* tree.
    pub const PROVEN_AT_MOST: f64 = 0.05;
    /// Largest luck of a *leaning* tree.
    pub const LEANING_AT_MOST: f64 = 0.25;
    /// All four, most trusted first.
    pub const ALL: [Self; 4] = [Self::Proven, Self::Leaning, Self::Untested, Self::Infected];

    /// The verdict on a clean tree; luck alone decides.
    pub fn of_luck(luck: f64) -> Self {
        if luck <= Self::PROVEN_AT_MOST {
            Self::Proven
        } else if luck <= Self::LEANING_AT_MOST {
            Self::Leaning
        } else {
            Self::Untested
        }
    }

    /// The word that tables and screens use.
    pub fn as_str(self) -> &'static str {
        match self {
            Self::Proven => "proven",
            Self::Leaning => "leaning",
            Self::Untested => "untested",
            Self::Infected => "infected",
        }
    }
}

/// A value with its 90 % interval.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Estimate {
    /// The value.
    pub value: f64,
    /// Lower end of the 90 % interval.
    pub low: f64,
    /// Upper end of the 90 % interval.
    pub high: f64,
}

/// Everything that was found out about one disease in one plot.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Report {
    /// The disease.
    pub disease: String,
    /// What the data could not carry, in the order of the steps taken; empty for the full fit.
    pub limits: Vec<Limit>,
    /// The fitted model; none where no fit was possible.
    pub fit: Option<Fit>,
    /// Season by season, in time.
    pub seasons: Vec<SeasonStrength>,
    /// By cross, in order of the parents' names; seedlings without parents are one of them.
    pub crosses: Vec<CrossReport>,
    /// One line for each tree or graft that was scored for the disease, by tree index.
    pub trees: Vec<TreeReport>,
    /// Predicted chance of infection against the share seen, on this plot; empty without a fit.
    pub calibration: Vec<CalibrationBin>,
    /// What the fit leaves unexplained, and whether it has a pattern; none without a fit.
    pub leftover: Option<Leftover>,
    /// The places where a copy would be tested soonest, busiest first; empty without a fit.
    pub busy_places: Vec<BusyPlace>,
    /// Copies pooled: one line for each genotype that was scored, in order of the name.
    pub genotypes: Vec<GenotypeReport>,
}

impl Report {
    /// The line of a tree, if it was scored.
    pub fn tree(&self, tree: TreeIx) -> Option<&TreeReport> {
        let at = self.trees.binary_search_by_key(&tree, |line| line.tree).ok()?;
        Some(&self.trees[at])
    }

    /// Probability that a tree could have been infected; none without a fit or scores.
    pub fn could_have(&self, tree: TreeIx) -> Option<f64> {
        self.tree(tree)?.could_have
    }
}

/// A step back from the full fit, and why.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Limit {
    /// Too few infected trees to choose a kernel: it is fixed to one from the literature.
    KernelFixed {
        /// Trees seen infected.
        infected: usize,
        /// Trees that would have been needed.
        needed: usize,
    },
    /// Too few infected trees to learn how even pressure is: it is fixed.
    BackgroundFixed {
        /// Trees seen infected.
        infected: usize,
        /// Trees that would have been needed.
        needed: usize,
    },
    /// Disease of one round only: who was infected first cannot be told.
    OneRound,
    /// Nobody was seen infected: nothing was tested, everyone stays untested.
    NobodyInfected,
    /// Too few trees seen infected to judge anyone.
    TooFewInfected {
        /// Trees seen infected.
        infected: usize,
        /// Trees that would have been needed.
        needed: usize,
    },
    /// Every scored tree was seen infected: there is no clean tree to judge.
    NobodyClean,
    /// Pressure hardly differs between places: position cannot tell luck from resistance.
    NoContrast,
    /// The passes ended before the fit settled.
    NotConverged {
        /// Passes made.
        passes: u32,
    },
}

/// The fitted model in numbers.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Fit {
    /// Half-distance of the kernel along the row, metres, averaged over kernels by their weight.
    pub half_distance_m: f64,
    /// Kernel families and half-distances tried, with their weight in the average (sums to 1).
    pub kernels: Vec<(String, f64)>,
    /// The same kernels as numbers: how much a neighbour counts by where it stands.
    pub reach: Reach,
    /// The kernel of most weight: inoculum and witness share are weighed by it.
    pub spread: Spread,
    /// Witnesses close by that the plot's own share counts for in a witness share (its k).
    pub prior_witnesses: f64,
    /// Gamma shape of the relative risk before neighbours are looked at: large, when pressure is
    /// even all over the plot and neighbours explain little.
    pub evenness: f64,
    /// Standard deviation of the log-normal frailty among susceptible trees.
    pub frailty_sd: f64,
    /// Share of the hazard that still reaches a resistant tree.
    pub leak: f64,
    /// Log of the hazard's factor for one standard deviation of log vigour; 0 where the plot does
    /// not show that strong trees take more.
    pub vigour_effect: f64,
    /// How far heavily diseased neighbours mean more pressure than lightly diseased ones; 0: the
    /// plot does not show it.
    pub tissue_power: f64,
    /// Passes of the expectation–maximisation.
    pub passes: u32,
    /// Marginal log-likelihood of the best kernel.
    pub log_likelihood: f64,
}

/// How much a season tested.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct SeasonStrength {
    /// The season.
    pub season: Season,
    /// Rounds in which the disease was scored.
    pub rounds: usize,
    /// The last day of these rounds; none without any.
    pub last_look: Option<When>,
    /// Trees scored.
    pub scored: usize,
    /// Trees seen infected.
    pub infected: usize,
    /// Susceptible checks scored.
    pub checks_scored: usize,
    /// Susceptible checks seen infected.
    pub checks_infected: usize,
    /// Trees whose clean looks after a spray are no test.
    pub sprayed: usize,
    /// Dose of the median judged tree in this season; none without a fit.
    pub median_dose: Option<f64>,
}

impl SeasonStrength {
    /// A season in which nobody looked.
    pub fn unseen(season: Season) -> Self {
        Self {
            season,
            rounds: 0,
            last_look: None,
            scored: 0,
            infected: 0,
            checks_scored: 0,
            checks_infected: 0,
            sprayed: 0,
            median_dose: None,
        }
    }
}

/// What a cross did.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct CrossReport {
    /// `seed parent × pollen parent`; none: parents unknown.
    pub cross: Option<String>,
    /// Seedlings scored.
    pub scored: usize,
    /// Seedlings by verdict, in the order of [`Verdict::ALL`].
    pub verdicts: [usize; 4],
    /// Estimated share of resistant seedlings, corrected for escapes; none without a fit.
    pub resistant_share: Option<Estimate>,
    /// Clean seedlings against the share that the breeder expects; none without one.
    pub segregation: Option<Segregation>,
    /// Whether cleanliness follows position within the cross; none without a fit, or where no
    /// season has five clean and five infected members.
    pub position_test: Option<PositionTest>,
}

/// Whether, within a cross, clean trees stand in quieter places than infected ones.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct PositionTest {
    /// Mean witness share around infected members, 0 to 1.
    pub infected_share: f64,
    /// Mean witness share around clean members, 0 to 1.
    pub clean_share: f64,
    /// One-sided p by permutation: small when cleanliness follows position.
    pub p: f64,
    /// Permutations made.
    pub permutations: usize,
    /// Seed of the permutations.
    pub seed: u64,
}

/// Trees and seasons of about the same predicted chance of infection.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct CalibrationBin {
    /// Number of tree-seasons, each counting as far as the tree may be susceptible.
    pub trees: f64,
    /// Mean predicted chance.
    pub expected: f64,
    /// Share seen infected.
    pub seen: f64,
}

/// Moran's I of infections seen less predicted.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Leftover {
    /// Moran's I over the eight nearest neighbours.
    pub moran_i: f64,
    /// One-sided p by permutation: small when like residuals stand together.
    pub p: f64,
    /// Permutations made.
    pub permutations: usize,
    /// Seed of the permutations.
    pub seed: u64,
    /// For each tree, infections seen less predicted, over all seasons.
    pub by_tree: Vec<(TreeIx, f64)>,
}

/// A place where disease presses hard.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct BusyPlace {
    /// The tree that stands there.
    pub tree: TreeIx,
    /// Infections expected there in a season like the median one.
    pub season_dose: f64,
}

/// What would settle a clean tree.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Settle {
    /// Infections expected at its place in a season like the median one.
    pub season_dose: f64,
    /// Its luck if it stayed clean through one more such season.
    pub luck_after_season: f64,
    /// More such seasons until it is proven, should it stay clean; none: more than twenty.
    pub seasons_needed: Option<u32>,
    /// Its luck if a copy stayed clean through one such season at the busiest place.
    pub luck_after_busiest: Option<f64>,
    /// Such seasons of a copy at the busiest place until it is proven; none: more than twenty.
    pub seasons_at_busiest: Option<u32>,
    /// Living trees near it that have no score, the one that would tell most first.
    pub missing: Vec<MissingScore>,
}

/// A living tree without a score, and what a score of it in the last season would have made of the
/// luck of a clean tree near it. To first order: the rest of the fit stays as it is.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct MissingScore {
    /// Which tree.
    pub tree: TreeIx,
    /// Luck of the clean one, had it been seen infected.
    pub if_infected: f64,
    /// Luck of the clean one, had it stayed clean.
    pub if_clean: f64,
}

impl MissingScore {
    /// How far apart its two outcomes are.
    pub fn tells(&self) -> f64 {
        (self.if_clean - self.if_infected).abs()
    }
}

/// One judged thing: a tree, a graft, or a genotype with its copies pooled.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Judgement {
    /// The verdict.
    pub verdict: Verdict,
    /// Probability of an escape; none for a tree with symptoms.
    pub luck: Option<Estimate>,
    /// Infections expected of a typical susceptible seedling; none without a fit.
    pub dose: Option<f64>,
    /// Seasons with at least one usable score.
    pub seasons_scored: usize,
    /// Rounds with a usable score.
    pub rounds_scored: usize,
    /// The score of the highest severity, as written down.
    pub worst_score: Option<f64>,
    /// Its severity, 0 to 1.
    pub worst_severity: f64,
    /// Neighbours within the kernel's reach.
    pub neighbours: Neighbourhood,
    /// Severity expected of a typical susceptible tree at this dose; none without a fit.
    pub expected_severity: Option<f64>,
    /// Expected less worst severity: above 0, it carries less than its dose explains.
    pub severity_gap: Option<f64>,
    /// The gap over seasons, shrunk towards cross and plot, with its 90 % interval; only for what
    /// was seen infected, and where scores of several seasons tell genotypes apart.
    pub shrunk_gap: Option<Estimate>,
    /// What would settle it; only for clean seedlings and named sorts.
    pub settle: Option<Settle>,
    /// Why, the weightiest first.
    pub reasons: Vec<Reason>,
}

/// The plain facts around a tree, over all scored rounds.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Neighbourhood {
    /// The nearest neighbours that were scored (at most as many as the facts look at).
    pub scored: usize,
    /// Of these, seen infected.
    pub infected: usize,
    /// Of these, how many could have been infected: the sum of (1 − probability of resistance).
    pub could_have: f64,
    /// The nearest tree seen infected.
    pub nearest_infected: Option<Nearest>,
    /// Diseased tissue around, weighted by the kernel, in the season when it was most.
    pub inoculum: f64,
    /// Witness share, 0 to 1, in the season when it was highest.
    pub witness_share: f64,
    /// Kernel-weighted number of neighbours that could have been infected.
    pub witnesses: f64,
}

/// The nearest tree seen infected.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Nearest {
    /// Which.
    pub tree: TreeIx,
    /// How far, metres.
    pub distance_m: f64,
    /// The trait it was scored for.
    pub trait_ix: TraitIx,
    /// Its worst score.
    pub score: f64,
    /// When that was seen first.
    pub on: When,
}

/// A tree's line.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct TreeReport {
    /// Which tree.
    pub tree: TreeIx,
    /// Probability that it could have been infected (1 − probability of resistance); none without
    /// a fit.
    pub could_have: Option<f64>,
    /// What was found.
    pub judgement: Judgement,
}

/// A genotype's line.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct GenotypeReport {
    /// Its name.
    pub genotype: GenotypeId,
    /// Its copies that were scored, by tree index.
    pub trees: Vec<TreeIx>,
    /// What was found, copies pooled.
    pub judgement: Judgement,
}

/// Why a verdict is what it is; the words are the screen's.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Reason {
    /// Seen infected first on that day.
    SeenInfected {
        /// The day.
        on: When,
    },
    /// The chance that a typical susceptible seedling would have stayed clean here, 0 to 1.
    EscapeChance {
        /// The chance.
        chance: f64,
    },
    /// What its cross promises: share of resistant seedlings before its own scores, 0 to 1.
    CrossShare {
        /// The share.
        share: f64,
    },
    /// The breeder declared it a susceptible check.
    KnownSusceptible,
    /// The breeder declared it a resistant check.
    KnownResistant,
    /// A copy of the same genotype was seen infected.
    CopyInfected {
        /// Which.
        tree: TreeIx,
    },
    /// Copies of the same genotype stayed clean too.
    CopiesClean {
        /// How many others.
        copies: usize,
    },
    /// It was sprayed in that season: its clean looks after that are no test.
    Sprayed {
        /// The season.
        season: Season,
    },
    /// No susceptible check took the disease in that season: it tests nothing.
    QuietSeason {
        /// The season.
        season: Season,
    },
    /// Few neighbours that could have told: their kernel weights add up to less than one tree close by.
    FewWitnesses,
    /// The data carry no judgement; the report's limits say why.
    NoFit,
}
