//! What to do next about a disease: which clean trees are worth another season, where copies and
//! susceptible checks would tell soonest, and which trees to walk to.

use std::cmp::Ordering;
use std::collections::{BTreeMap, BTreeSet, HashSet};

use plot::{Fate, Plot, Role, Spot, Status, TreeIx};
use spatial::PointIndex;

use crate::report::{Fit, Report, TreeReport, Verdict};

/// What to do next, from the report and what the breeder decided; nothing of it without a fit.
///
/// Trees that are to be culled are left out. Ties go by tree id.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Plan {
    /// Clean trees that stand and are not proven yet, the least luck first.
    pub promising: Vec<Promising>,
    /// Trees without a score whose score would tell most of them.
    pub scores: Vec<WantedScore>,
    /// Free places where a susceptible check would tell most of them, each given those before it.
    pub checks: Vec<CheckPlace>,
    /// Where the next walk goes: to them, to those without a score, and to the best witnesses
    /// around.
    pub route: BTreeSet<TreeIx>,
}

/// A clean tree that stands and is not proven yet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Promising {
    /// Which.
    pub tree: TreeIx,
    /// Its luck now.
    pub luck: f64,
    /// Its luck if it stays clean through one more season like the median one.
    pub luck_after_season: f64,
    /// What settles it soonest.
    pub way: Way,
}

/// What settles a clean tree soonest, in seasons like the median one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// To stay clean where it stands for so many seasons.
    Stay(u32),
    /// A copy at the plot's busiest place, clean for so many seasons once it is grafted.
    Graft(u32),
    /// Neither within twenty seasons: only a busier site or an inoculation test can tell.
    Elsewhere,
}

/// A tree without a score.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WantedScore {
    /// Which.
    pub tree: TreeIx,
    /// How far apart the lucks of the promising trees near it would be with it infected and with it
    /// clean, summed over them.
    pub tells: f64,
    /// How many of them there are.
    pub near: usize,
}

/// A free place for a susceptible check.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CheckPlace {
    /// The tree that stood there, or is to be culled; or the empty place.
    pub place: TreeIx,
    /// By how much what is not known of the pressure on promising trees would fall: half for one
    /// that has no witness and gets a full one.
    pub gain: f64,
    /// How many promising trees it would be a witness for.
    pub near: usize,
}

/// Promising trees at the heart of a plan, at the most.
pub const MOST_PROMISING: usize = 60;
/// Places for checks that a plan names, at the most.
const MOST_CHECKS: usize = 5;
/// A check that tells less than this is not worth its place.
const LEAST_GAIN: f64 = 0.02;
/// Kernel weight from which on a tree counts as a witness of another.
const WITNESS: f64 = 0.25;
/// Witnesses of each promising tree that the walk looks at, at the most.
const WITNESSES: usize = 4;
/// Luck that falls by less is the same luck.
const LEAST_FALL: f64 = 0.01;
/// Seasons that go by until a graft is scored; common practice, no source.
const SEASONS_TO_GRAFT: u32 = 1;

impl Plan {
    /// Draws up the plan, around at most `most` promising trees.
    pub fn of(plot: &Plot, report: &Report, most: usize) -> Self {
        let Some(fit) = &report.fit else { return Self::default() };
        let lines = promising(plot, report, most);
        let scores = scores(plot, &lines);
        let checks = checks(plot, fit, &lines);
        let route = route(plot, report, fit, &lines);
        let promising = lines.iter().filter_map(|line| Promising::of(line)).collect();
        Self { promising, scores, checks, route }
    }
}

impl Promising {
    fn of(line: &TreeReport) -> Option<Self> {
        let (luck, settle) = (line.judgement.luck?, line.judgement.settle.as_ref()?);
        let way = match (settle.seasons_needed, settle.seasons_at_busiest) {
            (None, None) => Way::Elsewhere,
            (Some(here), None) => Way::Stay(here),
            (None, Some(there)) => Way::Graft(there),
            (Some(here), Some(there)) if here <= there + SEASONS_TO_GRAFT => Way::Stay(here),
            (Some(_), Some(there)) => Way::Graft(there),
        };
        let luck_after_season = settle.luck_after_season;
        Some(Self { tree: line.tree, luck: luck.value, luck_after_season, way })
    }
}

