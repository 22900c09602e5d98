//! Lets one disease run through one season.

use crate::draw::Draw;
use crate::kernel::Reaches;
use crate::{Disease, Span};

/// Days that truth advances at once.
const STEP_DAYS: i32 = 2;
/// Weight of a tree's own inoculum for its own tissue, in units of a full neighbourhood.
const OWN: f64 = 0.5;
/// Share of tissue affected at which a tree gives half of the inoculum that it can give.
const HALF_SHOWS: f64 = 0.03;

/// What one season brings, beside the disease itself.
pub(crate) struct Season<'a> {
    /// Strength of the season.
    pub(crate) strength: f64,
    /// How favourable each day of the disease's active time is.
    pub(crate) weather: &'a [f64],
    /// Relative primary inoculum by tree.
    pub(crate) landing: &'a [f64],
    /// Whether each tree stands.
    pub(crate) stands: &'a [bool],
    /// How many of them were not grafted later.
    pub(crate) first: usize,
    /// What vigour makes of the force on each tree.
    pub(crate) vigour: &'a [f64],
    /// Whether each tree can be infected in each part: `[part][tree]`.
    pub(crate) at_risk: &'a [Vec<bool>],
    /// What multiplies the force on each tree.
    pub(crate) susceptibility: &'a [f64],
}

/// How the season went.
pub(crate) struct Course {
    active: Span,
    parts: Vec<PartCourse>,
}

struct PartCourse {
    /// Day of infection by tree.
    infected: Vec<Option<f64>>,
    /// Dose at the end of each step: `[step][tree]`.
    dose: Vec<Vec<f64>>,
    /// Share of tissue affected at the end of each step: `[step][tree]`.
    severity: Vec<Vec<f64>>,
}

impl Course {
    /// Day of infection.
    pub(crate) fn infected(&self, part: usize, tree: usize) -> Option<f64> {
        self.parts[part].infected[tree]
    }

    /// Dose that a typical susceptible tree has taken there by a day.
    pub(crate) fn dose(&self, part: usize, tree: usize, day: f64) -> f64 {
        let steps = &self.parts[part].dose;
        let at = (day - f64::from(self.active.first)) / f64::from(STEP_DAYS);
        if at <= 0.0 {
            return 0.0;
        }
        let full = (libm::floor(at) as usize).min(steps.len());
        let by = |step: usize| if step == 0 { 0.0 } else { steps[step - 1][tree] };
        if full == steps.len() {
            return by(full);
        }
        by(full) + (at - full as f64) * (by(full + 1) - by(full))
    }

    /// Share of tissue affected on a day.
    pub(crate) fn severity(&self, part: usize, tree: usize, day: f64) -> f64 {
        let steps = &self.parts[part].severity;
        let at = libm::floor((day - f64::from(self.active.first)) / f64::from(STEP_DAYS));
        if at < 1.0 {
            return 0.0;
        }
        steps[(at as usize).min(steps.len()) - 1][tree]
    }
}

