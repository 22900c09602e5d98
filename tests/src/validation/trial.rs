//! Trials: made-up plots judged by `proof`, beside the oracle and the naive rule.

use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};

use epidemic::{Kind, make, measure, oracle};
use plot::TreeIx;
use proof::{Options, Run};

/// Neighbours that the naive rule asks.
pub const NAIVE_NEIGHBOURS: usize = 8;

/// A tree that nobody saw infected.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Clean {
    /// Whether it is resistant in truth.
    pub resistant: bool,
    /// Its luck as `proof` gives it; 1 where proof gives none.
    pub luck: f64,
    /// The 90 % interval of the luck, where proof gives one.
    pub interval: Option<(f64, f64)>,
    /// The luck that one would give who knew every dose.
    pub oracle: f64,
    /// Share of the nearest neighbours that were seen infected.
    pub naive: f64,
    /// The dose as proof gives it.
    pub dose: Option<f64>,
    /// The true dose.
    pub true_dose: f64,
}

/// A made-up plot and what was made of it.
#[derive(Clone, Debug)]
pub struct Trial {
    /// Its kind.
    pub kind: Kind,
    /// Its seed.
    pub seed: u64,
    /// Its clean trees.
    pub clean: Vec<Clean>,
    /// Whether the fit stepped back from the full model.
    pub stepped_back: bool,
}

/// Makes a plot and judges it.
///
/// # Errors
/// What the simulator or `proof` refuses, in words.
pub fn run(kind: Kind, seed: u64, options: &Options) -> Result<Trial, String> {
    let said = |what: &dyn std::fmt::Display| format!("{}, seed {seed}: {what}", kind.as_str());
    let made = make(&kind.recipe(seed), seed).map_err(|refusal| said(&refusal))?;
    let truth = &made.truth[0];
    let report = Run::to_the_end(&made.plot, &truth.disease, options).map_err(|no| said(&no))?;
    let trees = oracle::clean_trees(&made.plot, truth);
    let naive = measure::naive(&made.plot, truth, &trees, NAIVE_NEIGHBOURS);
    let luck = oracle::luck(&made.plot, truth);
    let clean = |(&tree, naive): (&TreeIx, f64)| {
        let judgement = report.tree(tree).map(|line| &line.judgement);
        let estimate = judgement.and_then(|judgement| judgement.luck);
        Clean {
            resistant: truth.tree(tree).resistant,
            luck: estimate.map_or(1.0, |luck| luck.value),
            interval: estimate.map(|luck| (luck.low, luck.high)),
            oracle: luck[&tree],
            naive,
            dose: judgement.and_then(|judgement| judgement.dose),
            true_dose: truth.tree(tree).dose,
        }
    };
    let clean = trees.iter().zip(naive).map(clean).collect();
    Ok(Trial { kind, seed, clean, stepped_back: !report.limits.is_empty() })
}

/// Runs all trials on `threads` threads; the results come in the order of `jobs` whatever thread
/// did which.
///
/// # Errors
/// The first trial, in the order of `jobs`, that could not be run.
pub fn run_all(
    jobs: &[(Kind, u64)],
    options: &Options,
    threads: usize,
) -> Result<Vec<Trial>, String> {
    in_threads(jobs, threads, |&(kind, seed)| run(kind, seed, options))
}

/// Does each job on one of `threads` threads; the results come in the order of `jobs` whatever thread
/// did which.
pub(super) fn in_threads<J: Sync, R: Send>(
    jobs: &[J],
    threads: usize,
    run: impl Fn(&J) -> Result<R, String> + Sync,
) -> Result<Vec<R>, String> {
    let next = AtomicUsize::new(0);
    let done = Mutex::new(Vec::with_capacity(jobs.len()));
    std::thread::scope(|scope| {
        for _ in 0..threads.max(1) {
            scope.spawn(|| {
                loop {
                    let nth = next.fetch_add(1, Ordering::Relaxed);
                    let Some(job) = jobs.get(nth) else { break };
                    let result = run(job);
                    if let Ok(mut done) = done.lock() {
                        done.push((nth, result));
                    }
                }
            });
        }
    });
    let mut done = done.into_inner().map_err(|_| "a trial panicked".to_owned())?;
    done.sort_by_key(|&(nth, _)| nth);
    done.into_iter().map(|(_, result)| result).collect()
}
