//! How much less an infected tree carries than its dose explains.

use language::say;
use proof::Judgement;

use super::percent;

/// `Over its seasons 4 % less of its tissue was affected than its dose explains (2 % more to 9 %
/// less) …`: the gap drawn towards cross and plot, with its 90 % interval; none where the scores
/// cannot tell genotypes apart.
pub fn gap(judgement: &Judgement) -> Option<String> {
    let gap = judgement.shrunk_gap?;
    Some(say!(
        "Over its seasons {gap} of its tissue was affected than its dose explains ({low} to \
         {high}), drawn towards what its cross and the plot did.",
        gap = side(gap.value),
        low = side(gap.low),
        high = side(gap.high)
    ))
}

fn side(gap: f64) -> String {
    let share = percent(gap.abs());
    if gap < 0.0 { say!("{share} more") } else { say!("{share} less") }
}
