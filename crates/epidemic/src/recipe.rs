//! Recipes: everything that a made-up plot is made from, as plain data.

use plot::{Origin, Refusal, Trait};

use crate::{Kernel, Primary};

/// A made-up plot before it is made.
#[derive(Clone, Debug, PartialEq)]
pub struct Recipe {
    /// The plot's name.
    pub name: String,
    /// Where the plot is said to lie.
    pub origin: Option<Origin>,
    /// What people call the end where place numbers begin, and the one where they stop.
    pub row_ends: [Option<String>; 2],
    /// Rows, trees, families.
    pub planting: Planting,
    /// Year of the first season.
    pub first_season: i32,
    /// Number of seasons.
    pub seasons: usize,
    /// What goes round.
    pub diseases: Vec<Disease>,
    /// How well people look.
    pub looking: Looking,
    /// Share of seedlings that bloom, season by season; empty: bloom is not scored. The last
    /// share holds for later seasons.
    pub bloom: Vec<f64>,
    /// Whether trunk diameters are measured each autumn.
    pub trunks: bool,
}

/// What stands where.
#[derive(Clone, Debug, PartialEq)]
pub struct Planting {
    /// Number of rows, numbered from 1.
    pub rows: u32,
    /// Places in each row, numbered from 1.
    pub places: u32,
    /// Distance between rows, metres.
    pub row_spacing_m: f64,
    /// Distance between places of a row, metres.
    pub place_spacing_m: f64,
    /// Year of the autumn in which the trees were planted.
    pub planted: i32,
    /// The families.
    pub crosses: Vec<CrossRecipe>,
    /// How families are laid out.
    pub order: Order,
    /// Where the sort known to be susceptible stands, and its name.
    pub susceptible_checks: (Checks, String),
    /// Where the sort known to be resistant stands, and its name.
    pub resistant_checks: (Checks, String),
    /// Share of seedlings whose parents nobody wrote down.
    pub parents_unknown: f64,
    /// Share of places with nothing in them.
    pub gaps: f64,
    /// Share of trees whose tag was lost.
    pub tags_lost: f64,
    /// Cloned selections among the seedlings.
    pub copies: Option<Copies>,
    /// Trunks that carry three grafts each, copies of seedlings of the plot, and the name of the
    /// sort that carries them.
    pub graft_carriers: (u32, String),
    /// Share of seedlings that died or were taken out between two seasons; every other of them
    /// was replanted at the same place.
    pub replaced: f64,
    /// Whether plot.json says what share of each cross is expected to be resistant.
    pub shares_stated: bool,
}

/// A family.
#[derive(Clone, Debug, PartialEq)]
pub struct CrossRecipe {
    /// Name of the tree that bore the fruit.
    pub seed_parent: String,
    /// Name of the tree that gave the pollen.
    pub pollen_parent: String,
    /// Short mark before the number on the tags.
    pub mark: String,
    /// Year of the cross.
    pub year: i32,
    /// Size relative to the other families.
    pub size: f64,
}

/// How families are laid out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Order {
    /// Family after family, up one row and down the next.
    Blocks,
    /// All mixed.
    Scattered,
}

/// Where checks stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Checks {
    /// Nowhere.
    None,
    /// At every so-manieth place of each row, rows shifted against each other.
    Every(u32),
    /// So many, anywhere.
    Anywhere(u32),
}

/// Cloned selections.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Copies {
    /// Share of the seedling places that hold a copy.
    pub share: f64,
    /// Trees of each cloned genotype, 2 or more.
    pub each: u32,
}

/// A stretch of days of the season, counted from 1 April, last day excluded.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Span {
    /// First day.
    pub first: i32,
    /// Day after the last.
    pub end: i32,
}

/// A disease: who can take it, how it travels, how it shows.
#[derive(Clone, Debug, PartialEq)]
pub struct Disease {
    /// Its name in traits.
    pub name: String,
    /// The traits that show it.
    pub parts: Vec<Part>,
    /// Who resists.
    pub genetics: Genetics,
    /// How susceptible genotypes differ.
    pub frailty: Frailty,
    /// Frailty of the susceptible check sort.
    pub check_frailty: f64,
    /// Share of the force that reaches a resistant tree.
    pub leak: f64,
    /// How inoculum thins out with distance.
    pub kernel: Kernel,
    /// Infections that a typical susceptible tree would take from its neighbours in a season of
    /// strength 1 if all of them were fully diseased from the first day to the last.
    pub secondary: f64,
    /// Inoculum that comes from no tree of the plot.
    pub primary: Primary,
    /// Strength of each season: 0.2 quiet, 1 ordinary, 3 violent. As many as there are seasons;
    /// the last holds for later ones.
    pub strength: Vec<f64>,
    /// Days in which the disease is about.
    pub active: Span,
    /// Days from infection to symptoms and inoculum.
    pub latent_days: f64,
    /// Share of tissue that shows with the first symptoms.
    pub first_severity: f64,
    /// Share of the healthy tissue that each further infection takes.
    pub severity_per_infection: f64,
    /// By how much the force on a tree rises, as a power of e, with one standard deviation of
    /// vigour.
    pub vigour_effect: f64,
}

