//! One trial: a made-up plot judged by `proof`, beside the oracle and the naive rule.

use epidemic::{Kind, make, measure, oracle};
use plot::TreeIx;
use proof::{Options, Report, Run};

/// Neighbours that the naive rule asks.
const NAIVE_NEIGHBOURS: usize = 8;

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
    /// Steps back from the full fit.
    pub limits: Vec<String>,
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
    Ok(Trial {
        kind,
        seed,
        clean: trees.iter().zip(naive).map(clean).collect(),
        limits: limits(&report),
    })
}

fn limits(report: &Report) -> Vec<String> {
    report.limits.iter().map(|limit| format!("{limit:?}")).collect()
}
