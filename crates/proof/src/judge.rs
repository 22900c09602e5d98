//! From fitted numbers to a report: the verdict on each tree and genotype.

use plot::{TreeIx, When};

use crate::case::{Case, Standing};
use crate::checks;
use crate::family::ShareBelief;
use crate::fit::Fitted;
use crate::gap::{Gap, Shrunk, shrink};
use crate::luck::{luck, resistance};
use crate::pressure::Weights;
use crate::report::{
    Estimate, GenotypeReport, Judgement, Limit, Neighbourhood, Report, TreeReport, Verdict,
};
use crate::settle::Outlook;
use crate::severity::SeverityByDose;
use crate::surround;

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

/// What is worked out once for all trees.
struct Numbers {
    /// By group.
    lucks: Vec<Estimate>,
    /// By group: probability of resistance.
    resistant: Vec<Option<f64>>,
    /// By site.
    doses: Vec<Option<f64>>,
    around: Vec<Neighbourhood>,
    curve: Option<SeverityByDose>,
    shrunk: Option<Shrunk>,
    outlook: Option<Outlook>,
}

impl Findings<'_> {
    pub(crate) fn report(mut self) -> Report {
        let numbers = self.numbers();
        let sites = 0..self.case.sites.len();
        let mut trees: Vec<TreeReport> = sites
            .map(|site| TreeReport {
                tree: self.case.sites[site].tree,
                could_have: numbers.resistant[self.case.sites[site].group].map(|one| 1.0 - one),
                judgement: self.judge(&numbers, &[site]),
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
                    judgement: self.judge(&numbers, &group.sites),
                }
            })
            .collect();
        genotypes.sort_by(|a, b| a.genotype.cmp(&b.genotype));
        let crosses = self.crosses(&trees);
        let seasons = self.seasons();
        self.note_what_the_fit_could_not();
        let best = self.weighed.first().map(|(_, best)| best);
        Report {
            disease: self.case.disease.clone(),
            fit: self.fit(),
            calibration: best.map_or(Vec::new(), |best| checks::calibration(self.case, best)),
            leftover: best.and_then(|best| checks::leftover(self.case, best)),
            busy_places: numbers.outlook.map_or(Vec::new(), |outlook| outlook.busy),
            limits: self.limits,
            seasons,
            crosses,
            trees,
            genotypes,
        }
    }

    /// A number of the fit, averaged over hypotheses; none without a fit.
    pub(crate) fn average(&self, of: impl Fn(&Fitted) -> f64) -> Option<f64> {
        (!self.weighed.is_empty())
            .then(|| self.weighed.iter().map(|(weight, fitted)| weight * of(fitted)).sum())
    }

    fn numbers(&self) -> Numbers {
        let groups = 0..self.case.groups.len();
        let lucks = groups.clone().map(|group| self.luck(group)).collect();
        let resistant: Vec<Option<f64>> = groups.map(|group| self.resistance(group)).collect();
        let doses: Vec<Option<f64>> =
            (0..self.case.sites.len()).map(|site| self.dose(site)).collect();
        let mut around = surround::neighbourhoods(self.case, &resistant);
        let best = self.weighed.first().map(|(_, best)| best);
        if let (Some(weights), Some(best)) = (&self.weights, best) {
            let prior = best.hypothesis.evenness;
            surround::add_pressure(self.case, weights, &resistant, prior, &mut around);
        }
        Numbers {
            lucks,
            curve: self.severity_by_dose(&doses, &resistant),
            shrunk: best.and_then(|best| shrink(&self.gaps(best))),
            outlook: best.map(|best| Outlook::of(self.case, best)),
            resistant,
            doses,
            around,
        }
    }

    fn luck(&self, group: usize) -> Estimate {
        if !self.weighed.is_empty() {
            return luck(self.case, &self.weighed, group);
        }
        let prior = match self.case.groups[group].standing {
            Standing::Member(family) => {
                1.0 - ShareBelief::prior(&self.case.families[family]).mean()
            }
            Standing::Susceptible => 1.0,
            Standing::Resistant => LUCK_WITHOUT_A_FIT,
        };
        Estimate { value: prior.max(LUCK_WITHOUT_A_FIT), low: 0.0, high: 1.0 }
    }

    fn resistance(&self, group: usize) -> Option<f64> {
        self.average(|fitted| match self.case.groups[group].standing {
            Standing::Resistant => 1.0,
            _ => resistance(self.case, fitted, group),
        })
    }

    /// Over all its seasons, up to the last round in which it was scored.
    fn dose(&self, site: usize) -> Option<f64> {
        // A sum of nothing is 0, not −0.
        self.average(|fitted| fitted.doses[site].iter().map(|dose| dose.seen).sum::<f64>() + 0.0)
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

    /// Gaps of tree and season of every genotype that was seen infected: severity expected of a
    /// typical susceptible tree at that season's dose, less what was seen.
    fn gaps(&self, best: &Fitted) -> Vec<Gap> {
        let whole = checks::whole_season_doses(self.case, best);
        let points = self.case.sites.iter().zip(&whole).flat_map(|(site, doses)| {
            let susceptible = 1.0 - best.state.resistant[site.group];
            site.histories
                .iter()
                .zip(doses)
                .map(move |(history, dose)| (*dose, history.severity(), susceptible))
        });
        let Some(curve) = SeverityByDose::fit(points.collect()) else { return Vec::new() };
        let mut gaps = Vec::new();
        for (genotype, group) in self.case.groups.iter().enumerate() {
            let Standing::Member(cross) = group.standing else { continue };
            let infected = |site: &usize| self.case.sites[*site].first_infected.is_some();
            if !group.sites.iter().any(infected) {
                continue;
            }
            for &site in &group.sites {
                for (history, dose) in self.case.sites[site].histories.iter().zip(&whole[site]) {
                    let value = curve.at(*dose) - history.severity();
                    gaps.push(Gap { cross, genotype, value });
                }
            }
        }
        gaps
    }

    fn judge(&self, numbers: &Numbers, sites: &[usize]) -> Judgement {
        let all = || sites.iter().map(|&site| &self.case.sites[site]);
        let group = all().next().map_or(0, |site| site.group);
        let seen = all().filter_map(|site| site.first_infected).min_by(When::cmp_in_time);
        let luck = seen.is_none().then_some(numbers.lucks[group]);
        let verdict = match luck {
            None => Verdict::Infected,
            // Without a fit nobody is tested, whatever a cross promises.
            Some(luck) if !self.weighed.is_empty() => Verdict::of_luck(luck.value),
            Some(_) => Verdict::Untested,
        };
        let dose = sites.iter().map(|&site| numbers.doses[site]).sum::<Option<f64>>();
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
        let expected_severity = numbers.doses[worst_site]
            .zip(numbers.curve.as_ref())
            .map(|(dose, curve)| curve.at(dose));
        Judgement {
            verdict,
            luck,
            dose,
            seasons_scored: distinct(all().flat_map(|site| &site.histories).map(|one| one.season)),
            rounds_scored: all().map(|site| site.rounds_scored).sum(),
            worst_score: Some(worst.score),
            worst_severity: worst.severity,
            neighbours: numbers.around[worst_site],
            expected_severity,
            severity_gap: expected_severity.map(|expected| expected - worst.severity),
            shrunk_gap: seen
                .and(numbers.shrunk.as_ref())
                .and_then(|shrunk| shrunk.genotypes.get(group).copied().flatten()),
            settle: self.settle(numbers, sites, luck),
            reasons: self.reasons(sites, group, seen, &numbers.around[worst_site]),
        }
    }

    /// For a clean tree alone, or the first copy of a clean genotype.
    fn settle(
        &self,
        numbers: &Numbers,
        sites: &[usize],
        luck: Option<Estimate>,
    ) -> Option<crate::Settle> {
        let (_, best) = self.weighed.first()?;
        let outlook = numbers.outlook.as_ref()?;
        outlook.settle(self.case, best, *sites.first()?, luck?.value)
    }
}

fn distinct(numbers: impl Iterator<Item = usize>) -> usize {
    numbers.collect::<std::collections::BTreeSet<_>>().len()
}
