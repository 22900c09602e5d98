//! From fitted numbers to a report: verdicts with their reasons, crosses, seasons.

use std::collections::BTreeMap;

use plot::{Role, TreeIx, When};

use crate::case::{Case, Kin, Site, Standing};
use crate::family::share_at;
use crate::fit::Fitted;
use crate::luck::{luck, resistance};
use crate::pressure::Weights;
use crate::report::{
    CrossReport, Estimate, Fit, GenotypeReport, Judgement, Limit, Nearest, Neighbourhood, Reason,
    Report, SeasonStrength, TreeReport, Verdict,
};
use crate::severity::SeverityByDose;

/// Sum of kernel weights below which the witnesses are called few.
const FEW_WITNESSES: f64 = 1.0;
/// Luck of a clean tree where nothing can be said, at the least.
const LUCK_WITHOUT_A_FIT: f64 = 0.5;

/// Everything the report is made from.
pub(crate) struct Findings<'a> {
    pub(crate) case: &'a Case,
    pub(crate) limits: Vec<Limit>,
    /// Hypotheses by weight, best first, and the best kernel's weights; empty without a fit.
    pub(crate) weighed: Vec<(f64, Fitted)>,
    pub(crate) weights: Option<Weights>,
}

impl Findings<'_> {
    pub(crate) fn report(mut self) -> Report {
        let lucks: Vec<Estimate> =
            (0..self.case.groups.len()).map(|group| self.luck(group)).collect();
        let doses: Vec<Option<f64>> =
            (0..self.case.sites.len()).map(|site| self.dose(site)).collect();
        let resistant: Vec<Option<f64>> =
            (0..self.case.groups.len()).map(|group| self.resistance(group)).collect();
        let curve = self.severity_by_dose(&doses, &resistant);
        let around = self.neighbourhoods(&resistant);
        let judge = |sites: &[usize]| self.judge(sites, &lucks, &doses, &around, curve.as_ref());

        let mut trees: Vec<TreeReport> = (0..self.case.sites.len())
            .map(|site| TreeReport {
                tree: self.case.sites[site].tree,
                could_have: resistant[self.case.sites[site].group].map(|share| 1.0 - share),
                judgement: judge(&[site]),
            })
            .collect();
        trees.sort_by_key(|line| line.tree);
        let mut genotypes: Vec<GenotypeReport> = self
            .case
            .groups
            .iter()
            .map(|group| {
                let mut trees: Vec<TreeIx> =
                    group.sites.iter().map(|&site| self.case.sites[site].tree).collect();
                trees.sort();
                GenotypeReport {
                    genotype: group.genotype.clone(),
                    trees,
                    judgement: judge(&group.sites),
                }
            })
            .collect();
        genotypes.sort_by(|a, b| a.genotype.cmp(&b.genotype));

        let crosses = self.crosses(&trees);
        let seasons = self.seasons();
        self.note_what_the_fit_could_not();
        Report {
            disease: self.case.disease.clone(),
            fit: self.fit(),
            limits: self.limits,
            seasons,
            crosses,
            trees,
            genotypes,
        }
    }

    fn luck(&self, group: usize) -> Estimate {
        if !self.weighed.is_empty() {
            return luck(self.case, &self.weighed, group);
        }
        let prior = match self.case.groups[group].standing {
            Standing::Member(family) => {
                1.0 - crate::family::ShareBelief::prior(&self.case.families[family]).mean()
            }
            Standing::Susceptible => 1.0,
            Standing::Resistant => LUCK_WITHOUT_A_FIT,
        };
        Estimate { value: prior.max(LUCK_WITHOUT_A_FIT), low: 0.0, high: 1.0 }
    }

    fn average(&self, of: impl Fn(&Fitted) -> f64) -> Option<f64> {
        (!self.weighed.is_empty())
            .then(|| self.weighed.iter().map(|(weight, fitted)| weight * of(fitted)).sum())
    }

    fn resistance(&self, group: usize) -> Option<f64> {
        self.average(|fitted| match self.case.groups[group].standing {
            Standing::Resistant => 1.0,
            _ => resistance(self.case, fitted, group),
        })
    }

    /// Over all its seasons, up to the last round in which it was scored.
    fn dose(&self, site: usize) -> Option<f64> {
        self.average(|fitted| fitted.doses[site].iter().map(|dose| dose.seen).sum())
    }

    fn severity_by_dose(
        &self,
        doses: &[Option<f64>],
        resistant: &[Option<f64>],
    ) -> Option<SeverityByDose> {
        let points = self
            .case
            .sites
            .iter()
            .zip(doses)
            .filter_map(|(site, dose)| {
                Some((dose.as_ref().copied()?, site.worst.severity, 1.0 - resistant[site.group]?))
            })
            .collect();
        SeverityByDose::fit(points)
    }

    /// The plain facts around each site, by site.
    fn neighbourhoods(&self, resistant: &[Option<f64>]) -> Vec<Neighbourhood> {
        let sites = &self.case.sites;
        let mut around: Vec<Neighbourhood> = sites
            .iter()
            .map(|site| {
                let nearby = || site.nearby.iter().map(|&other| &sites[other]);
                let could_have = |other: &Site| 1.0 - resistant[other.group].unwrap_or(0.0);
                let nearest_infected = site.nearest_infected.and_then(|(other, distance_m)| {
                    let other = &sites[other];
                    Some(Nearest {
                        tree: other.tree,
                        distance_m,
                        trait_ix: other.worst.trait_ix,
                        score: other.worst.score,
                        on: other.first_infected?,
                    })
                });
                Neighbourhood {
                    scored: nearby().count(),
                    infected: nearby().filter(|other| other.first_infected.is_some()).count(),
                    could_have: nearby().map(could_have).sum(),
                    nearest_infected,
                    ..Neighbourhood::default()
                }
            })
            .collect();
        self.add_pressure(resistant, &mut around);
        around
    }

    /// Inoculum and witness share, in the season when each was highest.
    fn add_pressure(&self, resistant: &[Option<f64>], around: &mut [Neighbourhood]) {
        let (Some(weights), Some((_, best))) = (&self.weights, self.weighed.first()) else {
            return;
        };
        let width = self.case.seasons.len();
        // By site and season: severity, infected witness, witness.
        let mut told = vec![0.0; self.case.sites.len() * width * 3];
        for (nth, site) in self.case.sites.iter().enumerate() {
            let could_have = 1.0 - resistant[site.group].unwrap_or(0.0);
            for history in &site.histories {
                let at = (nth * width + history.season) * 3;
                told[at] = f64::from(history.severity_permille) / 1000.0;
                told[at + 1] = if history.infected.is_some() { could_have } else { 0.0 };
                told[at + 2] = could_have;
            }
        }
        let mut plot_share = vec![(0.0, 0.0); width];
        for (at, one) in told.chunks_exact(3).enumerate() {
            let season = &mut plot_share[at % width];
            *season = (season.0 + one[1], season.1 + one[2]);
        }
        let k = best.hypothesis.evenness;
        let sums = weights.sums(&told, width * 3, &vec![1.0; self.case.sites.len()]);
        for (facts, sums) in around.iter_mut().zip(sums.chunks_exact(width * 3)) {
            for (one, (infected, all)) in sums.chunks_exact(3).zip(&plot_share) {
                let share = if *all > 0.0 { infected / all } else { 0.0 };
                facts.inoculum = facts.inoculum.max(one[0]);
                facts.witness_share = facts.witness_share.max((one[1] + k * share) / (one[2] + k));
                facts.witnesses = facts.witnesses.max(one[2]);
            }
        }
    }

    fn judge(
        &self,
        sites: &[usize],
        lucks: &[Estimate],
        doses: &[Option<f64>],
        around: &[Neighbourhood],
        curve: Option<&SeverityByDose>,
    ) -> Judgement {
        let all = || sites.iter().map(|&site| &self.case.sites[site]);
        let group = all().next().map_or(0, |site| site.group);
        let seen = all().filter_map(|site| site.first_infected).min_by(When::cmp_in_time);
        let luck = seen.is_none().then_some(lucks[group]);
        let verdict = match luck {
            None => Verdict::Infected,
            // Without a fit nobody is tested, whatever a cross promises.
            Some(luck) if !self.weighed.is_empty() => Verdict::of_luck(luck.value),
            Some(_) => Verdict::Untested,
        };
        let dose = sites.iter().map(|&site| doses[site]).sum::<Option<f64>>();
        // The copy with the worst score speaks for severity and surroundings.
        let worst_site = sites
            .iter()
            .copied()
            .max_by(|a, b| {
                let severity = |site: &usize| self.case.sites[*site].worst.severity;
                severity(a).total_cmp(&severity(b)).then(b.cmp(a))
            })
            .unwrap_or(0);
        let worst = &self.case.sites[worst_site].worst;
        let expected_severity = doses[worst_site].zip(curve).map(|(dose, curve)| curve.at(dose));
        Judgement {
            verdict,
            luck,
            dose,
            seasons_scored: distinct(all().flat_map(|site| &site.histories).map(|one| one.season)),
            rounds_scored: all().map(|site| site.rounds_scored).sum(),
            worst_score: Some(worst.score),
            worst_severity: worst.severity,
            neighbours: around[worst_site],
            expected_severity,
            severity_gap: expected_severity.map(|expected| expected - worst.severity),
            reasons: self.reasons(sites, group, seen, &around[worst_site]),
        }
    }

    fn reasons(
        &self,
        sites: &[usize],
        group: usize,
        seen: Option<When>,
        facts: &Neighbourhood,
    ) -> Vec<Reason> {
        let mut reasons = Vec::new();
        if let Some(on) = seen {
            reasons.push(Reason::SeenInfected { on });
        }
        let members = &self.case.groups[group].sites;
        let others = || members.iter().filter(|site| !sites.contains(site));
        if seen.is_none() {
            let infected = others().find(|&&site| self.case.sites[site].first_infected.is_some());
            match infected {
                Some(&site) => {
                    reasons.push(Reason::CopyInfected { tree: self.case.sites[site].tree });
                }
                None if others().count() > 0 => {
                    reasons.push(Reason::CopiesClean { copies: others().count() });
                }
                None => {}
            }
        }
        match self.case.groups[group].standing {
            Standing::Susceptible => reasons.push(Reason::KnownSusceptible),
            Standing::Resistant => reasons.push(Reason::KnownResistant),
            Standing::Member(_) => {}
        }
        let Some((_, best)) = self.weighed.first() else {
            reasons.push(Reason::NoFit);
            return reasons;
        };
        if seen.is_some() {
            return reasons;
        }
        let chance = self.average(|fitted| fitted.explained[group].susceptible).unwrap_or(1.0);
        reasons.push(Reason::EscapeChance { chance: chance.min(1.0) });
        if let Standing::Member(family) = self.case.groups[group].standing {
            reasons.push(Reason::CrossShare { share: best.beliefs[family].mean() });
        }
        if facts.witnesses < FEW_WITNESSES {
            reasons.push(Reason::FewWitnesses);
        }
        let mut quiet: Vec<usize> = sites
            .iter()
            .flat_map(|&site| &self.case.sites[site].histories)
            .map(|history| history.season)
            .filter(|&season| self.is_quiet(season))
            .collect();
        quiet.sort_unstable();
        quiet.dedup();
        reasons.extend(
            quiet
                .into_iter()
                .map(|nth| Reason::QuietSeason { season: self.case.seasons[nth].season }),
        );
        reasons
    }

    /// Susceptible checks were scored in the season, and none took the disease.
    fn is_quiet(&self, season: usize) -> bool {
        let (scored, infected) = self.checks(season);
        scored > 0 && infected == 0
    }

    /// Susceptible checks scored, and seen infected, in a season.
    fn checks(&self, season: usize) -> (usize, usize) {
        let mut count = (0, 0);
        for site in &self.case.sites {
            if site.role == Role::SusceptibleCheck {
                for history in site.histories.iter().filter(|one| one.season == season) {
                    count = (count.0 + 1, count.1 + usize::from(history.infected.is_some()));
                }
            }
        }
        count
    }

    fn crosses(&self, trees: &[TreeReport]) -> Vec<CrossReport> {
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
            for group in self.case.groups.iter().filter(|one| one.standing == Standing::Member(nth))
            {
                for &site in &group.sites {
                    let verdict = verdict_of[&self.case.sites[site].tree];
                    verdicts[Verdict::ALL.iter().position(|one| *one == verdict).unwrap_or(0)] += 1;
                }
            }
            let scored = verdicts.iter().sum();
            if scored > 0 {
                crosses.push(CrossReport {
                    cross,
                    scored,
                    verdicts,
                    resistant_share: self.share_of(nth),
                });
            }
        }
        crosses
    }

    fn share_of(&self, family: usize) -> Option<Estimate> {
        let mut weights = [0.0; crate::family::PARTS + 1];
        for (weight, fitted) in &self.weighed {
            for (sum, one) in weights.iter_mut().zip(fitted.beliefs[family].weights) {
                *sum += weight * one;
            }
        }
        let belief = crate::family::ShareBelief { weights };
        (!self.weighed.is_empty()).then(|| Estimate {
            value: belief.mean(),
            low: belief.quantile(0.05).min(belief.mean()),
            high: belief.quantile(0.95).max(belief.mean()).min(share_at(crate::family::PARTS)),
        })
    }

    fn seasons(&self) -> Vec<SeasonStrength> {
        self.case
            .seasons
            .iter()
            .enumerate()
            .map(|(nth, span)| {
                let of_season = |site: usize| {
                    self.case.sites[site].histories.iter().position(|one| one.season == nth)
                };
                let scored: Vec<(usize, usize)> = (0..self.case.sites.len())
                    .filter_map(|site| Some((site, of_season(site)?)))
                    .collect();
                let infected = scored
                    .iter()
                    .filter(|&&(site, at)| self.case.sites[site].histories[at].infected.is_some())
                    .count();
                let (checks_scored, checks_infected) = self.checks(nth);
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
                    scored: scored.len(),
                    infected,
                    checks_scored,
                    checks_infected,
                    median_dose: median(judged),
                }
            })
            .collect()
    }

    fn note_what_the_fit_could_not(&mut self) {
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

    fn fit(&self) -> Option<Fit> {
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
            evenness: self.average(|fitted| fitted.hypothesis.evenness)?,
            frailty_sd: self.average(|fitted| fitted.hypothesis.frailty_sd)?,
            leak: best.hypothesis.leak,
            passes: best.passes,
            log_likelihood: best.log_likelihood,
        })
    }
}

fn distinct(numbers: impl Iterator<Item = usize>) -> usize {
    numbers.collect::<std::collections::BTreeSet<_>>().len()
}

/// The middle value, the upper of two.
fn median(mut values: Vec<f64>) -> Option<f64> {
    values.sort_by(f64::total_cmp);
    values.get(values.len() / 2).copied()
}
