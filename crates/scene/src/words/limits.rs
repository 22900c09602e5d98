//! How a step back from the full fit is said.

use language::{count, say};
use proof::Limit;

/// What the data could not carry, and what was done instead; `of` is what the disease is called.
pub fn limit(of: &str, limit: &Limit) -> String {
    match limit {
        Limit::KernelFixed { infected, needed } => say!(
            "{took}; {needed} are needed to learn how far it travels here. A reach from the \
             literature is used instead.",
            took = took(*infected, of)
        ),
        Limit::BackgroundFixed { infected, needed } => say!(
            "{took}; {needed} are needed to learn how much of it comes from beyond the \
             neighbours. A fixed share is used instead.",
            took = took(*infected, of)
        ),
        Limit::OneRound => {
            say!("All scores are of one round: who was infected first cannot be told.").to_owned()
        }
        Limit::NobodyInfected => {
            say!("No tree took {of}: nothing was tested, and every clean tree stays untested.")
        }
        Limit::TooFewInfected { infected, needed } => say!(
            "{took}; {needed} are needed before anyone can be judged. Every clean tree stays \
             untested.",
            took = took(*infected, of)
        ),
        Limit::NobodyClean => {
            say!("Every scored tree took {of}: there is no clean tree to judge.")
        }
        Limit::NoContrast => say!(
            "The disease pressed about equally hard everywhere: position cannot tell luck from \
             resistance here."
        )
        .to_owned(),
        Limit::NotConverged { passes } => count!(
            *passes,
            "The fit had not settled after 1 pass: take its numbers as rough.",
            "The fit had not settled after {passes} passes: take its numbers as rough."
        ),
    }
}

fn took(infected: usize, of: &str) -> String {
    count!(infected, "Only 1 tree took {of}", "Only {infected} trees took {of}")
}
