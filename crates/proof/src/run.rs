//! The façade: a judgement made step by step, so that worker, command line and tests drive one
//! loop.

use plot::{Plot, Season};
use serde::{Deserialize, Serialize};

use crate::Report;

/// What to look at.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Options {
    /// Only these seasons; empty: all.
    pub seasons: Vec<Season>,
}

/// Why a plot cannot be judged at all.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Unusable {
    /// No trait counts for the disease.
    #[error("no trait of this plot counts for the disease \"{disease}\"; it has {known}")]
    NoSuchDisease {
        /// What was asked for.
        disease: String,
        /// The diseases that traits name.
        known: String,
    },
}

/// How far a run is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Progress {
    /// Steps done.
    pub done: usize,
    /// Steps in all, as far as is known now.
    pub of: usize,
}

impl Progress {
    /// Whether nothing is left to do.
    pub fn is_done(self) -> bool {
        self.done >= self.of
    }
}

/// A judgement in the making; holds no borrow of the plot.
#[derive(Debug)]
pub struct Run {
    report: Report,
}

impl Run {
    /// Gathers what the scores say about `disease`.
    ///
    /// # Errors
    /// [`Unusable::NoSuchDisease`] when no trait counts for it.
    pub fn new(plot: &Plot, disease: &str, options: &Options) -> Result<Self, Unusable> {
        let _ = options;
        if plot.traits_of_disease(disease).is_empty() {
            let known = match plot.diseases() {
                none if none.is_empty() => "none".to_owned(),
                known => known.join(", "),
            };
            return Err(Unusable::NoSuchDisease { disease: disease.to_owned(), known });
        }
        Ok(Self {
            report: Report {
                disease: disease.to_owned(),
                limits: Vec::new(),
                fit: None,
                seasons: Vec::new(),
                crosses: Vec::new(),
                trees: Vec::new(),
                genotypes: Vec::new(),
            },
        })
    }

    /// Does a bounded piece of work.
    pub fn step(&mut self) -> Progress {
        Progress { done: 1, of: 1 }
    }

    /// The report.
    pub fn finish(self) -> Report {
        self.report
    }

    /// Runs to the end.
    ///
    /// # Errors
    /// As [`Run::new`].
    pub fn to_the_end(plot: &Plot, disease: &str, options: &Options) -> Result<Report, Unusable> {
        let mut run = Self::new(plot, disease, options)?;
        while !run.step().is_done() {}
        Ok(run.finish())
    }
}
