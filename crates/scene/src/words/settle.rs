//! What would settle a clean tree.

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
    match settle.unscored_nearby.as_slice() {
        [] => {}
        [one] => lines.push(format!(
            "Score {} near it: it would say more of its pressure.",
            tree(plot, *one)
        )),
        many => {
            let names: Vec<String> = many.iter().take(3).map(|one| tree(plot, *one)).collect();
            let more = match many.len().saturating_sub(3) {
                0 => String::new(),
                more => format!(" and {more} more"),
            };
            lines.push(format!(
                "Score {}{more} near it: they would say more of its pressure.",
                names.join(", ")
            ));
        }
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
        lines.push(format!(
            "A grafted copy that stays clean for a season in the plot's busiest place would bring \
             its luck to {}.",
            percent(luck)
        ));
    }
    lines
}
