//! From recipe and seed to a plot with its truth.

use std::collections::BTreeMap;

use plot::{Cross, CrossKey, Head, Layout, Plot, Refusal};

use crate::draw::{Draw, For};
use crate::kernel::Reaches;
use crate::planting::{self, Graft, Planted};
use crate::scoring::{self, Sight};
use crate::spread::{self, Course, Season};
use crate::truth::TreeTruth;
use crate::{Disease, DiseaseTruth, Genetics, MadeUp, Recipe, Strand, genes, scales, weather};

/// Makes a plot: the same recipe and seed, the same plot.
///
/// # Errors
/// A recipe without rows, families, seasons or parts, with a share outside 0–1, with lengths or
/// rates not above 0, or with a scale that cannot hold what it is to show.
///
/// # Example
/// ```
/// let recipe = epidemic::Kind::Blocks.recipe(7);
/// let made = epidemic::make(&recipe, 7)?;
/// assert_eq!(made.truth[0].trees.len(), made.plot.trees().len());
/// # Ok::<(), plot::Refusal>(())
/// ```
pub fn make(recipe: &Recipe, seed: u64) -> Result<MadeUp, Refusal> {
    make_with(recipe, seed, &[])
}

/// The same plot, with copies grafted before some of its seasons. Until the first of them every score
/// is as [`make`] has it; nothing of what was there before is drawn anew.
///
/// # Errors
/// As [`make`]; a graft of or on what is no tree of the plot.
pub fn make_with(recipe: &Recipe, seed: u64, grafts: &[Graft]) -> Result<MadeUp, Refusal> {
    recipe.check()?;
    let mut plot = Plot::new(head(recipe))?;
    let mut planted =
        planting::plant(recipe, &plot.head().layout.clone(), &mut stream(seed, For::Planting, 0));
    planted.graft_copies(recipe, grafts)?;
    for stand in &planted.stands {
        plot.add_tree(stand.draft.clone())?;
    }
    let growth = Growth::new(recipe, &planted, seed);
    let worlds: Vec<World<'_>> = (0..recipe.diseases.len())
        .map(|nth| World::new(recipe, nth, &planted, &growth, seed))
        .collect();
    let trees = planted.stands.len();
    let mut strands: Vec<Vec<Vec<Strand>>> = vec![vec![Vec::new(); trees]; worlds.len()];
    let mut infected_on = vec![vec![Vec::new(); trees]; worlds.len()];
    for season in 0..recipe.seasons {
        let at_risk: Vec<Vec<Vec<bool>>> =
            recipe.diseases.iter().map(|disease| growth.at_risk(disease, season, trees)).collect();
        let courses: Vec<Course> = worlds
            .iter()
            .zip(&at_risk)
            .map(|(world, at_risk)| world.season(season, &planted, at_risk, seed))
            .collect();
        for (disease, course) in courses.iter().enumerate() {
            let parts = recipe.diseases[disease].parts.len();
            for (tree, days) in infected_on[disease].iter_mut().enumerate() {
                let first = (0..parts).filter_map(|part| course.infected(part, tree));
                let first = first.min_by(f64::total_cmp);
                days.push(first.map(|day| scoring::date(recipe, season, libm::floor(day) as i32)));
            }
        }
        let sight = Sight {
            recipe,
            stands: &planted.stands,
            season,
            courses: &courses,
            at_risk: &at_risk,
            bloom: growth.bloom.get(season).map(Vec::as_slice),
            trunks: growth.trunks.get(season).map(Vec::as_slice),
        };
        scoring::walk(&sight, &mut plot, &mut strands, &mut stream(seed, For::Scoring, season))?;
    }
    let truth = worlds
        .into_iter()
        .zip(strands.into_iter().zip(infected_on))
        .map(|(world, (strands, infected_on))| world.truth(&planted, strands, infected_on))
        .collect();
    Ok(MadeUp { plot, truth })
}

fn stream(seed: u64, what_for: For, nth: usize) -> Draw {
    Draw::new(seed, what_for, nth as u32)
}

fn head(recipe: &Recipe) -> Head {
    let planting = &recipe.planting;
    let mut traits: Vec<plot::Trait> = Vec::new();
    if !recipe.bloom.is_empty() {
        traits.push(scales::bloom());
    }
    for part in recipe.diseases.iter().flat_map(|disease| &disease.parts) {
        traits.push(part.shows_as.clone());
    }
    if recipe.trunks {
        traits.push(scales::trunk_diameter());
    }
    let expected = |family: usize| -> BTreeMap<String, f64> {
        let share = |disease: &Disease| match &disease.genetics {
            Genetics::Gene(shares) if planting.shares_stated => {
                Some((disease.name.clone(), shares[family]))
            }
            _ => None,
        };
        recipe.diseases.iter().filter_map(share).collect()
    };
    let crosses = planting.crosses.iter().enumerate().map(|(family, cross)| Cross {
        key: CrossKey {
            seed_parent: Some(cross.seed_parent.as_str().into()),
            pollen_parent: Some(cross.pollen_parent.as_str().into()),
        },
        expected_resistant: expected(family),
    });
    Head {
        name: recipe.name.clone(),
        layout: Layout {
            row_spacing_m: planting.row_spacing_m,
            place_spacing_m: planting.place_spacing_m,
            first_row: 1,
            first_place: 1,
        },
        origin: recipe.origin,
        season_starts_month: 1,
        traits,
        diseases: Default::default(),
        crosses: crosses.collect(),
    }
}

