//! Why a verdict is what it is, the weightiest reason first.

use std::collections::BTreeSet;

use plot::When;

use crate::case::Standing;
use crate::judge::Findings;
use crate::report::{Neighbourhood, Reason};

/// Sum of kernel weights below which the witnesses are called few.
const FEW_WITNESSES: f64 = 1.0;

impl Findings<'_> {
    pub(crate) fn reasons(
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
        let season = |nth: usize| self.case.seasons[nth].season;
        let sprayed = sites.iter().flat_map(|&site| &self.case.sites[site].sprayed).copied();
        let sprayed: BTreeSet<usize> = sprayed.collect();
        reasons.extend(sprayed.into_iter().map(|nth| Reason::Sprayed { season: season(nth) }));
        let quiet: BTreeSet<usize> = sites
            .iter()
            .flat_map(|&site| &self.case.sites[site].histories)
            .map(|history| history.season)
            .filter(|&season| self.case.seasons[season].is_quiet())
            .collect();
        reasons.extend(quiet.into_iter().map(|nth| Reason::QuietSeason { season: season(nth) }));
        reasons
    }
}