/// A trait of a disease.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// The trait; a tree that lacks what it needs is not infected in this part.
    pub shows_as: Trait,
    /// Share of the force that falls on this part.
    pub force_share: f64,
    /// Days in which it can be infected.
    pub open: Span,
    /// Days on which a round begins.
    pub rounds: Vec<i32>,
}

/// Who resists.
#[derive(Clone, Debug, PartialEq)]
pub enum Genetics {
    /// A major gene: share of resistant seedlings by family.
    Gene(Vec<f64>),
    /// Many genes: the logarithm of susceptibility is normal within a family.
    Many {
        /// Mean by family; 0 is a typical susceptible genotype.
        mean_ln: Vec<f64>,
        /// Standard deviation within a family.
        sd_ln: f64,
        /// A genotype of at most this susceptibility counts as resistant.
        resistant_at_most: f64,
    },
}

/// How susceptible genotypes differ.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Frailty {
    /// Not at all.
    None,
    /// Log-normal of median 1.
    LogNormal {
        /// Standard deviation of the logarithm.
        sd: f64,
    },
    /// Gamma of mean 1.
    Gamma {
        /// Shape; the variance is its reciprocal.
        shape: f64,
    },
}

/// How well people look.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Looking {
    /// Share of scores that were never taken.
    pub missing: f64,
    /// Share of looks at an infected tree that miss it.
    pub false_negative: f64,
    /// Share of looks at a clean tree that see something.
    pub false_positive: f64,
    /// Days that a walk-through takes.
    pub days_per_round: i32,
}

impl Recipe {
    /// # Errors
    /// No row, place, family, season or part; shares of resistant seedlings for another number of
    /// families than there are; a share outside 0–1; a span without days; a kernel, size or rate
    /// that is not a number above 0.
    pub(crate) fn check(&self) -> Result<(), Refusal> {
        let planting = &self.planting;
        positive("rows", f64::from(planting.rows))?;
        positive("places", f64::from(planting.places))?;
        positive("crosses", planting.crosses.len() as f64)?;
        positive("seasons", self.seasons as f64)?;
        for cross in &planting.crosses {
            positive("crosses.size", cross.size)?;
        }
        for (field, share) in [
            ("parents_unknown", planting.parents_unknown),
            ("gaps", planting.gaps),
            ("tags_lost", planting.tags_lost),
            ("replaced", planting.replaced),
            ("copies.share", planting.copies.map_or(0.0, |copies| copies.share)),
            ("missing", self.looking.missing),
            ("false_negative", self.looking.false_negative),
            ("false_positive", self.looking.false_positive),
        ] {
            share_of("share", field, share)?;
        }
        self.diseases.iter().try_for_each(|disease| disease.check(planting.crosses.len()))
    }

    /// Strength of a disease in a season.
    pub(crate) fn strength(disease: &Disease, season: usize) -> f64 {
        let strength = &disease.strength;
        strength.get(season).or(strength.last()).copied().unwrap_or(1.0)
    }

    /// Share of seedlings that bloom in a season.
    pub(crate) fn bloom_share(&self, season: usize) -> Option<f64> {
        self.bloom.get(season).or(self.bloom.last()).copied()
    }
}

impl Disease {
    fn check(&self, families: usize) -> Result<(), Refusal> {
        positive("parts", self.parts.len() as f64)?;
        let (stated, shares): (usize, &[f64]) = match &self.genetics {
            Genetics::Gene(shares) => (shares.len(), shares),
            Genetics::Many { mean_ln, sd_ln, .. } => {
                positive("sd_ln", *sd_ln)?;
                (mean_ln.len(), &[])
            }
        };
        if stated != families {
            return Err(Refusal::new(
                "genetics",
                format!("{stated} families"),
                format!("as many as there are crosses ({families})"),
            ));
        }
        for &share in shares {
            share_of("genetics", "share of resistant seedlings", share)?;
        }
        share_of("leak", "leak", self.leak)?;
        share_of("primary.lasting", "lasting", self.primary.lasting)?;
        match self.frailty {
            Frailty::None => {}
            Frailty::LogNormal { sd: size } | Frailty::Gamma { shape: size } => {
                positive("frailty", size)?;
            }
        }
        positive("check_frailty", self.check_frailty)?;
        for length_m in self.kernel.lengths_m() {
            positive("kernel", length_m)?;
        }
        for span in [self.active, self.primary.flies] {
            positive("span", f64::from(span.end - span.first))?;
        }
        Ok(())
    }
}

fn positive(field: &'static str, found: f64) -> Result<(), Refusal> {
    if found > 0.0 && found.is_finite() {
        return Ok(());
    }
    Err(Refusal::new(field, found.to_string(), "a number above 0"))
}

fn share_of(field: &'static str, what: &str, found: f64) -> Result<(), Refusal> {
    if (0.0..=1.0).contains(&found) {
        return Ok(());
    }
    Err(Refusal::new(field, format!("{what} {found}"), "a share from 0 to 1"))
}
