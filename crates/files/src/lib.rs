//! Bytes to plot and back: the plot folder read and written line by line, nothing lost.

use std::collections::BTreeMap;

use plot::{Plot, Problem, Refusal, ScoreDraft, ScoreIx};

/// The files of a plot folder by name within the folder (`plot.json`, `photos/a.jpg` …).
pub type FileSet = BTreeMap<String, Vec<u8>>;

/// A plot folder held in memory: the plot, and every line as it stood.
#[derive(Clone, Debug)]
pub struct Book {
    plot: Plot,
    files: FileSet,
}

/// Reads a plot folder in bounded steps.
#[derive(Debug)]
pub struct Opening {
    files: FileSet,
}

impl Opening {
    /// Begins to read.
    pub fn new(files: FileSet) -> Self {
        Self { files }
    }
    /// Reads up to `lines` further lines; gives lines read and lines in all.
    pub fn step(&mut self, lines: usize) -> (usize, usize) {
        let _ = lines;
        (1, 1)
    }
    /// The book (none when `plot.json` or `trees.csv` is unusable) and every problem found.
    pub fn finish(self) -> (Option<Book>, Vec<Problem>) {
        let _ = self.files;
        (None, Vec::new())
    }
}

/// Reads a plot folder to the end.
pub fn open(files: FileSet) -> (Option<Book>, Vec<Problem>) {
    let mut opening = Opening::new(files);
    loop {
        let (done, of) = opening.step(usize::MAX);
        if done >= of {
            return opening.finish();
        }
    }
}

impl Book {
    /// The plot.
    pub fn plot(&self) -> &Plot {
        &self.plot
    }
    /// Appends a score: to the plot, and as one line to `scores.csv`. Gives the line's bytes
    /// (without header, with line end) and the score's index.
    ///
    /// # Errors
    /// As [`Plot::add_score`]; nothing is changed then.
    pub fn record(&mut self, draft: ScoreDraft) -> Result<(ScoreIx, Vec<u8>), Refusal> {
        Ok((self.plot.add_score(draft)?, Vec::new()))
    }
    /// The folder as it is to be saved: untouched lines byte for byte, new lines at the end.
    pub fn to_files(&self) -> FileSet {
        self.files.clone()
    }
}
