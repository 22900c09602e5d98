//! How a step back from the full fit is said.

use proof::Limit;

use super::count;

/// What the data could not carry, and what was done instead; `of` is what the disease is called.
pub fn limit(of: &str, limit: &Limit) -> String {
    match limit {
        Limit::KernelFixed { infected, needed } => format!(
            "{}; {needed} are needed to learn how far it travels here. A reach from the \
             literature is used instead.",
            took(*infected, of)
        ),
        Limit::BackgroundFixed { infected, needed } => format!(
            "{}; {needed} are needed to learn how much of it comes from beyond the neighbours. A \
             fixed share is used instead.",
            took(*infected, of)
        ),
        Limit::OneRound => {
            "All scores are of one round: who was infected first cannot be told.".to_owned()
        }
        Limit::NobodyInfected => {
            format!("No tree took {of}: nothing was tested, and every clean tree stays untested.")
        }
        Limit::TooFewInfected { infected, needed } => format!(
            "{}; {needed} are needed before anyone can be judged. Every clean tree stays untested.",
            took(*infected, of)
        ),
        Limit::NobodyClean => {
            format!("Every scored tree took {of}: there is no clean tree to judge.")
        }
        Limit::NoContrast => "The disease pressed about equally hard everywhere: position cannot \
                              tell luck from resistance here."
            .to_owned(),
        Limit::NotConverged { passes } => format!(
            "The fit had not settled after {}: take its numbers as rough.",
            if *passes == 1 { "1 pass".to_owned() } else { format!("{passes} passes") }
        ),
    }
}

fn took(infected: usize, of: &str) -> String {
    format!("Only {} took {of}", count(infected, "tree"))
}