/// Runs a season to its end.
pub(crate) fn run(
    disease: &Disease,
    reaches: &Reaches,
    season: &Season<'_>,
    draw: &mut Draw,
) -> Course {
    let trees = season.stands.len();
    let mut course = Course {
        active: disease.active,
        parts: disease
            .parts
            .iter()
            .map(|_| PartCourse { infected: vec![None; trees], dose: vec![], severity: vec![] })
            .collect(),
    };
    let mut withstands = vec![Vec::with_capacity(trees); disease.parts.len()];
    // What is grafted later draws last, so that the others draw what they would without it.
    for some in [0..season.first, season.first..trees] {
        for part in &mut withstands {
            part.extend(some.clone().map(|_| draw.exponential()));
        }
    }
    let days_in_all = f64::from(disease.active.end - disease.active.first);
    let mut shows = vec![0.0; trees];
    let mut first = disease.active.first;
    while first < disease.active.end {
        let end = (first + STEP_DAYS).min(disease.active.end);
        let (primary, secondary) = favour(disease, season, first, end, days_in_all);
        let around = if secondary > 0.0 { inoculum(reaches, &shows) } else { vec![0.0; trees] };
        let force: Vec<f64> = (0..trees)
            .map(|tree| {
                season.vigour[tree] * (primary * season.landing[tree] + secondary * around[tree])
            })
            .collect();
        let own: Vec<f64> = shows.iter().map(|shows| secondary * OWN * shows).collect();
        for (part, of_disease) in disease.parts.iter().enumerate() {
            let open = (of_disease.open.first..of_disease.open.end).contains(&first);
            let share = if open { of_disease.force_share } else { 0.0 };
            let step = Step { first, end, share, force: &force, own: &own };
            course.parts[part].advance(disease, season, part, &withstands[part], &step);
        }
        let last = |part: &PartCourse, tree: usize| part.severity.last().map_or(0.0, |s| s[tree]);
        for (tree, shows) in shows.iter_mut().enumerate() {
            let worst = course.parts.iter().map(|part| last(part, tree)).fold(0.0, f64::max);
            *shows = worst / (worst + HALF_SHOWS);
        }
        first = end;
    }
    course
}

/// Primary amount and secondary rate of a step, both for a place where everything is 1.
fn favour(disease: &Disease, season: &Season<'_>, first: i32, end: i32, days: f64) -> (f64, f64) {
    let weather = |day: i32| season.weather[(day - disease.active.first) as usize];
    let primary: f64 = (first..end).map(|day| weather(day) * disease.primary.on_day(day)).sum();
    let secondary: f64 = (first..end).map(weather).sum();
    (
        season.strength * disease.primary.amount * primary,
        season.strength * disease.secondary * secondary / days,
    )
}

/// Inoculum from the neighbours: 1 where all of them are fully diseased.
fn inoculum(reaches: &Reaches, shows: &[f64]) -> Vec<f64> {
    let mut around = vec![0.0; shows.len()];
    for (source, &amount) in shows.iter().enumerate().filter(|(_, amount)| **amount > 0.0) {
        for &(target, weight) in reaches.from(source) {
            around[target as usize] += weight * amount;
        }
    }
    around
}

struct Step<'a> {
    first: i32,
    end: i32,
    share: f64,
    force: &'a [f64],
    own: &'a [f64],
}

impl PartCourse {
    fn advance(
        &mut self,
        disease: &Disease,
        season: &Season<'_>,
        part: usize,
        withstands: &[f64],
        step: &Step<'_>,
    ) {
        let trees = withstands.len();
        let mut dose = self.dose.last().cloned().unwrap_or_else(|| vec![0.0; trees]);
        let mut severity = self.severity.last().cloned().unwrap_or_else(|| vec![0.0; trees]);
        for tree in 0..trees {
            if !(season.stands[tree] && season.at_risk[part][tree]) {
                continue;
            }
            let susceptibility = season.susceptibility[tree];
            let before = dose[tree] * susceptibility;
            let taken = step.share * step.force[tree];
            dose[tree] += taken;
            let after = dose[tree] * susceptibility;
            if self.infected[tree].is_none() && after >= withstands[tree] && after > before {
                let way = ((withstands[tree] - before) / (after - before)).max(0.0);
                let day = f64::from(step.first) + way * f64::from(step.end - step.first);
                self.infected[tree] = Some(day);
            }
            if self.infected[tree]
                .is_some_and(|day| day + disease.latent_days <= f64::from(step.end))
            {
                let healthy = 1.0 - severity[tree];
                let further = susceptibility * (taken + step.share * step.own[tree]);
                let grown = severity[tree]
                    + healthy * (1.0 - libm::exp(-disease.severity_per_infection * further));
                severity[tree] = grown.max(disease.first_severity);
            }
        }
        self.dose.push(dose);
        self.severity.push(severity);
    }
}