/// What grows, whatever disease is about.
struct Growth {
    /// Standardised vigour by tree.
    vigour: Vec<f64>,
    /// Bloom class: `[season][tree]`; no season where bloom is not scored.
    bloom: Vec<Vec<f64>>,
    /// Trunk diameter, mm: `[season][tree]`; no season where trunks are not measured.
    trunks: Vec<Vec<f64>>,
}

impl Growth {
    fn new(recipe: &Recipe, planted: &Planted, seed: u64) -> Self {
        let mut draw = stream(seed, For::Growth, 0);
        // A graft grows and blooms as what it is a copy of.
        let vigour = planted.with_grafts(|trees| (0..trees).map(|_| draw.normal()).collect());
        // A tree that comes into bloom keeps blooming: one threshold for all seasons.
        let ripeness = planted.with_grafts(|trees| (0..trees).map(|_| draw.unit()).collect());
        let bloom = (0..recipe.seasons)
            .filter_map(|season| recipe.bloom_share(season))
            .map(|share| {
                let class = |ripe: &f64| {
                    if *ripe < share {
                        1.0 + libm::floor(3.0 * (1.0 - ripe / share)).min(2.0)
                    } else {
                        0.0
                    }
                };
                ripeness.iter().map(class).collect()
            })
            .collect();
        let mm = |season: usize, vigour: f64| {
            let years = recipe.first_season + season as i32 - recipe.planting.planted;
            let typical = 5.5 * f64::from(years.max(1));
            libm::round(typical * libm::exp(0.18 * vigour)).clamp(1.0, 400.0)
        };
        let seasons = if recipe.trunks { recipe.seasons } else { 0 };
        let trunks =
            (0..seasons).map(|season| vigour.iter().map(|v| mm(season, *v)).collect()).collect();
        Self { vigour, bloom, trunks }
    }

    fn at_risk(&self, disease: &Disease, season: usize, trees: usize) -> Vec<Vec<bool>> {
        let part = |part: &crate::Part| match (&part.shows_as.needs, self.bloom.get(season)) {
            (Some(needs), Some(bloom)) => bloom.iter().map(|has| *has >= needs.at_least).collect(),
            _ => vec![true; trees],
        };
        disease.parts.iter().map(part).collect()
    }
}

/// What of one disease stays the same through the seasons.
struct World<'a> {
    recipe: &'a Recipe,
    disease: &'a Disease,
    nth: usize,
    reaches: Reaches,
    landing: Vec<Vec<f64>>,
    /// Frailty and resistance by tree.
    genes: Vec<genes::Genes>,
    vigour: Vec<f64>,
}

impl<'a> World<'a> {
    fn new(recipe: &'a Recipe, nth: usize, planted: &Planted, growth: &Growth, seed: u64) -> Self {
        let disease = &recipe.diseases[nth];
        let spots: Vec<plot::Spot> = planted.stands.iter().map(|stand| stand.spot).collect();
        let there: Vec<bool> =
            planted.stands.iter().map(|stand| stand.genotype.is_some()).collect();
        let mut inoculum = stream(seed, For::Inoculum, nth);
        let mut landing =
            disease.primary.landing(&spots[..planted.first], recipe.seasons, &mut inoculum);
        landing.iter_mut().for_each(|amounts| planted.add_grafts(amounts, |graft| graft.on));
        Self {
            recipe,
            disease,
            nth,
            reaches: Reaches::new(&disease.kernel, &spots, &there, planted.first),
            landing,
            genes: genes::by_tree(disease, planted, &mut stream(seed, For::Genes, nth)),
            vigour: growth.vigour.iter().map(|v| libm::exp(disease.vigour_effect * v)).collect(),
        }
    }

    fn season(&self, season: usize, planted: &Planted, at_risk: &[Vec<bool>], seed: u64) -> Course {
        let stands: Vec<bool> = planted.stands.iter().map(|stand| stand.stands(season)).collect();
        let susceptibility: Vec<f64> = self.genes.iter().map(|g| g.susceptibility).collect();
        let nth = self.nth * self.recipe.seasons + season;
        // All diseases of a season share its weather where they are about at the same time.
        let weather = weather::days(self.disease.active, &mut stream(seed, For::Weather, season));
        let brings = Season {
            strength: Recipe::strength(self.disease, season),
            weather: &weather,
            landing: &self.landing[season],
            stands: &stands,
            first: planted.first,
            vigour: &self.vigour,
            at_risk,
            susceptibility: &susceptibility,
        };
        spread::run(self.disease, &self.reaches, &brings, &mut stream(seed, For::Infection, nth))
    }

    fn truth(
        self,
        planted: &Planted,
        strands: Vec<Vec<Strand>>,
        infected_on: Vec<Vec<Option<time::Date>>>,
    ) -> DiseaseTruth {
        let (priors, prior_of) = genes::priors(self.disease, planted);
        let trees = self.genes.iter().zip(strands.into_iter().zip(infected_on));
        let tree = |(genes, (strands, infected_on)): (&genes::Genes, (Vec<Strand>, Vec<_>))| {
            let looks = strands.iter().flat_map(|strand: &Strand| &strand.looks);
            TreeTruth {
                resistant: genes.resistant,
                susceptibility: genes.susceptibility,
                frailty: genes.frailty,
                dose: looks.map(|look| look.dose).sum(),
                infected_on,
                strands,
            }
        };
        DiseaseTruth {
            disease: self.disease.name.clone(),
            trees: trees.map(tree).collect(),
            prior_of,
            priors,
            false_negative: self.recipe.looking.false_negative,
            false_positive: self.recipe.looking.false_positive,
        }
    }
}
