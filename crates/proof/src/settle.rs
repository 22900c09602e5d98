//! What would settle a clean tree: another season, a copy in a busier place, the scores of its
//! unscored neighbours.

use crate::case::{Case, SeasonSpan, Site, Standing, Unscored};
use crate::escape::{NODES, frailty, stay_clean};
use crate::fit::{Fitted, SeasonDose};
use crate::report::{BusyPlace, MissingScore, Settle, Verdict};

/// Seasons looked ahead, at the most.
const MOST_SEASONS: u32 = 20;
/// Places for copies that the report names.
const BUSY_PLACES: usize = 5;
/// Sites that must have been looked at for a season to be among those of which the median is taken:
/// the first tree of a walk says next to nothing of its season. *Common practice, no source.*
const ENOUGH_SITES: usize = 10;

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
        let seasons = well_seen(case);
        let (mut season_dose, mut shape) = (Vec::new(), Vec::new());
        for site in 0..case.sites.len() {
            let risk = &fitted.state.risk[site * width..(site + 1) * width];
            let mut doses: Vec<f64> = seasons
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
        // Only what stands can carry a graft.
        let mut order: Vec<usize> =
            (0..case.sites.len()).filter(|&site| case.sites[site].is_standing).collect();
        order.sort_by(|a, b| season_dose[*b].total_cmp(&season_dose[*a]).then(a.cmp(b)));
        let busy = order
            .into_iter()
            .take(BUSY_PLACES)
            .map(|site| BusyPlace { tree: case.sites[site].tree, season_dose: season_dose[site] })
            .collect();
        Self { season_dose, shape, busy }
    }

    /// For a clean tree of a family, with its luck now; none for checks and where a copy was seen
    /// infected.
    pub(crate) fn settle(
        &self,
        case: &Case,
        fitted: &Fitted,
        site: usize,
        luck: f64,
    ) -> Option<Settle> {
        let group = case.sites[site].group;
        let Standing::Member(family) = case.groups[group].standing else { return None };
        let sites = &case.groups[group].sites;
        if sites.iter().any(|&one| case.sites[one].first_infected.is_some()) {
            return None;
        }
        let past = Past::of(fitted, sites, |_, _| 1.0);
        let luck_after = |seasons: u32, place: usize| {
            let (dose, shape) = (self.season_dose[place], self.shape[place]);
            let (susceptible, resistant) = past.then_clean(seasons, dose, shape);
            1.0 - fitted.beliefs[family].resistant(susceptible, resistant)
        };
        // The average over hypotheses may doubt what the best one would call proven already.
        let first = u32::from(Verdict::of_luck(luck) != Verdict::Proven);
        let seasons_at = |place: usize| {
            let settled = |seasons: &u32| luck_after(*seasons, place) <= Verdict::PROVEN_AT_MOST;
            (first..=MOST_SEASONS).find(settled)
        };
        let busiest = self
            .busy
            .first()
            .and_then(|busy| case.sites.iter().position(|other| other.tree == busy.tree));
        Some(Settle {
            season_dose: self.season_dose[site],
            luck_after_season: luck_after(1, site),
            seasons_needed: seasons_at(site),
            luck_after_busiest: busiest.map(|place| luck_after(1, place)),
            seasons_at_busiest: busiest.and_then(seasons_at),
            missing: missing(case, fitted, site, family),
        })
    }
}

/// The seasons in which enough was looked at; all, where none is such.
fn well_seen(case: &Case) -> Vec<&SeasonSpan> {
    let sites = |nth: usize| {
        let seen = |site: &&Site| site.histories.iter().any(|one| one.season == nth);
        case.sites.iter().filter(seen).count()
    };
    let enough = |nth: usize| sites(nth) >= ENOUGH_SITES;
    let well: Vec<_> =
        case.seasons.iter().enumerate().filter(|(nth, _)| enough(*nth)).map(|(_, it)| it).collect();
    if well.is_empty() { case.seasons.iter().collect() } else { well }
}

