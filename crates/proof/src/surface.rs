//! The pressure surface: what neighbours say about any spot of the plot, by season or as far as it
//! was known on a day.
//!
//! At a spot, with the kernel K of most weight in the fit, over the scored trees j of one season:
//! inoculum `Σ K s`, s being the worst severity known by then, and witness share
//! `(Σ K (1 − ρ) y + k P̄) / (Σ K (1 − ρ) + k)`, ρ being the probability that j is resistant, y
//! whether it was seen infected, P̄ the plot's share and k the fit's prior. These are the numbers
//! of [`Neighbourhood`](crate::Neighbourhood) at any spot, save that a tree at the spot counts.
//!
//! Where hardly anyone tells — trees scored weigh less than [`LEAST_TOLD`] at the spot, or for the
//! witness share those that could have been infected — the answer is none: it would be the prior.

use plot::disease::Reach;
use plot::{Plot, Season, Spot, TreeIx};
use spatial::{Near, Neighbours};
use time::Date;

use crate::case::permille;
use crate::pressure::{MOST_NEIGHBOURS, NEGLIGIBLE, Spread, Weights};
use crate::search::farthest_m;
use crate::{Report, Span};

/// Kernel weight of the trees that must tell something of a spot: as of one tree at two
/// half-distances.
const LEAST_TOLD: f64 = 0.25;

/// What neighbours say about a spot.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Pressure {
    /// Diseased tissue around, in trees diseased all over that stand right there; none where
    /// hardly a tree near was scored.
    pub inoculum: Option<f64>,
    /// Witness share, 0 to 1; none where hardly a tree near could have told.
    pub witness_share: Option<f64>,
}

/// Disease pressure over a plot. Holds no borrow of plot or report.
#[derive(Clone, Debug)]
pub struct PressureSurface {
    spread: Spread,
    /// Farthest neighbour that is looked at, metres.
    farthest_m: f64,
    prior_witnesses: f64,
    /// Scored trees by tree id, so that ties among neighbours go by it.
    points: Vec<(f64, f64)>,
    could_have: Vec<f32>,
    seasons: Vec<(Season, Vec<Reading>)>,
}

/// A usable score.
#[derive(Clone, Copy, Debug)]
struct Reading {
    site: u32,
    on: Date,
    severity: f64,
}

/// The neighbours of many spots, weighed once and asked for any part of the record.
#[derive(Clone, Debug)]
pub struct Around(Weights);

/// What the scored trees of one season tell.
struct Told {
    /// By site: severity, scored (0 or 1), infected as far as it is a witness, witness.
    by_site: Vec<[f32; 4]>,
    plot_share: f64,
}

impl PressureSurface {
    /// The surface of the report's disease over the seasons that it looked at; none without a fit.
    pub fn of(plot: &Plot, report: &Report) -> Option<Self> {
        let fit = report.fit.as_ref()?;
        let mut lines: Vec<_> = report.trees.iter().collect();
        lines.sort_by(|a, b| plot.tree(a.tree).id().cmp(plot.tree(b.tree).id()));
        let mut site_of: Vec<Option<u32>> = vec![None; plot.trees().len()];
        for (line, site) in lines.iter().zip(0..) {
            site_of[line.tree.get()] = Some(site);
        }
        let mut seasons: Vec<(Season, Vec<Reading>)> =
            report.seasons.iter().map(|season| (season.season, Vec::new())).collect();
        let traits = plot.traits_of_disease(&report.disease);
        for (_, score) in plot.standing_scores() {
            if !traits.contains(&score.trait_ix) {
                continue;
            }
            let season = plot.season_of(score);
            let readings = seasons.iter_mut().find(|(one, _)| *one == season);
            let (Some((_, readings)), Some(site)) = (readings, site_of[score.tree.get()]) else {
                continue;
            };
            if let Some(severity) = plot.shown_severity(score) {
                readings.push(Reading { site, on: score.scored_on.date(), severity });
            }
        }
        let spot = |tree: TreeIx| plot.tree(tree).spot();
        Some(Self {
            spread: fit.spread,
            farthest_m: plot
                .disease(&report.disease)
                .map_or_else(|| farthest_m(&Reach::default()), |it| farthest_m(&it.reach)),
            prior_witnesses: fit.prior_witnesses,
            points: lines.iter().map(|line| spot(line.tree)).map(|at| (at.x_m, at.y_m)).collect(),
            could_have: lines.iter().map(|line| line.could_have.unwrap_or(1.0) as f32).collect(),
            seasons,
        })
    }

