//! What was seen before that should change how one walks: sick trees, and what travels on tools.

use plot::{Disease, Plot, Reading, Score, TraitIx, TreeIx};

/// Trees seen with symptoms, by tree index, counting only scores that `counts` picks of traits of
/// the diseases of `traits`; of every disease when none of them has one.
pub fn seen_infected(
    plot: &Plot,
    traits: &[TraitIx],
    counts: impl Fn(&Score) -> bool,
) -> Vec<bool> {
    let disease = |ix: TraitIx| plot.trait_of(ix).disease.as_deref();
    let wanted: Vec<&str> = traits.iter().filter_map(|&ix| disease(ix)).collect();
    let mut seen = vec![false; plot.trees().len()];
    for (_, score) in plot.standing_scores().filter(|(_, score)| counts(score)) {
        let of_it = wanted.is_empty()
            || disease(score.trait_ix).is_some_and(|disease| wanted.contains(&disease));
        if of_it && matches!(plot.reading(score), Some(Reading::Infected(_))) {
            seen[score.tree.get()] = true;
        }
    }
    seen
}

/// The diseases that travel on tools and hands and were ever seen here, each with the number of
/// trees that were seen with it.
pub fn seen_on_tools(plot: &Plot) -> Vec<(&Disease, usize)> {
    let on_tools = plot.head().diseases.iter().filter(|it| it.is_on_tools);
    let counted = on_tools.map(|disease| {
        let traits = plot.traits_of_profile(disease);
        // Without a trait it would be every disease.
        let seen = match traits.is_empty() {
            true => Vec::new(),
            false => seen_infected(plot, &traits, |_| true),
        };
        (disease, seen.into_iter().filter(|&seen| seen).count())
    });
    counted.filter(|(_, trees)| *trees > 0).collect()
}

/// The trees that were seen with symptoms, as a question to ask of one.
pub(crate) fn asked(seen: &[bool]) -> impl Fn(TreeIx) -> bool + '_ {
    |tree| seen.get(tree.get()).copied().unwrap_or(false)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample::{ix, orchard, score};

    #[test]
    fn what_travels_on_tools_is_counted_by_tree_and_a_clean_or_withdrawn_score_is_none() {
        let mut plot = orchard();
        assert_eq!(seen_on_tools(&plot), []);
        let mut withdrawal = score("s5", "t01003", "blight", 0.0, "2031-06-02");
        (withdrawal.value, withdrawal.replaces) = (None, Some(plot::ScoreId::new("s4")));
        for draft in [
            score("s1", "t01001", "blight", 1.0, "2031-06-01"),
            score("s2", "t01001", "blight", 1.0, "2031-06-02"),
            score("s3", "t01002", "blight", 0.0, "2031-06-01"),
            score("s4", "t01003", "blight", 1.0, "2031-06-01"),
            score("s6", "t01004", "scab", 2.0, "2031-06-01"),
            withdrawal,
        ] {
            plot.add_score(draft).expect("a score");
        }
        let seen: Vec<_> = seen_on_tools(&plot).iter().map(|it| (it.0.id.as_str(), it.1)).collect();
        assert_eq!(seen, [("fire_blight", 1)]);
        let scab = seen_infected(&plot, &[TraitIx::new(0)], |_| true);
        assert!(scab[ix(&plot, "t01004").get()] && !scab[ix(&plot, "t01001").get()]);
        let any = seen_infected(&plot, &[TraitIx::new(2)], |_| true);
        assert!(any[ix(&plot, "t01004").get()] && any[ix(&plot, "t01001").get()]);
    }
}
