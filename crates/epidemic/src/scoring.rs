//! Walks the rows: what is written down of what there is to see, and what each look could have
//! seen.

use std::collections::BTreeMap;

use plot::{Kind, Plot, Refusal, ScoreDraft, ScoreId, Trait, TraitId, When};
use time::{Date, Duration, Month};

use crate::draw::Draw;
use crate::planting::Stand;
use crate::spread::Course;
use crate::{Disease, Look, Recipe, Strand};

/// Everything that there is to see in one season.
pub(crate) struct Sight<'a> {
    pub(crate) recipe: &'a Recipe,
    pub(crate) stands: &'a [Stand],
    pub(crate) season: usize,
    /// How each disease went.
    pub(crate) courses: &'a [Course],
    /// Whether each tree can be infected: `[disease][part][tree]`.
    pub(crate) at_risk: &'a [Vec<Vec<bool>>],
    /// Bloom class by tree.
    pub(crate) bloom: Option<&'a [f64]>,
    /// Trunk diameter by tree, mm.
    pub(crate) trunks: Option<&'a [f64]>,
}

/// Trait of the bloom class.
pub(crate) const BLOOM: &str = "bloom";
/// Day on which bloom is scored.
const BLOOM_DAY: i32 = 28;
/// Trait of the trunk diameter.
pub(crate) const TRUNK: &str = "trunk_diameter";
/// Day on which trunks are measured.
const TRUNK_DAY: i32 = 193;
/// A person's eye, as standard deviation of the logarithm of severity.
const EYE: f64 = 0.3;

/// What is scored on a walk.
#[derive(Clone, Copy)]
enum Subject {
    Part(usize, usize),
    Bloom,
    Trunk,
}

/// Walks all rounds of a season: scores go into the plot, looks into `strands[disease][tree]`.
///
/// # Errors
/// When the plot refuses a score: the recipe's scales cannot hold it.
pub(crate) fn walk(
    sight: &Sight<'_>,
    plot: &mut Plot,
    strands: &mut [Vec<Vec<Strand>>],
    draw: &mut Draw,
) -> Result<(), Refusal> {
    let mut walks: BTreeMap<i32, Vec<Subject>> = BTreeMap::new();
    for (disease, of_recipe) in sight.recipe.diseases.iter().enumerate() {
        for (part, shown) in of_recipe.parts.iter().enumerate() {
            for &day in &shown.rounds {
                walks.entry(day).or_default().push(Subject::Part(disease, part));
            }
        }
    }
    if sight.bloom.is_some() {
        walks.entry(BLOOM_DAY).or_default().push(Subject::Bloom);
    }
    if sight.trunks.is_some() {
        walks.entry(TRUNK_DAY).or_default().push(Subject::Trunk);
    }
    let mut looks: BTreeMap<(usize, usize, usize), Taken> = BTreeMap::new();
    for (nth, (first_day, subjects)) in walks.into_iter().enumerate() {
        let walkers: Vec<usize> = (0..sight.stands.len())
            .filter(|&n| sight.stands[n].is_looked_at(sight.season))
            .collect();
        let days = sight.recipe.looking.days_per_round.max(1);
        for (step, &tree) in walkers.iter().enumerate() {
            let day = first_day + (step as i32 * days) / walkers.len() as i32;
            for &subject in &subjects {
                let written = match subject {
                    Subject::Part(disease, part) => {
                        let taken = looks.entry((disease, tree, part)).or_default();
                        sight.look(disease, part, tree, day, taken, draw)
                    }
                    Subject::Bloom => sight.bloom.map(|bloom| Written::value(BLOOM, bloom[tree])),
                    Subject::Trunk => sight.trunks.map(|mm| Written::value(TRUNK, mm[tree])),
                };
                if let Some(written) = written {
                    sight.write(plot, tree, day, nth + 1, written)?;
                }
            }
        }
    }
    for ((disease, tree, _), taken) in looks {
        if !taken.looks.is_empty() {
            strands[disease][tree].push(Strand { season: sight.season, looks: taken.looks });
        }
    }
    Ok(())
}

/// Looks taken so far at one part of one tree.
#[derive(Default)]
struct Taken {
    dose: f64,
    looks: Vec<Look>,
}

/// What goes into a line.
struct Written {
    trait_id: TraitId,
    value: Option<f64>,
    note: Option<&'static str>,
}

