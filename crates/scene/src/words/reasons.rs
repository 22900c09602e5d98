//! Why a verdict is what it is: one sentence for each reason.

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
        lines.push(format!(
            "At its worst {} of the tissue was affected; of a typical susceptible tree at this \
             dose one would expect {}.",
            percent(judgement.worst_severity),
            percent(expected)
        ));
    }
    lines.extend(around(plot, &name, judgement));
    lines
}

fn said(plot: &Plot, name: &str, reason: &Reason) -> String {
    match reason {
        Reason::SeenInfected { on } => format!("First seen with {name} on {}.", when(*on)),
        Reason::EscapeChance { chance } => format!(
            "A typical susceptible seedling would have stayed clean here with a chance of {}.",
            percent(*chance)
        ),
        Reason::CrossShare { share } => format!(
            "Of its cross about {} are resistant, before its own scores are looked at.",
            percent(*share)
        ),
        Reason::KnownSusceptible => {
            "It is a susceptible check: clean only means that nothing reached it.".to_owned()
        }
        Reason::KnownResistant => "It is a resistant check.".to_owned(),
        Reason::CopyInfected { tree: copy } => {
            format!("A copy of the same genotype, {}, took {name}.", tree(plot, *copy))
        }
        Reason::CopiesClean { copies: 1 } => {
            "One other copy of the same genotype stayed clean too.".to_owned()
        }
        Reason::CopiesClean { copies } => {
            format!("{copies} other copies of the same genotype stayed clean too.")
        }
        Reason::Sprayed { season } => format!(
            "It was sprayed in {}: its clean looks after that are no test.",
            season_name(plot, *season)
        ),
        Reason::QuietSeason { season } => format!(
            "No susceptible check took {name} in {}: that season tests nothing.",
            season_name(plot, *season)
        ),
        Reason::FewWitnesses => {
            "Few neighbours could have told: most are far, unscored or resistant themselves."
                .to_owned()
        }
        Reason::NoFit => "The scores of this plot carry no judgement yet.".to_owned(),
    }
}

fn expected_infections(dose: f64) -> String {
    format!(
        "A typical susceptible seedling would have been expected to take {dose:.1} infections \
         here over the scored rounds."
    )
}

fn around(plot: &Plot, name: &str, judgement: &Judgement) -> Vec<String> {
    let facts = &judgement.neighbours;
    let mut lines = Vec::new();
    if facts.scored > 0 {
        lines.push(format!(
            "Of the nearest neighbours, {} scored took {name}; about {:.0} could have.",
            share_of(facts.infected, facts.scored),
            facts.could_have
        ));
    }
    if let Some(nearest) = &facts.nearest_infected {
        lines.push(format!(
            "The nearest tree with {name} is {}, {} away, seen on {}.",
            tree(plot, nearest.tree),
            metres(nearest.distance_m),
            when(nearest.on)
        ));
    }
    lines
}
