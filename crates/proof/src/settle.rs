//! What would settle a clean tree: another season, a copy in a busier place, the scores of its
//! unscored neighbours.

use crate::case::{Case, Standing};
use crate::escape::{NODES, frailty, stay_clean};
use crate::fit::Fitted;
use crate::report::{BusyPlace, Settle, Verdict};

/// Seasons looked ahead, at the most.
const MOST_SEASONS: u32 = 20;
/// Places for copies that the report names.
const BUSY_PLACES: usize = 5;

/// What one more season like the median one would bring, place by place.
pub(crate) struct Outlook {
    /// By site: infections expected in a season like the median one.
    season_dose: Vec<f64>,
    /// By site: gamma shape of that expectation.
    shape: Vec<f64>,
    /// The busiest places, busiest first.
    pub(crate) busy: Vec<BusyPlace>,
}

impl Outlook {
    pub(crate) fn of(case: &Case, fitted: &Fitted) -> Self {
        let width = case.rounds.len();
        let (mut season_dose, mut shape) = (Vec::new(), Vec::new());
        for site in 0..case.sites.len() {
            let risk = &fitted.state.risk[site * width..(site + 1) * width];
            let mut doses: Vec<f64> = case
                .seasons
                .iter()
                .map(|span| {
                    (span.first..span.end)
                        .map(|round| fitted.state.level[round] * risk[round].mean)
                        .sum()
                })
                .collect();
            doses.sort_by(f64::total_cmp);
            season_dose.push(doses[(doses.len() - 1) / 2]);
            let shapes = risk.iter().map(|one| one.shape).sum::<f64>();
            shape.push(shapes / width as f64);
        }
        let mut order: Vec<usize> = (0..case.sites.len()).collect();
        order.sort_by(|a, b| season_dose[*b].total_cmp(&season_dose[*a]).then(a.cmp(b)));
        let busy = order
            .into_iter()
            .take(BUSY_PLACES)
            .map(|site| BusyPlace { tree: case.sites[site].tree, season_dose: season_dose[site] })
            .collect();
        Self { season_dose, shape, busy }
    }

    /// For a clean tree of a family; none for checks and where a copy was seen infected.
    pub(crate) fn settle(&self, case: &Case, fitted: &Fitted, site: usize) -> Option<Settle> {
        let group = case.sites[site].group;
        let Standing::Member(family) = case.groups[group].standing else { return None };
        let sites = &case.groups[group].sites;
        if sites.iter().any(|&one| case.sites[one].first_infected.is_some()) {
            return None;
        }
        let past = Past::of(fitted, sites);
        let luck_after = |seasons: u32, place: usize| {
            let (dose, shape) = (self.season_dose[place], self.shape[place]);
            let (susceptible, resistant) = past.then_clean(seasons, dose, shape);
            1.0 - fitted.beliefs[family].resistant(susceptible, resistant)
        };
        let settled = |seasons: &u32| luck_after(*seasons, site) <= Verdict::PROVEN_AT_MOST;
        let busiest = self
            .busy
            .first()
            .and_then(|busy| case.sites.iter().position(|other| other.tree == busy.tree));
        Some(Settle {
            season_dose: self.season_dose[site],
            luck_after_season: luck_after(1, site),
            seasons_needed: (0..=MOST_SEASONS).find(settled),
            luck_after_busiest: busiest.map(|place| luck_after(1, place)),
            unscored_nearby: case.sites[site].unscored_nearby.clone(),
        })
    }
}

/// How well each frailty explains what a clean genotype has come through already.
struct Past {
    nodes: [(f64, f64); NODES],
    resistant: f64,
    leak: f64,
}

impl Past {
    fn of(fitted: &Fitted, sites: &[usize]) -> Self {
        let leak = fitted.hypothesis.leak;
        let mut nodes = frailty(fitted.hypothesis.frailty_sd);
        let mut resistant = 1.0;
        for season in sites.iter().flat_map(|&site| &fitted.doses[site]) {
            for (u, chance) in &mut nodes {
                *chance *= stay_clean(*u * season.clean, season.shape);
            }
            resistant *= stay_clean(leak * season.clean, season.shape);
        }
        Self { nodes, resistant, leak }
    }

    /// Chances of the past and of `seasons` more clean ones, for either state.
    fn then_clean(&self, seasons: u32, dose: f64, shape: f64) -> (f64, f64) {
        let stays = |u: f64| libm::pow(stay_clean(u * dose, shape), f64::from(seasons));
        let susceptible = self.nodes.iter().map(|(u, chance)| chance * stays(*u)).sum();
        (susceptible, self.resistant * stays(self.leak))
    }
}
