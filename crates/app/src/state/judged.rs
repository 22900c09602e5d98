//! Reports by disease, and the judgement that runs.

use std::sync::Arc;

use leptos::prelude::*;
use proof::Report;

use super::App;

/// A report with the state of the plot that it judged.
#[derive(Clone, Debug)]
pub struct Judged {
    /// The report.
    pub report: Arc<Report>,
    /// The plot's version that it judged; older than [`App::version`]: scores came since.
    pub version: u64,
}

/// A judgement in the making.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Judging {
    /// The disease.
    pub disease: String,
    /// Steps done.
    pub done: usize,
    /// Steps in all, as far as is known.
    pub of: usize,
}

impl App {
    /// The newest report of a disease, if there is one; follows. Ask for one with
    /// [`App::judge`].
    pub fn report(self, disease: &str) -> Option<Arc<Report>> {
        self.reports.with(|reports| reports.get(disease).map(|judged| judged.report.clone()))
    }
}
