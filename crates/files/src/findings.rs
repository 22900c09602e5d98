//! The problems of one file while it is read: all of them, up to a stated number, in its order.

use std::borrow::Cow;

use language::say;
use plot::{Problem, Refusal, Weight};

use crate::caps;

/// Longest quotation of what was found, characters.
const QUOTED_CHARS: usize = 120;

/// The problems of one file.
#[derive(Debug)]
pub(crate) struct Findings {
    file: Cow<'static, str>,
    problems: Vec<Problem>,
    faults: usize,
    unlisted: usize,
}

impl Findings {
    pub(crate) fn of(file: impl Into<Cow<'static, str>>) -> Self {
        Self { file: file.into(), problems: Vec::new(), faults: 0, unlisted: 0 }
    }

    /// Faults so far, also those that are only counted.
    pub(crate) fn faults(&self) -> usize {
        self.faults
    }

    pub(crate) fn push(
        &mut self,
        weight: Weight,
        line: Option<u64>,
        column: Option<String>,
        found: impl Into<String>,
        expected: impl Into<String>,
    ) {
        self.faults += usize::from(weight == Weight::Fault);
        if self.problems.len() == caps::PROBLEMS {
            self.unlisted += 1;
            return;
        }
        let file = self.file.to_string();
        let (found, expected) = (shorten(found.into()), expected.into());
        self.problems.push(Problem { weight, file, line, column, found, expected });
    }

    /// A fault of the whole file.
    pub(crate) fn whole(&mut self, found: impl Into<String>, expected: impl Into<String>) {
        self.push(Weight::Fault, None, None, found, expected);
    }

    /// A fault of a whole line.
    pub(crate) fn line(&mut self, line: u64, found: impl Into<String>, expected: &str) {
        self.push(Weight::Fault, Some(line), None, found, expected);
    }

    pub(crate) fn refusal(&mut self, weight: Weight, line: Option<u64>, refusal: Refusal) {
        let column = Some(refusal.column.to_owned());
        self.push(weight, line, column, refusal.found, refusal.expected);
    }

    /// The problems so far.
    pub(crate) fn problems(&self) -> &[Problem] {
        &self.problems
    }

    /// Problems that are only counted.
    pub(crate) fn unlisted(&self) -> usize {
        self.unlisted
    }

    /// Puts the problems in the order of lines; what stands for the whole file first.
    pub(crate) fn sort(&mut self) {
        self.problems.sort_by_key(|problem| problem.line);
    }

    /// The problems by line; what stands for the whole file first.
    pub(crate) fn into_problems(mut self) -> Vec<Problem> {
        self.sort();
        if self.unlisted > 0 {
            self.problems.push(Problem {
                weight: if self.faults > 0 { Weight::Fault } else { Weight::Notice },
                file: self.file.to_string(),
                line: None,
                column: None,
                found: say!("{more} more problems, which are not listed", more = self.unlisted),
                expected: say!("at most {most} problems", most = caps::PROBLEMS),
            });
        }
        self.problems
    }
}

/// A cell or value as messages quote it: in quotation marks, shortened, `nothing` when empty.
pub(crate) fn quoted(text: &str) -> String {
    if text.is_empty() {
        return say!("nothing").to_owned();
    }
    let start: String = text.chars().take(QUOTED_CHARS / 2).collect();
    let dots = if start.len() < text.len() { "…" } else { "" };
    format!("\"{}{dots}\"", start.escape_debug())
}

fn shorten(mut found: String) -> String {
    if let Some((cut, _)) = found.char_indices().nth(QUOTED_CHARS * 2) {
        found.truncate(cut);
        found.push('…');
    }
    found
}