impl Written {
    fn value(trait_id: &str, value: f64) -> Self {
        Self { trait_id: TraitId::new(trait_id), value: Some(value), note: None }
    }
}

impl Sight<'_> {
    fn look(
        &self,
        disease: usize,
        part: usize,
        tree: usize,
        day: i32,
        taken: &mut Taken,
        draw: &mut Draw,
    ) -> Option<Written> {
        let of_recipe: &Disease = &self.recipe.diseases[disease];
        let shown = &of_recipe.parts[part].shows_as;
        let looking = &self.recipe.looking;
        if draw.chance(looking.missing) {
            return missed(shown, draw);
        }
        let course = &self.courses[disease];
        let at_risk = self.at_risk[disease][part][tree];
        let seen_until = f64::from(day) - of_recipe.latent_days;
        let infected = course.infected(part, tree).is_some_and(|on| on <= seen_until);
        let seen = at_risk
            && draw.chance(if infected {
                1.0 - looking.false_negative
            } else {
                looking.false_positive
            });
        if at_risk {
            let dose = course.dose(part, tree, seen_until);
            taken.looks.push(Look { dose: dose - taken.dose, seen });
            taken.dose = dose;
        }
        let severity = course.severity(part, tree, f64::from(day)).max(of_recipe.first_severity)
            * libm::exp(EYE * draw.normal());
        let value = if seen { worst_fit(shown, severity) } else { clean(shown) };
        Some(Written::value(shown.id.as_str(), value))
    }

    fn write(
        &self,
        plot: &mut Plot,
        tree: usize,
        day: i32,
        round: usize,
        written: Written,
    ) -> Result<(), Refusal> {
        let id = ScoreId::new(format!("S{:05}", plot.scores().len() + 1));
        plot.add_score(ScoreDraft {
            id,
            tree: self.stands[tree].draft.id.clone(),
            trait_id: written.trait_id,
            value: written.value,
            scored_on: When::on(date(self.recipe, self.season, day)),
            round: Some(round.to_string().into()),
            scorer: None,
            note: written.note.map(Into::into),
            replaces: None,
        })?;
        Ok(())
    }
}

/// The date of a day of a season.
pub(crate) fn date(recipe: &Recipe, season: usize, day: i32) -> Date {
    let year = recipe.first_season + season as i32;
    let first = Date::from_calendar_date(year, Month::April, 1).unwrap_or(Date::MIN);
    first.saturating_add(Duration::days(i64::from(day)))
}

/// A score that was not taken: mostly no line, now and then one that says so.
fn missed(shown: &Trait, draw: &mut Draw) -> Option<Written> {
    if !draw.chance(0.2) {
        return None;
    }
    let unseen = match &shown.kind {
        Kind::Ordinal(scale) => {
            scale.steps().iter().find(|step| step.severity.is_none()).map(|step| step.value)
        }
        Kind::Number { .. } => None,
    };
    let note = unseen.is_none().then_some("could not be scored");
    Some(Written { trait_id: shown.id.clone(), value: unseen, note })
}

/// The value that says looked at and clean.
fn clean(shown: &Trait) -> f64 {
    match &shown.kind {
        Kind::Ordinal(scale) => {
            let clean = scale.steps().iter().find(|step| step.severity == Some(0.0));
            clean.map_or(f64::NAN, |step| step.value)
        }
        Kind::Number { min, .. } => min.unwrap_or(0.0),
    }
}

/// The infected value whose severity is nearest on the logarithmic scale.
fn worst_fit(shown: &Trait, severity: f64) -> f64 {
    match &shown.kind {
        Kind::Ordinal(scale) => {
            let apart = |of: f64| libm::fabs(libm::log(of) - libm::log(severity));
            scale
                .steps()
                .iter()
                .filter_map(|step| Some((step.value, step.severity.filter(|of| *of > 0.0)?)))
                .min_by(|a, b| apart(a.1).total_cmp(&apart(b.1)))
                .map_or(f64::NAN, |(value, _)| value)
        }
        Kind::Number { min, max, .. } => {
            let (low, high) = (min.unwrap_or(0.0), max.unwrap_or(1.0));
            libm::round(low + severity * (high - low)).clamp(low + 1.0, high)
        }
    }
}
