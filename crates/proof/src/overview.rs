//! What the whole plot says: crosses, seasons, the fit in numbers, and what it could not do.

use std::collections::BTreeMap;

use plot::{Role, TreeIx, When};

use crate::case::{Kin, Standing};
use crate::family::{PARTS, ShareBelief};
use crate::judge::Findings;
use crate::position;
use crate::reach::{Reach, ReachPart};
use crate::report::{CrossReport, Estimate, Fit, Limit, SeasonStrength, TreeReport, Verdict};
use crate::segregation::Segregation;

impl Findings<'_> {
    pub(crate) fn crosses(&self, trees: &[TreeReport]) -> Vec<CrossReport> {
        let verdict_of: BTreeMap<TreeIx, Verdict> =
            trees.iter().map(|line| (line.tree, line.judgement.verdict)).collect();
        let mut crosses = Vec::new();
        for (nth, family) in self.case.families.iter().enumerate() {
            let cross = match &family.kin {
                Kin::Cross(key) => Some(key.to_string()),
                Kin::Unknown => None,
                Kin::Named => continue,
            };
            let mut verdicts = [0; 4];
            // Of those that were tested at all.
            let (mut clean, mut tested) = (0, 0);
            for group in self.case.groups.iter().filter(|one| one.standing == Standing::Member(nth))
            {
                for &site in &group.sites {
                    let site = &self.case.sites[site];
                    let verdict = verdict_of[&site.tree];
                    verdicts[Verdict::ALL.iter().position(|one| *one == verdict).unwrap_or(0)] += 1;
                    if site.tests().next().is_some() {
                        tested += 1;
                        clean += usize::from(site.first_infected.is_none());
                    }
                }
            }
            let scored = verdicts.iter().sum();
            if scored > 0 {
                crosses.push(CrossReport {
                    cross,
                    scored,
                    verdicts,
                    resistant_share: self.share_of(nth),
                    segregation: family
                        .expected
                        .and_then(|expected| Segregation::new(clean, tested, expected)),
                    position_test: self
                        .weights
                        .as_ref()
                        .and_then(|weights| position::test(self.case, weights, nth)),
                });
            }
        }
        crosses
    }

    fn share_of(&self, family: usize) -> Option<Estimate> {
        let mut weights = [0.0; PARTS + 1];
        for (weight, fitted) in &self.weighed {
            for (sum, one) in weights.iter_mut().zip(fitted.beliefs[family].weights) {
                *sum += weight * one;
            }
        }
        let belief = ShareBelief { weights };
        (!self.weighed.is_empty()).then(|| Estimate {
            value: belief.mean(),
            low: belief.quantile(0.05).min(belief.mean()),
            high: belief.quantile(0.95).max(belief.mean()),
        })
    }

    pub(crate) fn seasons(&self) -> Vec<SeasonStrength> {
        self.case
            .seasons
            .iter()
            .enumerate()
            .map(|(nth, span)| {
                let of_season = |site: usize| {
                    let mut histories = self.case.sites[site].histories.iter();
                    histories.position(|one| one.season == nth && !one.is_untested)
                };
                let scored: Vec<(usize, usize)> = (0..self.case.sites.len())
                    .filter_map(|site| Some((site, of_season(site)?)))
                    .collect();
                let infected = scored
                    .iter()
                    .filter(|&&(site, at)| self.case.sites[site].histories[at].infected.is_some())
                    .count();
                let judged: Vec<f64> = scored
                    .iter()
                    .filter(|&&(site, _)| {
                        matches!(self.case.sites[site].role, Role::Seedling | Role::Named)
                    })
                    .filter_map(|&(site, at)| self.average(|fitted| fitted.doses[site][at].seen))
                    .collect();
                SeasonStrength {
                    season: span.season,
                    rounds: span.end - span.first,
                    last_look: self.case.rounds[span.first..span.end]
                        .iter()
                        .map(|round| round.last_day)
                        .max()
                        .map(When::on),
                    scored: scored.len(),
                    infected,
                    checks_scored: span.checks_scored,
                    checks_infected: span.checks_infected,
                    sprayed: self.case.sites.iter().filter(|it| it.sprayed.contains(&nth)).count(),
                    median_dose: median(judged),
                }
            })
            .collect()
    }

    pub(crate) fn note_what_the_fit_could_not(&mut self) {
        if self.case.rounds.len() == 1 {
            self.limits.push(Limit::OneRound);
        }
        let infected = self.case.infected();
        if infected > 0 && self.case.sites.iter().all(|site| site.first_infected.is_some()) {
            self.limits.push(Limit::NobodyClean);
        }
        let Some((_, best)) = self.weighed.first() else { return };
        if !best.converged {
            self.limits.push(Limit::NotConverged { passes: best.passes });
        }
        let mut doses: Vec<f64> =
            best.doses.iter().map(|seasons| seasons.iter().map(|one| one.seen).sum()).collect();
        doses.sort_by(f64::total_cmp);
        let at = |share: f64| doses[((doses.len() - 1) as f64 * share) as usize];
        if at(0.9) < 1.5 * at(0.1) {
            self.limits.push(Limit::NoContrast);
        }
    }

    pub(crate) fn fit(&self) -> Option<Fit> {
        let (_, best) = self.weighed.first()?;
        let mut kernels: Vec<(String, f64)> = Vec::new();
        for (weight, fitted) in &self.weighed {
            let name = fitted.hypothesis.spread.to_string();
            match kernels.iter_mut().find(|(known, _)| *known == name) {
                Some((_, sum)) => *sum += weight,
                None => kernels.push((name, *weight)),
            }
        }
        Some(Fit {
            half_distance_m: self.average(|fitted| fitted.hypothesis.spread.half_distance_m())?,
            kernels,
            reach: Reach::of(
                self.weighed
                    .iter()
                    .map(|(weight, fitted)| ReachPart::new(*weight, fitted.hypothesis.spread)),
            ),
            spread: best.hypothesis.spread,
            prior_witnesses: best.hypothesis.evenness,
            evenness: self.average(|fitted| fitted.hypothesis.evenness)?,
            frailty_sd: self.average(|fitted| fitted.hypothesis.frailty_sd)?,
            leak: self.average(|fitted| fitted.hypothesis.leak)?,
            vigour_effect: self.average(|fitted| fitted.hypothesis.vigour_effect)?,
            tissue_power: self.average(|fitted| fitted.hypothesis.tissue_power)?,
            passes: best.passes,
            log_likelihood: best.log_likelihood,
        })
    }
}

/// The middle value, the upper of two.
fn median(mut values: Vec<f64>) -> Option<f64> {
    values.sort_by(f64::total_cmp);
    values.get(values.len() / 2).copied()
}
