//! How much less an infected tree carries than its dose explains.

use proof::Judgement;

use super::percent;

/// `Over its seasons 4 % less of its tissue was affected than its dose explains (2 % more to 9 %
/// less) …`: the gap drawn towards cross and plot, with its 90 % interval; none where the scores
/// cannot tell genotypes apart.
pub fn gap(judgement: &Judgement) -> Option<String> {
    let gap = judgement.shrunk_gap?;
    Some(format!(
        "Over its seasons {} of its tissue was affected than its dose explains ({} to {}), drawn \
         towards what its cross and the plot did.",
        side(gap.value),
        side(gap.low),
        side(gap.high)
    ))
}

fn side(gap: f64) -> String {
    let than = if gap < 0.0 { "more" } else { "less" };
    format!("{} {than}", percent(gap.abs()))
}
