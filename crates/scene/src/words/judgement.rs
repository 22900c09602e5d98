//! The one sentence about a tree, and what its words mean.

use proof::{Judgement, Reason, Verdict};

use super::{count, estimate, number, percent, share_of, when};

/// Stands wherever *proven* is shown.
pub const PROOF_IS_LOCAL: &str = "Proof is against what this plot held. A new race of the fungus, \
    another strain of the bacterium or a wetter site is another test.";

/// Stands beside it.
pub const FIELD_SCORES_CANNOT: &str =
    "Tests in the laboratory or by inoculation settle what field scores cannot.";

/// Of a tree without a usable score.
pub const UNSCORED: &str = "Not scored: nothing can be said.";

/// `Clean in 6 rounds of 2 seasons, but few infected neighbours: luck 62 % — untested.`
pub fn judgement(of: &str, judgement: &Judgement) -> String {
    match judgement.luck {
        None => infected(of, judgement),
        Some(_) => clean(of, judgement),
    }
}

/// `62 % (35 % to 88 %)`: luck with its 90 % interval.
pub fn luck(judgement: &Judgement) -> Option<String> {
    judgement.luck.as_ref().map(estimate)
}

/// What *luck* means.
pub fn luck_meaning() -> &'static str {
    "Luck is the chance that a clean tree is in truth susceptible and was merely missed."
}

/// What a verdict means.
pub fn verdict_meaning(verdict: Verdict) -> String {
    let at_most = |limit| percent(limit);
    match verdict {
        Verdict::Proven => {
            format!("clean, and luck is at most {}", at_most(Verdict::PROVEN_AT_MOST))
        }
        Verdict::Leaning => {
            format!("clean, and luck is at most {}", at_most(Verdict::LEANING_AT_MOST))
        }
        Verdict::Untested => {
            format!("clean, but luck is above {}", at_most(Verdict::LEANING_AT_MOST))
        }
        Verdict::Infected => "seen with symptoms".to_owned(),
    }
}

fn infected(of: &str, judgement: &Judgement) -> String {
    let mut sentence = format!("Took {of}");
    let seen = judgement.reasons.iter().find_map(|reason| match reason {
        Reason::SeenInfected { on } => Some(*on),
        _ => None,
    });
    if let Some(on) = seen {
        sentence.push_str(&format!(", first seen on {}", when(on)));
    }
    if let Some(worst) = judgement.worst_score {
        sentence.push_str(&format!("; worst score {}", number(worst)));
    }
    match judgement.severity_gap {
        Some(gap) if gap > 0.0 && gap >= judgement.worst_severity => {
            sentence.push_str(", much less than its dose explains");
        }
        _ => {}
    }
    sentence.push('.');
    sentence
}

fn clean(of: &str, judgement: &Judgement) -> String {
    let looked = format!(
        "Clean in {} of {}",
        count(judgement.rounds_scored, "round"),
        count(judgement.seasons_scored, "season")
    );
    let luck = judgement.luck.map_or(1.0, |luck| luck.value);
    let verdict = judgement.verdict.as_str();
    if judgement.reasons.contains(&Reason::NoFit) {
        return format!("{looked}, but this plot cannot tell luck from resistance — {verdict}.");
    }
    format!("{looked}, {}: luck {} — {verdict}.", because(of, judgement), percent(luck))
}

/// The clause that carries the verdict: what stands against it, or what speaks for it.
fn because(of: &str, judgement: &Judgement) -> String {
    let facts = &judgement.neighbours;
    let has = |wanted: fn(&Reason) -> bool| judgement.reasons.iter().any(wanted);
    let neighbours = if facts.scored == 1 { "neighbour" } else { "neighbours" };
    let share = format!("{} {neighbours} took {of}", share_of(facts.infected, facts.scored));
    let many = facts.infected * 2 >= facts.scored && facts.infected > 0;
    let copies = judgement.reasons.iter().find_map(|reason| match reason {
        Reason::CopiesClean { copies } => Some(*copies),
        _ => None,
    });
    match judgement.verdict {
        Verdict::Untested if has(|reason| matches!(reason, Reason::CopyInfected { .. })) => {
            format!("but a copy of it took {of}")
        }
        Verdict::Untested if has(|reason| *reason == Reason::KnownSusceptible) => {
            "but it is a susceptible check".to_owned()
        }
        Verdict::Untested if facts.scored == 0 => "but no neighbour was scored".to_owned(),
        Verdict::Untested if facts.infected == 0 => "but no infected neighbours".to_owned(),
        Verdict::Untested if has(|reason| *reason == Reason::FewWitnesses) => {
            "but few neighbours that could have told".to_owned()
        }
        Verdict::Untested if !many => "but few infected neighbours".to_owned(),
        Verdict::Untested => format!("and {share}, which does not rule out luck"),
        Verdict::Infected | Verdict::Proven | Verdict::Leaning => match copies {
            Some(1) => "and so was a copy of it".to_owned(),
            Some(copies) => format!("and so were {copies} copies of it"),
            None if has(|reason| *reason == Reason::KnownResistant) => {
                "as a resistant check should be".to_owned()
            }
            None if many => format!("though {share}"),
            None if facts.infected > 0 => format!("and {share}"),
            None => format!("though {of} pressed on its place"),
        },
    }
}
