//! Why a verdict is what it is: one sentence for each reason.

use language::{count, say};
use plot::Plot;
use proof::{Judgement, Reason};

use super::{disease, metres, percent, season_name, share_of, tree, when};

/// The reasons of a judgement, the weightiest first, and the plain facts around the tree.
pub fn reasons(plot: &Plot, of: &str, judgement: &Judgement) -> Vec<String> {
    let name = disease(plot, of);
    let mut lines: Vec<String> =
        judgement.reasons.iter().map(|reason| said(plot, &name, reason)).collect();
    if let Some(dose) = judgement.dose {
        lines.push(expected_infections(dose));
    }
    if let (Some(expected), true) = (judgement.expected_severity, judgement.worst_severity > 0.0) {
        lines.push(say!(
            "At its worst {worst} of the tissue was affected; of a typical susceptible tree at \
             this dose one would expect {expected}.",
            worst = percent(judgement.worst_severity),
            expected = percent(expected)
        ));
    }
    lines.extend(around(plot, &name, judgement));
    lines
}

fn said(plot: &Plot, name: &str, reason: &Reason) -> String {
    match reason {
        Reason::SeenInfected { on } => say!("First seen with {name} on {day}.", day = when(*on)),
        Reason::EscapeChance { chance } => say!(
            "A typical susceptible seedling would have stayed clean here with a chance of {chance}.",
            chance = percent(*chance)
        ),
        Reason::CrossShare { share } => say!(
            "Of its cross about {share} are resistant, before its own scores are looked at.",
            share = percent(*share)
        ),
        Reason::KnownSusceptible => {
            say!("It is a susceptible check: clean only means that nothing reached it.").to_owned()
        }
        Reason::KnownResistant => say!("It is a resistant check.").to_owned(),
        Reason::CopyInfected { tree: copy } => {
            say!("A copy of the same genotype, {copy}, took {name}.", copy = tree(plot, *copy))
        }
        Reason::CopiesClean { copies } => count!(
            *copies,
            "One other copy of the same genotype stayed clean too.",
            "{copies} other copies of the same genotype stayed clean too."
        ),
        Reason::Sprayed { season } => say!(
            "It was sprayed in {season}: its clean looks after that are no test.",
            season = season_name(plot, *season)
        ),
        Reason::QuietSeason { season } => say!(
            "No susceptible check took {name} in {season}: that season tests nothing.",
            season = season_name(plot, *season)
        ),
        Reason::FewWitnesses => {
            say!("Few neighbours could have told: most are far, unscored or resistant themselves.")
                .to_owned()
        }
        Reason::NoFit => say!("The scores of this plot carry no judgement yet.").to_owned(),
    }
}

fn expected_infections(dose: f64) -> String {
    say!(
        "A typical susceptible seedling would have been expected to take {dose:.1} infections \
         here over the scored rounds."
    )
}

fn around(plot: &Plot, name: &str, judgement: &Judgement) -> Vec<String> {
    let facts = &judgement.neighbours;
    let mut lines = Vec::new();
    if facts.scored > 0 {
        lines.push(say!(
            "Of the nearest neighbours, {share} scored took {name}; about {could_have:.0} could \
             have.",
            share = share_of(facts.infected, facts.scored),
            could_have = facts.could_have
        ));
    }
    if let Some(nearest) = &facts.nearest_infected {
        lines.push(say!(
            "The nearest tree with {name} is {tree}, {metres} away, seen on {day}.",
            tree = tree(plot, nearest.tree),
            metres = metres(nearest.distance_m),
            day = when(nearest.on)
        ));
    }
    lines
}
