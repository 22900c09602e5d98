//! Whether strong trees take a disease more than weak ones, among trees that can be compared.

use std::collections::{BTreeMap, BTreeSet};

use plot::{CrossKey, GenotypeId, Plot, Score, Season, TraitIx, TreeIx};
use serde::{Deserialize, Serialize};
use spatial::{HALF_INTERVAL_90, Test};

use crate::measured;

/// How a disease goes with vigour on one plot.
///
/// Each tree counts once: its worst severity against its vigour in the last season up to the last
/// one in which it was scored for the disease. Trees are compared only within a group: of one
/// cross (or copies of one genotype), scored in the same seasons, measured in the same season.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Link {
    /// Trees that can be compared.
    pub trees: usize,
    /// Of these, seen infected.
    pub infected: usize,
    /// Groups within which they are compared.
    pub groups: usize,
    /// Rank correlation within groups, −1 to 1: above 0 where strong trees are diseased more; none
    /// where nothing can be compared.
    pub correlation: Option<RankCorrelation>,
    /// Trees and infected ones among the weakest, the middle and the strongest third of their
    /// groups, ties where they fall.
    pub thirds: [Third; 3],
}

/// Spearman's rank correlation within groups, pooled.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct RankCorrelation {
    /// Its value.
    pub value: f64,
    /// Lower end of its 90 % interval.
    pub low: f64,
    /// Upper end.
    pub high: f64,
    /// Two-sided p that vigour and disease are unrelated within groups.
    pub p: f64,
}

/// A third of the trees by vigour.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Third {
    /// Trees.
    pub trees: usize,
    /// Of these, seen infected.
    pub infected: usize,
}

/// How a disease goes with the vigour that a trait tells.
///
/// Ranks are taken within groups (ties share their middle rank) and their products and squares
/// added up over groups: r = Σ Sxy / √(Σ Sxx · Σ Syy). The interval is Fisher's, tanh(atanh r ±
/// 1.645 · √(1.06/(n − groups − 2))), the 1.06 for ranks after Fieller, Hartley & Pearson 1957
/// (*Biometrika* 44:470, from memory); the test is z = Σ Sxy / √(Σ Sxx Syy/(n − 1)) over groups, the
/// moments of all permutations within groups (Mantel 1963, *JASA* 58:690, from memory).
///
/// It is an association: vigour and disease may both follow the place, and blight itself weakens a
/// tree that is measured after it.
pub fn link(plot: &Plot, trait_ix: TraitIx, disease: &str) -> Link {
    let mut groups: BTreeMap<Group, Vec<(f64, f64)>> = BTreeMap::new();
    let mut vigour: BTreeMap<TreeIx, Vec<(Season, f64)>> = BTreeMap::new();
    for one in measured(plot, trait_ix) {
        if let Some(number) = one.number() {
            vigour.entry(one.tree).or_default().push((one.season, number));
        }
    }
    for (&tree, numbers) in &vigour {
        let Some((seasons, worst)) = scored(plot, tree, disease) else { continue };
        let last = seasons.last();
        let Some(&(measured, number)) =
            numbers.iter().rev().find(|(season, _)| Some(season) <= last)
        else {
            continue;
        };
        let own = plot.tree(tree);
        let family = match own.cross().is_unknown() {
            true => Family::Genotype(own.genotype()),
            false => Family::Cross(own.cross().clone()),
        };
        groups.entry(Group { family, seasons, measured }).or_default().push((number, worst));
    }
    groups.retain(|_, trees| trees.len() >= 2);
    within_groups(&groups.into_values().collect::<Vec<_>>())
}

/// Trees that can be compared.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Group {
    family: Family,
    seasons: BTreeSet<Season>,
    measured: Season,
}

#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Family {
    Cross(CrossKey),
    Genotype(GenotypeId),
}

/// The seasons in which a tree was scored for a disease while at risk, and its worst severity.
fn scored(plot: &Plot, tree: TreeIx, disease: &str) -> Option<(BTreeSet<Season>, f64)> {
    let counts_for =
        |score: &Score| plot.trait_of(score.trait_ix).disease.as_deref() == Some(disease);
    let (mut seasons, mut worst) = (BTreeSet::new(), 0.0f64);
    for (_, score) in plot.scores_of(tree).filter(|(_, score)| counts_for(score)) {
        if let Some(severity) = plot.shown_severity(score) {
            worst = worst.max(severity);
            seasons.insert(plot.season_of(score));
        }
    }
    (!seasons.is_empty()).then_some((seasons, worst))
}

/// The same of any groups of two trees or more: vigour and severity of each tree, above 0 where it was infected.
pub fn within_groups(groups: &[Vec<(f64, f64)>]) -> Link {
    let (mut xy, mut xx, mut yy, mut variance) = (0.0, 0.0, 0.0, 0.0);
    let mut thirds = [Third::default(); 3];
    for group in groups {
        let n = group.len() as f64;
        let strong = ranks(&group.iter().map(|one| one.0).collect::<Vec<_>>());
        let sick = ranks(&group.iter().map(|one| one.1).collect::<Vec<_>>());
        let middle = f64::midpoint(1.0, n);
        let (mut own_xx, mut own_yy) = (0.0, 0.0);
        for ((x, y), (_, severity)) in strong.iter().zip(&sick).zip(group) {
            xy += (x - middle) * (y - middle);
            own_xx += (x - middle) * (x - middle);
            own_yy += (y - middle) * (y - middle);
            let third = &mut thirds[((3.0 * (x - 0.5) / n) as usize).min(2)];
            third.trees += 1;
            third.infected += usize::from(*severity > 0.0);
        }
        (xx, yy) = (xx + own_xx, yy + own_yy);
        variance += own_xx * own_yy / (n - 1.0);
    }
    let trees = groups.iter().map(Vec::len).sum();
    let infected = thirds.iter().map(|third| third.infected).sum();
    let free = trees as f64 - groups.len() as f64 - 2.0;
    // A group in which vigour or disease is the same for all tells nothing.
    let correlation = (variance > 0.0 && free >= 1.0).then(|| {
        let value = (xy / (xx * yy).sqrt()).clamp(-1.0, 1.0);
        // An exact 1 has no finite transform.
        let z = libm::atanh(value.clamp(-0.999_999, 0.999_999));
        let half = HALF_INTERVAL_90 * (1.06 / free).sqrt();
        let p = Test { z: xy / variance.sqrt() }.p_two_sided();
        RankCorrelation { value, low: libm::tanh(z - half), high: libm::tanh(z + half), p }
    });
    Link { trees, infected, groups: groups.len(), correlation, thirds }
}

/// Ranks from 1; ties share their middle rank.
fn ranks(values: &[f64]) -> Vec<f64> {
    let mut order: Vec<usize> = (0..values.len()).collect();
    order.sort_by(|&a, &b| values[a].total_cmp(&values[b]));
    let mut ranks = vec![0.0; values.len()];
    let mut from = 0;
    while from < order.len() {
        let tied =
            order[from..].iter().take_while(|&&at| values[at] == values[order[from]]).count();
        let rank = f64::midpoint((from + 1) as f64, (from + tied) as f64);
        order[from..from + tied].iter().for_each(|&at| ranks[at] = rank);
        from += tied;
    }
    ranks
}

#[cfg(test)]
mod tests;