/// The trees near a clean one that have no score, those that would tell most first.
///
/// A further witness of weight w turns the relative risk `(k + events) / (k + exposure)` of the last
/// season into `(k + events + w y) / (k + exposure + w e)`, y being whether it took the disease and e
/// the infections expected of it: those of a season for a clean one, half of them for one that was
/// infected on the way.
fn missing(case: &Case, fitted: &Fitted, site: usize, family: usize) -> Vec<MissingScore> {
    let one = &case.sites[site];
    let last = case.seasons.len() - 1;
    let Some(nth) = one.histories.iter().position(|history| history.season == last) else {
        return Vec::new();
    };
    let (history, span) = (&one.histories[nth], &case.seasons[last]);
    let width = case.rounds.len();
    let exposure: f64 = fitted.state.level[span.first..span.end].iter().sum();
    let dose = |weight: f64, events: f64, exposure: f64| -> f64 {
        (history.start..history.clean_end)
            .map(|round| {
                let risk = fitted.state.risk[site * width + round];
                let watched = risk.shape / risk.mean;
                let mean = (risk.shape + weight * events) / (watched + weight * exposure);
                fitted.state.level[round] * mean
            })
            .sum()
    };
    let now = dose(0.0, 0.0, 0.0);
    if now <= 0.0 {
        return Vec::new();
    }
    let luck = |times: f64| {
        let of_season = |other: usize, history: usize| {
            if (other, history) == (site, nth) { times } else { 1.0 }
        };
        let past = Past::of(fitted, &case.groups[one.group].sites, of_season);
        let (susceptible, resistant) = past.then_clean(0, 0.0, 1.0);
        1.0 - fitted.beliefs[family].resistant(susceptible, resistant)
    };
    let told = |unscored: &Unscored| {
        let could_have = match unscored.standing {
            Some(Standing::Susceptible) => 1.0,
            Some(Standing::Resistant) => 0.0,
            Some(Standing::Member(family)) => 1.0 - fitted.beliefs[family].mean(),
            None => 0.5,
        };
        let spread = &fitted.hypothesis.spread;
        let weight = could_have * spread.weight(unscored.along_m, unscored.across_m);
        MissingScore {
            tree: unscored.tree,
            if_infected: luck(dose(weight, 1.0, exposure / 2.0) / now),
            if_clean: luck(dose(weight, 0.0, exposure) / now),
        }
    };
    let mut missing: Vec<MissingScore> = one.unscored_nearby.iter().map(told).collect();
    missing.sort_by(|a, b| b.tells().total_cmp(&a.tells()).then(a.tree.cmp(&b.tree)));
    missing
}

/// How well each frailty explains what a clean genotype has come through already.
struct Past {
    nodes: [(f64, f64); NODES],
    resistant: f64,
    leak: f64,
}

impl Past {
    /// `times` tells by how much a site's dose of its nth history is to be taken higher or lower.
    fn of(fitted: &Fitted, sites: &[usize], times: impl Fn(usize, usize) -> f64) -> Self {
        let leak = fitted.hypothesis.leak;
        let mut nodes = frailty(fitted.hypothesis.frailty_sd);
        let mut resistant = 1.0;
        let doses = |site: usize| {
            let of_site = fitted.doses[site].iter().enumerate();
            of_site.map(move |(nth, dose): (usize, &SeasonDose)| (site, nth, dose))
        };
        for (site, nth, season) in sites.iter().flat_map(|&site| doses(site)) {
            let dose = times(site, nth) * season.clean;
            for (u, chance) in &mut nodes {
                *chance *= stay_clean(*u * dose, season.shape);
            }
            resistant *= stay_clean(leak * dose, season.shape);
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

#[cfg(test)]
mod tests {
    use super::*;

    /// Trees all alike and doses that are sure: exp(−2 · 0.7), and half of exp(−2 · 0.1 · 0.7).
    #[test]
    fn clean_seasons_to_come_multiply_the_chances_so_far() {
        let past = Past { nodes: frailty(0.0), resistant: 0.5, leak: 0.1 };
        let (susceptible, resistant) = past.then_clean(2, 0.7, 1e9);
        assert!((susceptible - libm::exp(-1.4)).abs() < 1e-6, "{susceptible}");
        assert!((resistant - 0.5 * libm::exp(-0.14)).abs() < 1e-6, "{resistant}");
    }
}