/// Clean trees that stand, are not proven and not to be culled, and of which another season would
/// tell something here or at the busiest place; the least luck first.
fn promising<'a>(plot: &Plot, report: &'a Report, most: usize) -> Vec<&'a TreeReport> {
    let luck = |line: &TreeReport| line.judgement.luck.map_or(1.0, |luck| luck.value);
    let is_promising = |line: &&TreeReport| {
        let Some(settle) = &line.judgement.settle else { return false };
        let soonest = settle.luck_after_busiest.unwrap_or(1.0).min(settle.luck_after_season);
        matches!(line.judgement.verdict, Verdict::Leaning | Verdict::Untested)
            && stands(plot, line.tree)
            && luck(line) - soonest >= LEAST_FALL
    };
    let mut lines: Vec<&TreeReport> = report.trees.iter().filter(is_promising).collect();
    lines.sort_by(|a, b| {
        luck(a).total_cmp(&luck(b)).then_with(|| plot.tree(a.tree).id().cmp(plot.tree(b.tree).id()))
    });
    lines.truncate(most);
    lines
}

/// Whether a tree stands and is to stay.
fn stands(plot: &Plot, tree: TreeIx) -> bool {
    let one = plot.tree(tree);
    one.status() == Status::Alive && plot.decisions().fate(one.id()) != Some(Fate::Cull)
}

fn scores(plot: &Plot, lines: &[&TreeReport]) -> Vec<WantedScore> {
    let mut wanted: BTreeMap<TreeIx, WantedScore> = BTreeMap::new();
    let missing = lines.iter().filter_map(|line| line.judgement.settle.as_ref());
    for missing in missing.flat_map(|settle| &settle.missing) {
        let tree = missing.tree;
        let one = wanted.entry(tree).or_insert(WantedScore { tree, tells: 0.0, near: 0 });
        one.tells += missing.tells();
        one.near += 1;
    }
    let mut wanted: Vec<WantedScore> =
        wanted.into_values().filter(|one| one.tells >= LEAST_FALL).collect();
    wanted.sort_by(|a, b| {
        b.tells.total_cmp(&a.tells).then_with(|| plot.tree(a.tree).id().cmp(plot.tree(b.tree).id()))
    });
    wanted
}

/// Places by how much a check there would tell, the best first, each given those before it.
///
/// What is not known of the pressure at a place falls with the kernel-weighted number w of its
/// witnesses about as the variance of a mean does, as 1/(1 + w).
fn checks(plot: &Plot, fit: &Fit, lines: &[&TreeReport]) -> Vec<CheckPlace> {
    let spots: Vec<(f64, f64)> = lines.iter().map(|line| at(plot.tree(line.tree).spot())).collect();
    let index = PointIndex::new(&spots);
    let reach_m = witness_reach_m(fit);
    let free: Vec<(TreeIx, Vec<(usize, f64)>)> = free_places(plot)
        .into_iter()
        .map(|place| {
            let (x_m, y_m) = at(plot.tree(place).spot());
            let near = index.within_of(x_m, y_m, reach_m).into_iter();
            let weigh = near.map(|near| {
                let to = spots[near.index];
                (near.index, fit.spread.weight(to.0 - x_m, to.1 - y_m))
            });
            (place, weigh.filter(|(_, weight)| *weight >= WITNESS).collect())
        })
        .collect();
    let mut witnesses: Vec<f64> =
        lines.iter().map(|line| line.judgement.neighbours.witnesses).collect();
    let unknown = |witnesses: f64| 1.0 / (1.0 + witnesses);
    let mut checks: Vec<CheckPlace> = Vec::new();
    while checks.len() < MOST_CHECKS {
        let gain = |near: &[(usize, f64)]| -> f64 {
            near.iter()
                .map(|&(nth, weight)| unknown(witnesses[nth]) - unknown(witnesses[nth] + weight))
                .sum()
        };
        let taken = |place: TreeIx| checks.iter().any(|check| check.place == place);
        let best = free
            .iter()
            .filter(|(place, _)| !taken(*place))
            .map(|(place, near)| (gain(near), *place, near))
            .max_by(|a, b| a.0.total_cmp(&b.0).then_with(|| by_id(plot, b.1, a.1)));
        let Some((gain, place, near)) = best.filter(|best| best.0 >= LEAST_GAIN) else { break };
        near.iter().for_each(|&(nth, weight)| witnesses[nth] += weight);
        checks.push(CheckPlace { place, gain, near: near.len() });
    }
    checks
}

