//! What a plan is worth: the same made-up plots scored on as they stand, and with copies grafted as
//! the plan says after each season.

use std::collections::BTreeSet;

use epidemic::{Graft, Kind, MadeUp, Recipe, make_with};
use plot::{Season, TreeIx};
use proof::{MOST_PROMISING, Options, Plan, Report, Run, TreeReport, Verdict, Way};

use super::trial::in_threads;

/// Kinds that are planned: those in which the questions differ, each with resistant trees to find.
pub const KINDS: [Kind; 6] =
    [Kind::Blocks, Kind::Scattered, Kind::NoChecks, Kind::Downwind, Kind::Foci, Kind::Quiet];
/// Seasons that are scored.
pub const SEASONS: usize = 7;
/// Seasons before the first plan is drawn up.
pub const BEFORE: usize = 2;
/// Season after the planning one in which a graft is scored first: it is grafted in between.
const GRAFTED_FOR: usize = 1;

/// Seedlings proven after a season.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Proven {
    /// Resistant in truth.
    pub truly: usize,
    /// Susceptible in truth.
    pub wrongly: usize,
}

/// What one more clean season made of seedlings that were proven before it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Kept {
    /// Proven before, and still clean.
    pub proven: usize,
    /// Of these: not proven any more.
    pub taken_back: usize,
    /// Of these: untested now.
    pub untested: usize,
}

/// One plot, scored both ways.
#[derive(Clone, Debug)]
pub struct Planned {
    /// Its kind.
    pub kind: Kind,
    /// Its seed.
    pub seed: u64,
    /// By season, from the last one before the first plan on: scored on as it stands.
    pub as_it_stands: Vec<Proven>,
    /// As it stands: over the seasons after the first judgement.
    pub kept: Kept,
    /// The same as [`Self::as_it_stands`], following the plan.
    pub planned: Vec<Proven>,
    /// Copies grafted in all.
    pub grafts: usize,
}

impl Planned {
    /// Seasons until as many are truly proven as scoring on without a plan proves in all seasons:
    /// without, and following the plan (none: not reached).
    pub fn seasons_to_the_same(&self) -> Option<(usize, Option<usize>)> {
        let goal = self.as_it_stands.last()?.truly;
        let reaches = |by: &[Proven]| by.iter().position(|proven| proven.truly >= goal);
        let seasons = |nth: usize| nth + BEFORE;
        let without = reaches(&self.as_it_stands)?;
        (goal > 0).then(|| (seasons(without), reaches(&self.planned).map(seasons)))
    }
}

impl Kept {
    fn add(&mut self, before: &Report, after: &Report) {
        let proven = |line: &&TreeReport| line.judgement.verdict == Verdict::Proven;
        for line in before.trees.iter().filter(proven) {
            let now = after.tree(line.tree).map(|line| line.judgement.verdict);
            let Some(now) = now.filter(|&now| now != Verdict::Infected) else { continue };
            self.proven += 1;
            self.taken_back += usize::from(now != Verdict::Proven);
            self.untested += usize::from(now == Verdict::Untested);
        }
    }
}

/// Runs all plots on `threads` threads, in the order of `jobs`.
///
/// # Errors
/// What the simulator or `proof` refuses, in words.
pub fn run_all(jobs: &[(Kind, u64)], threads: usize) -> Result<Vec<Planned>, String> {
    in_threads(jobs, threads, |&(kind, seed)| run(kind, seed))
}

/// One plot both ways.
///
/// # Errors
/// What the simulator or `proof` refuses, in words.
pub fn run(kind: Kind, seed: u64) -> Result<Planned, String> {
    let recipe = recipe(kind, seed);
    let as_it_stands = made(&recipe, seed, &[])?;
    let judge = |made: &MadeUp, seasons: usize| judge(&recipe, made, seasons);
    let mut without = Vec::new();
    let mut kept = Kept::default();
    let mut before: Option<Report> = None;
    let mut with = Vec::new();
    let mut grafts: Vec<Graft> = Vec::new();
    let seedlings = as_it_stands.plot.trees().len();
    for seasons in BEFORE..=SEASONS {
        let report = judge(&as_it_stands, seasons)?;
        without.push(proven(&as_it_stands, &report, seedlings));
        if let Some(before) = &before {
            kept.add(before, &report);
        }
        before = Some(report);
        let planned = made(&recipe, seed, &grafts)?;
        let report = judge(&planned, seasons)?;
        with.push(proven(&planned, &report, seedlings));
        let season = seasons + GRAFTED_FOR;
        if season < SEASONS {
            grafts.extend(wanted(&planned, &report, &grafts, season, seedlings));
        }
    }
    let grafts = grafts.len();
    Ok(Planned { kind, seed, as_it_stands: without, kept, planned: with, grafts })
}

/// The kind's recipe for more seasons: its own strengths over and over.
fn recipe(kind: Kind, seed: u64) -> Recipe {
    let mut recipe = kind.recipe(seed);
    recipe.seasons = SEASONS;
    for disease in &mut recipe.diseases {
        disease.strength = disease.strength.iter().copied().cycle().take(SEASONS).collect();
    }
    recipe
}

fn made(recipe: &Recipe, seed: u64, grafts: &[Graft]) -> Result<MadeUp, String> {
    let said = |refusal: plot::Refusal| format!("{}: {refusal}", recipe.name);
    make_with(recipe, seed, grafts).map_err(said)
}

/// Judges the first seasons alone.
fn judge(recipe: &Recipe, made: &MadeUp, seasons: usize) -> Result<Report, String> {
    let first = recipe.first_season;
    let seasons = (first..first + seasons as i32).map(Season).collect();
    let options = Options { seasons, ..Options::default() };
    let disease = &made.truth[0].disease;
    Run::to_the_end(&made.plot, disease, &options).map_err(|no| format!("{}: {no}", recipe.name))
}

/// Of the trees that were there first.
fn proven(made: &MadeUp, report: &Report, seedlings: usize) -> Proven {
    let mut proven = Proven::default();
    for line in report.trees.iter().filter(|line| line.tree.get() < seedlings) {
        if line.judgement.verdict == Verdict::Proven && made.plot.is_judged(line.tree) {
            match made.truth[0].tree(line.tree).resistant {
                true => proven.truly += 1,
                false => proven.wrongly += 1,
            }
        }
    }
    proven
}

/// One copy of each tree that the plan wants grafted and that has none yet, over the busiest places
/// in turn.
fn wanted(
    made: &MadeUp,
    report: &Report,
    grafted: &[Graft],
    season: usize,
    seedlings: usize,
) -> Vec<Graft> {
    let has_one: BTreeSet<TreeIx> = grafted.iter().map(|graft| graft.of).collect();
    let plan = Plan::of(&made.plot, report, MOST_PROMISING);
    let wanted = plan.promising.iter().filter(|one| matches!(one.way, Way::Graft(_)));
    let of = wanted.map(|one| one.tree).filter(|tree| tree.get() < seedlings);
    let busy = report.busy_places.iter().map(|place| place.tree);
    let busy: Vec<TreeIx> = busy.filter(|tree| tree.get() < seedlings).collect();
    of.filter(|tree| !has_one.contains(tree))
        .zip(busy.iter().copied().cycle())
        .filter(|(of, on)| of != on)
        .map(|(of, on)| Graft { of, on, season })
        .collect()
}
