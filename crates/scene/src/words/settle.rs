//! What would settle a clean tree.

use plot::Plot;
use proof::{Judgement, Verdict};

use super::{count, percent, tree};

/// What would settle a clean tree, the nearest at hand first; nothing for one that is proven or
/// infected.
pub fn settle(plot: &Plot, judgement: &Judgement) -> Vec<String> {
    let Some(settle) = &judgement.settle else { return Vec::new() };
    if matches!(judgement.verdict, Verdict::Proven | Verdict::Infected) {
        return Vec::new();
    }
    let mut lines = Vec::new();
    if let Some(missing) = settle.missing.first() {
        let more = match settle.missing.len() - 1 {
            0 => String::new(),
            more => format!(" ({more} more near it have no score)"),
        };
        lines.push(format!(
            "Score {} near it: had that one been infected last season, the luck would be {}, had it \
             stayed clean, {}{more}.",
            tree(plot, missing.tree),
            percent(missing.if_infected),
            percent(missing.if_clean),
        ));
    }
    lines.push(format!(
        "If it stays clean through one more ordinary season, its luck falls to {}.",
        percent(settle.luck_after_season)
    ));
    lines.push(match settle.seasons_needed {
        Some(1) => "One such season would prove it.".to_owned(),
        Some(seasons) => format!("{seasons} such seasons would prove it."),
        None => "Not even twenty such seasons would prove it where it stands.".to_owned(),
    });
    if let Some(luck) = settle.luck_after_busiest {
        let prove = match settle.seasons_at_busiest {
            Some(seasons) => format!("; {} would prove it", count(seasons as usize, "such season")),
            None => String::new(),
        };
        lines.push(format!(
            "A grafted copy that stays clean for a season in the plot's busiest place would bring \
             its luck to {}{prove}.",
            percent(luck)
        ));
    }
    lines
}