/// Places where nothing stands, or what is to be culled; one line for each place.
fn free_places(plot: &Plot) -> Vec<TreeIx> {
    let key = |tree: TreeIx| {
        let spot = plot.tree(tree).spot();
        (spot.x_m.to_bits(), spot.y_m.to_bits())
    };
    let own = || plot.trees_ix().filter(|(_, one)| one.carrier().is_none()).map(|(tree, _)| tree);
    let held: HashSet<_> = own().filter(|&tree| stands(plot, tree)).map(key).collect();
    // Of several that stood at a place, the last one names it.
    let free: BTreeMap<_, TreeIx> =
        own().map(|tree| (key(tree), tree)).filter(|(key, _)| !held.contains(key)).collect();
    let mut free: Vec<TreeIx> = free.into_values().collect();
    free.sort();
    free
}

fn route(plot: &Plot, report: &Report, fit: &Fit, lines: &[&TreeReport]) -> BTreeSet<TreeIx> {
    // Whoever took the disease before, and whoever is declared to be able to.
    let could_have = |line: &&TreeReport| {
        let is_check = plot.tree(line.tree).role() == Role::SusceptibleCheck;
        stands(plot, line.tree) && (is_check || line.could_have.is_some_and(|could| could > 0.5))
    };
    let tellers: Vec<&TreeReport> = report.trees.iter().filter(could_have).collect();
    let spots: Vec<(f64, f64)> =
        tellers.iter().map(|line| at(plot.tree(line.tree).spot())).collect();
    let index = PointIndex::new(&spots);
    let reach_m = witness_reach_m(fit);
    let mut route = BTreeSet::new();
    for line in lines {
        let (x_m, y_m) = at(plot.tree(line.tree).spot());
        let mut near: Vec<(f64, TreeIx)> = index
            .within_of(x_m, y_m, reach_m)
            .into_iter()
            .map(|near| {
                let (teller, to) = (tellers[near.index], spots[near.index]);
                let weight = fit.spread.weight(to.0 - x_m, to.1 - y_m);
                (weight * teller.could_have.unwrap_or(1.0), teller.tree)
            })
            .filter(|(tells, tree)| *tells >= WITNESS / 2.0 && *tree != line.tree)
            .collect();
        near.sort_by(|a, b| b.0.total_cmp(&a.0).then_with(|| by_id(plot, a.1, b.1)));
        route.insert(line.tree);
        route.extend(near.into_iter().take(WITNESSES).map(|(_, tree)| tree));
        let missing = line.judgement.settle.iter().flat_map(|settle| &settle.missing);
        let tells = missing.filter(|missing| missing.tells() >= LEAST_FALL);
        route.extend(tells.map(|missing| missing.tree).filter(|&tree| stands(plot, tree)));
    }
    route
}

/// Ties go by tree id.
fn by_id(plot: &Plot, one: TreeIx, other: TreeIx) -> Ordering {
    plot.tree(one).id().cmp(plot.tree(other).id())
}

/// How far a witness can stand, metres.
fn witness_reach_m(fit: &Fit) -> f64 {
    fit.spread.ellipse.reach_m(fit.spread.kernel.reach_m(WITNESS))
}

fn at(spot: Spot) -> (f64, f64) {
    (spot.x_m, spot.y_m)
}

#[cfg(test)]
mod tests;
