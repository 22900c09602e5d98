//! Tells resistance from escape: how hard disease pressed on each tree, how likely it is that a
//! clean one was merely missed, and why.
//!
//! # Glossary
//! - **pressure**: what a tree's neighbours say about the disease that reached its place.
//! - **witness share**: the kernel-weighted share infected among the neighbours that *could* have
//!   been infected. A resistant neighbour is no witness.
//! - **dose**: infections that a typical susceptible seedling would have been expected to take at
//!   this place over the scored rounds.
//! - **luck**: the probability, 0 to 1, that a tree with no symptom is in truth susceptible and
//!   was merely missed (a disease escape).
//! - **verdict**: *proven*, *leaning*, *untested* or *infected*; luck alone decides.
//!
//! The façade is [`Run`]: made from a plot and a disease, driven by `step` until it is done, then
//! turned into a [`Report`]. Same plot, same options, same version: the same report, on any
//! target.
//!
//! ```
//! use proof::{Options, Run, Verdict};
//!
//! let made = epidemic::make(&epidemic::Kind::Blocks.recipe(7), 7)?;
//! let mut run = Run::new(&made.plot, "scab", &Options::default())?;
//! while !run.step().is_done() {}
//! let report = run.finish();
//! let clean: Vec<_> = report.trees.iter().filter(|one| one.judgement.luck.is_some()).collect();
//! assert!(clean.iter().all(|one| one.judgement.verdict != Verdict::Infected));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod case;
mod checks;
mod escape;
mod family;
mod fit;
mod gap;
mod judge;
mod known;
mod luck;
mod nearby;
mod overview;
mod plan;
mod position;
mod pressure;
mod reach;
mod reasons;
mod report;
mod run;
mod search;
mod segregation;
mod settle;
mod severity;
mod span;
mod surface;
mod surround;
mod surroundings;
#[cfg(test)]
mod testing;

pub use escape::typical_stays_clean;
pub use known::{Known, Look};
pub use nearby::{Asked, Nearby, Neighbour, near};
pub use plan::{CheckPlace, MOST_PROMISING, Plan, Promising, WantedScore, Way};
pub use pressure::Spread;
pub use reach::{Reach, ReachPart};
pub use report::{
    BusyPlace, CalibrationBin, CrossReport, Estimate, Fit, GenotypeReport, Judgement, Leftover,
    Limit, MissingScore, Nearest, Neighbourhood, PositionTest, Reason, Report, SeasonStrength,
    Settle, TreeReport, Verdict,
};
pub use run::{Options, Part, Progress, Run, Unusable};
pub use segregation::{Fits, Segregation};
pub use span::Span;
pub use surface::{Around, Pressure, PressureSurface};
pub use surroundings::Surroundings;
