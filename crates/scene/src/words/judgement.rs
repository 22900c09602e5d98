//! The one sentence about a tree, and what its words mean.

use language::{count, say};
use proof::{Judgement, Reason, Verdict};

use super::{estimate, number, percent, share_of, when};

/// Stands wherever *proven* is shown.
pub fn proof_is_local() -> &'static str {
    say!(
        "Proof is against what this plot held. A new race of the fungus, another strain of the \
         bacterium or a wetter site is another test."
    )
}

/// Stands beside it.
pub fn field_scores_cannot() -> &'static str {
    say!("Tests in the laboratory or by inoculation settle what field scores cannot.")
}

/// Of a tree without a usable score.
pub fn unscored() -> &'static str {
    say!("Not scored: nothing can be said.")
}

/// A verdict in one word; [`Verdict::as_str`] is what files have.
pub fn verdict(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Proven => say!("proven"),
        Verdict::Leaning => say!("leaning"),
        Verdict::Untested => say!("untested"),
        Verdict::Infected => say!("infected"),
    }
}

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
    say!("Luck is the chance that a clean tree is in truth susceptible and was merely missed.")
}

/// What a verdict means.
pub fn verdict_meaning(verdict: Verdict) -> String {
    let at_most = |limit| say!("clean, and luck is at most {share}", share = percent(limit));
    match verdict {
        Verdict::Proven => at_most(Verdict::PROVEN_AT_MOST),
        Verdict::Leaning => at_most(Verdict::LEANING_AT_MOST),
        Verdict::Untested => {
            say!("clean, but luck is above {share}", share = percent(Verdict::LEANING_AT_MOST))
        }
        Verdict::Infected => say!("seen with symptoms").to_owned(),
    }
}

fn infected(of: &str, judgement: &Judgement) -> String {
    let mut sentence = say!("Took {of}");
    let seen = judgement.reasons.iter().find_map(|reason| match reason {
        Reason::SeenInfected { on } => Some(*on),
        _ => None,
    });
    if let Some(on) = seen {
        sentence = say!("{sentence}, first seen on {day}", day = when(on));
    }
    if let Some(worst) = judgement.worst_score {
        sentence = say!("{sentence}; worst score {worst}", worst = number(worst));
    }
    match judgement.severity_gap {
        Some(gap) if gap > 0.0 && gap >= judgement.worst_severity => {
            sentence = say!("{sentence}, much less than its dose explains");
        }
        _ => {}
    }
    sentence.push('.');
    sentence
}

fn clean(of: &str, judgement: &Judgement) -> String {
    let looked = count!(
        judgement.rounds_scored,
        "Clean in 1 round of {seasons}",
        "Clean in {rounds} rounds of {seasons}",
        rounds = judgement.rounds_scored,
        seasons = count!(
            judgement.seasons_scored,
            "1 season",
            "{seasons} seasons",
            seasons = judgement.seasons_scored
        ),
    );
    let luck = percent(judgement.luck.map_or(1.0, |luck| luck.value));
    let verdict = verdict(judgement.verdict);
    if judgement.reasons.contains(&Reason::NoFit) {
        return say!("{looked}, but this plot cannot tell luck from resistance — {verdict}.");
    }
    let because = because(of, judgement);
    say!("{looked}, {because}: luck {luck} — {verdict}.")
}

/// The clause that carries the verdict: what stands against it, or what speaks for it.
fn because(of: &str, judgement: &Judgement) -> String {
    let facts = &judgement.neighbours;
    let has = |wanted: fn(&Reason) -> bool| judgement.reasons.iter().any(wanted);
    let share = || {
        let share = share_of(facts.infected, facts.scored);
        count!(facts.scored, "{share} neighbour took {of}", "{share} neighbours took {of}")
    };
    let many = facts.infected * 2 >= facts.scored && facts.infected > 0;
    let copies = judgement.reasons.iter().find_map(|reason| match reason {
        Reason::CopiesClean { copies } => Some(*copies),
        _ => None,
    });
    match judgement.verdict {
        Verdict::Untested if has(|reason| matches!(reason, Reason::CopyInfected { .. })) => {
            say!("but a copy of it took {of}")
        }
        Verdict::Untested if has(|reason| *reason == Reason::KnownSusceptible) => {
            say!("but it is a susceptible check").to_owned()
        }
        Verdict::Untested if facts.scored == 0 => say!("but no neighbour was scored").to_owned(),
        Verdict::Untested if facts.infected == 0 => say!("but no infected neighbours").to_owned(),
        Verdict::Untested if has(|reason| *reason == Reason::FewWitnesses) => {
            say!("but few neighbours that could have told").to_owned()
        }
        Verdict::Untested if !many => say!("but few infected neighbours").to_owned(),
        Verdict::Untested => {
            say!("and {share}, which does not rule out luck", share = share())
        }
        Verdict::Infected | Verdict::Proven | Verdict::Leaning => match copies {
            Some(copies) => {
                count!(copies, "and so was a copy of it", "and so were {copies} copies of it")
            }
            None if has(|reason| *reason == Reason::KnownResistant) => {
                say!("as a resistant check should be").to_owned()
            }
            None if many => say!("though {share}", share = share()),
            None if facts.infected > 0 => say!("and {share}", share = share()),
            None => say!("though {of} pressed on its place"),
        },
    }
}
