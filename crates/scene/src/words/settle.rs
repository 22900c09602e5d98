//! What would settle a clean tree.

use language::{count, say};
use plot::Plot;
use proof::{Judgement, Verdict};

use super::{percent, tree};

/// What would settle a clean tree, the nearest at hand first; nothing for one that is proven or
/// infected.
pub fn settle(plot: &Plot, judgement: &Judgement) -> Vec<String> {
    let Some(settle) = &judgement.settle else { return Vec::new() };
    if matches!(judgement.verdict, Verdict::Proven | Verdict::Infected) {
        return Vec::new();
    }
    let mut lines = Vec::new();
    if let Some(missing) = settle.missing.first() {
        let mut line = say!(
            "Score {tree} near it: had that one been infected last season, the luck would be \
             {if_infected}, had it stayed clean, {if_clean}",
            tree = tree(plot, missing.tree),
            if_infected = percent(missing.if_infected),
            if_clean = percent(missing.if_clean)
        );
        let more = settle.missing.len() - 1;
        if more > 0 {
            line = say!("{line} ({more} more near it have no score)");
        }
        lines.push(line + ".");
    }
    lines.push(say!(
        "If it stays clean through one more ordinary season, its luck falls to {luck}.",
        luck = percent(settle.luck_after_season)
    ));
    lines.push(match settle.seasons_needed {
        Some(seasons) => count!(
            seasons,
            "One such season would prove it.",
            "{seasons} such seasons would prove it."
        ),
        None => say!("Not even twenty such seasons would prove it where it stands.").to_owned(),
    });
    if let Some(luck) = settle.luck_after_busiest {
        let mut line = say!(
            "A grafted copy that stays clean for a season in the plot's busiest place would bring \
             its luck to {luck}",
            luck = percent(luck)
        );
        if let Some(seasons) = settle.seasons_at_busiest {
            line = count!(
                seasons,
                "{line}; 1 such season would prove it",
                "{line}; {seasons} such seasons would prove it"
            );
        }
        lines.push(line + ".");
    }
    lines
}
