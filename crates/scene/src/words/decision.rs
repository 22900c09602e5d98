//! What a breeder decided on a tree.

use language::say;
use plot::{Decision, Fate};

use super::when;

/// Whose the decision is, shown where one is made.
pub fn decision_is_yours() -> &'static str {
    say!("Yours alone: nothing is ever decided for you, and no verdict changes by it.")
}

/// `Keep, since 4 October 2033: clean and sweet.`
pub fn decision(decision: &Decision) -> String {
    let word = fate(decision.fate);
    let day = when(decision.decided_on);
    match decision.reason.as_deref() {
        None => say!("{word}, since {day}."),
        Some(reason) => {
            say!("{word}, since {day}: {reason}.", reason = reason.trim_end_matches('.'))
        }
    }
}

/// *Keep*, *Watch*, *Cull*, or *Undecided*.
pub fn fate(fate: Option<Fate>) -> &'static str {
    match fate {
        Some(Fate::Keep) => say!("Keep"; "a decision"),
        Some(Fate::Watch) => say!("Watch"; "a decision"),
        Some(Fate::Cull) => say!("Cull"; "a decision"),
        None => say!("Undecided"),
    }
}

#[cfg(test)]
mod tests {
    use plot::{DecisionId, TreeId, When};

    use super::*;

    #[test]
    fn a_decision_says_what_when_and_why() {
        let check = |fate: Option<Fate>, reason: Option<&str>, expected: &str| {
            let decided_on = When::parse("2033-10-04").expect("a date");
            let (id, tree) = (DecisionId::new("d"), TreeId::new("A"));
            let reason = reason.map(Into::into);
            let one = Decision { id, tree, fate, decided_on, reason };
            assert_eq!(decision(&one), expected);
        };
        check(Some(Fate::Keep), None, "Keep, since 4 October 2033.");
        check(Some(Fate::Cull), Some("weak."), "Cull, since 4 October 2033: weak.");
        check(None, Some("too early"), "Undecided, since 4 October 2033: too early.");
    }
}
