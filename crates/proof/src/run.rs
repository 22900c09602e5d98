//! The façade: a judgement made step by step, so that worker, command line and tests drive one
//! loop.

use plot::{Plot, Season};
use serde::{Deserialize, Serialize};

use crate::Report;
use crate::case::Case;
use crate::judge::Findings;
use crate::report::{Limit, SeasonStrength};
use crate::search::{ENOUGH_FOR_FIT, Search};

/// What to look at.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Options {
    /// Only these seasons; empty: all.
    pub seasons: Vec<Season>,
    /// Parts of the model left out, to show what each is worth; empty for every real use.
    pub without: Vec<Part>,
}

/// A part of the model that validation can leave out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Part {
    /// Susceptible trees that differ.
    Frailty,
    /// Resistant neighbours that are no witnesses.
    WitnessWeighting,
    /// Shares of resistant seedlings by cross: all seedlings are one family.
    CrossShares,
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
    /// Steps in all.
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
    case: Case,
    limits: Vec<Limit>,
    search: Option<Search>,
}

impl Run {
    /// Gathers what the scores say about `disease`.
    ///
    /// # Errors
    /// [`Unusable::NoSuchDisease`] when no trait counts for it.
    pub fn new(plot: &Plot, disease: &str, options: &Options) -> Result<Self, Unusable> {
        if plot.traits_of_disease(disease).is_empty() {
            let known = match plot.diseases() {
                none if none.is_empty() => "none".to_owned(),
                known => known.join(", "),
            };
            return Err(Unusable::NoSuchDisease { disease: disease.to_owned(), known });
        }
        let case = Case::gather(plot, disease, options);
        let mut limits = Vec::new();
        let search = match case.infected() {
            0 => {
                limits.push(Limit::NobodyInfected);
                None
            }
            infected if infected < ENOUGH_FOR_FIT => {
                limits.push(Limit::TooFewInfected { infected, needed: ENOUGH_FOR_FIT });
                None
            }
            _ => Some(Search::plan(&case, &options.without, &mut limits)),
        };
        Ok(Self { case, limits, search })
    }

    /// What each season saw, without any fit: no median dose.
    pub fn seasons(&self) -> Vec<SeasonStrength> {
        let (limits, weighed) = (Vec::new(), Vec::new());
        Findings { case: &self.case, limits, weighed, weights: None }.seasons()
    }

    /// Does a bounded piece of work: fits one hypothesis.
    pub fn step(&mut self) -> Progress {
        let Some(search) = &mut self.search else { return Progress { done: 1, of: 1 } };
        search.step(&self.case);
        let (done, of) = search.progress();
        Progress { done, of }
    }

    /// The report. Steps not yet taken are taken now.
    pub fn finish(mut self) -> Report {
        while !self.step().is_done() {}
        let (weighed, weights) = match self.search {
            Some(search) => {
                let (weighed, weights) = search.finish();
                (weighed, Some(weights))
            }
            None => (Vec::new(), None),
        };
        Findings { case: &self.case, limits: self.limits, weighed, weights }.report()
    }

    /// Runs to the end.
    ///
    /// # Errors
    /// As [`Run::new`].
    pub fn to_the_end(plot: &Plot, disease: &str, options: &Options) -> Result<Report, Unusable> {
        Ok(Self::new(plot, disease, options)?.finish())
    }
}

#[cfg(test)]
mod tests;