    /// The distance over which pressure halves, metres: along the row and across it, on average.
    pub fn half_distance_m(&self) -> f64 {
        self.spread.kernel.reach_m(0.5)
    }

    /// Weighs the neighbours of spots: the nearest 128 scored trees, as far as the kernel gives
    /// them a hundredth. A tree that stands on a spot is a neighbour of it.
    pub fn around(&self, spots: &[Spot]) -> Around {
        let at: Vec<(f64, f64)> = spots.iter().map(|spot| (spot.x_m, spot.y_m)).collect();
        let reach_m = self.spread.ellipse.reach_m(self.spread.kernel.reach_m(NEGLIGIBLE));
        let reach_m = reach_m.min(self.farthest_m);
        let mut weights = Weights::with_room(at.len(), 0);
        Neighbours::nearest_of_spots(&self.points, &at, MOST_NEIGHBOURS, reach_m, |nth, near| {
            let from = at[nth];
            let weigh = |near: &Near| {
                let to = self.points[near.index];
                (near.index, self.spread.weight(to.0 - from.0, to.1 - from.1))
            };
            weights.push(near.iter().map(weigh));
        });
        Around(weights)
    }

    /// What neighbours say about each of the spots.
    pub fn pressures(&self, around: &Around, span: Span) -> Vec<Pressure> {
        let mut found = vec![Pressure::default(); around.len()];
        for (_, readings) in self.seasons.iter().filter(|(season, _)| span.holds(*season)) {
            let told = self.told(readings, span);
            for (nth, found) in found.iter_mut().enumerate() {
                let here = self.here(around.0.of(nth), &told);
                found.inoculum = highest(found.inoculum, here.inoculum);
                found.witness_share = highest(found.witness_share, here.witness_share);
            }
        }
        found
    }

    fn told(&self, readings: &[Reading], span: Span) -> Told {
        let mut by_site = vec![[0.0; 4]; self.points.len()];
        let mut worst = vec![None::<f64>; self.points.len()];
        for reading in readings.iter().filter(|reading| span.knows(reading.on)) {
            let worst = &mut worst[reading.site as usize];
            *worst = highest(*worst, Some(reading.severity));
        }
        let (mut infected, mut all) = (0.0, 0.0);
        for ((told, worst), &could_have) in by_site.iter_mut().zip(worst).zip(&self.could_have) {
            let Some(worst) = worst else { continue };
            let severity = f32::from(permille(worst)) / 1000.0;
            let sick = if worst > 0.0 { could_have } else { 0.0 };
            *told = [severity, 1.0, sick, could_have];
            infected += f64::from(sick);
            all += f64::from(could_have);
        }
        Told { by_site, plot_share: if all > 0.0 { infected / all } else { 0.0 } }
    }

    fn here(&self, links: impl Iterator<Item = (usize, f64)>, told: &Told) -> Pressure {
        let mut sums = [0.0_f32; 4];
        for (site, weight) in links {
            for (sum, value) in sums.iter_mut().zip(told.by_site[site]) {
                *sum += weight as f32 * value;
            }
        }
        let [tissue, scored, sick, witnesses] = sums.map(f64::from);
        let k = self.prior_witnesses;
        let share = (sick + k * told.plot_share) / (witnesses + k);
        Pressure {
            inoculum: (scored >= LEAST_TOLD).then_some(tissue),
            witness_share: (witnesses >= LEAST_TOLD).then_some(share),
        }
    }
}

impl Around {
    /// How many spots there are.
    pub fn len(&self) -> usize {
        self.0.len()
    }

    /// Whether there is no spot.
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }
}

fn highest(one: Option<f64>, other: Option<f64>) -> Option<f64> {
    match (one, other) {
        (Some(one), Some(other)) => Some(one.max(other)),
        (one, other) => one.or(other),
    }
}

#[cfg(test)]
mod tests;
