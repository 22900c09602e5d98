//! A plot folder held in memory: the plot, and every file as it stood, with new scores at the end.

use plot::{Edits, Plot, Problem, Refusal, Score, ScoreDraft, ScoreIx, Weather};

use crate::findings::Findings;
use crate::scores::{self, ScoreColumn, ScoreColumn as C};
use crate::table::{Column, Header, Table};
use crate::{FileSet, appended, caps, trees, write_with_ends};

/// A plot folder held in memory.
#[derive(Clone, Debug)]
pub struct Book {
    pub(crate) plot: Plot,
    pub(crate) base: String,
    pub(crate) files: FileSet,
    /// The header of `scores.csv`; none while there is no such file that can be read.
    pub(crate) scores: Option<Header>,
    /// The same of `decisions.csv`.
    pub(crate) decisions: Option<Header>,
    pub(crate) weather: Weather,
    pub(crate) edits: Edits,
    /// What was found in `trees.csv` when it was last read here; none: not since it was opened.
    pub(crate) of_trees: Option<Vec<Problem>>,
}

impl Book {
    /// A new folder for a plot made from scratch.
    pub fn new(plot: Plot) -> Self {
        Self::with_ends(plot, [None, None])
    }

    /// The same, with what people call the end where place numbers begin and the one where they
    /// stop.
    pub fn with_ends(plot: Plot, ends: [Option<&str>; 2]) -> Self {
        let files = write_with_ends(&plot, ends);
        Self {
            plot,
            base: String::new(),
            files,
            scores: Some(Header::full::<ScoreColumn>()),
            decisions: None,
            weather: Weather::default(),
            edits: Edits::default(),
            of_trees: None,
        }
    }

    /// The plot.
    pub fn plot(&self) -> &Plot {
        &self.plot
    }

    /// The hours of `weather.csv`, on one clock of standard time; none where there is no such file.
    pub fn weather(&self) -> &Weather {
        &self.weather
    }

    /// Where the plot folder lay within the file set it was opened from: `""`, or one level down
    /// such as `hollow-bank/`.
    pub fn base(&self) -> &str {
        &self.base
    }

    /// The columns of `trees.csv` as they stand in its header.
    pub fn tree_columns(&self) -> Vec<String> {
        let table = self.files.get(trees::FILE).and_then(|bytes| {
            Table::new(bytes, &[trees::TreeColumn::TreeId], &mut Findings::of(trees::FILE))
        });
        table.map_or_else(Vec::new, |table| table.header().names.clone())
    }

    /// Appends a score: to the plot, and as one line to `scores.csv`. Gives the line's bytes
    /// (without header, with line end) and the score's index.
    ///
    /// The cells stand in the column order of the file, unknown columns empty; a file that lacks
    /// a column which the score fills gets it first. Where `scores.csv` cannot be read as such, it is first put aside byte for byte under a free name
    /// (`scores-set-aside-1.csv`), and a new file begins.
    ///
    /// Empty words count as none, as they do in the file.
    ///
    /// # Errors
    /// As [`Plot::add_score`], words longer than a cell may be
    /// ([`CELL_BYTES`](crate::CELL_BYTES)), and missing columns where adding them would make a
    /// faulty line mean something; the plot is as it was then.
    pub fn record(&mut self, mut draft: ScoreDraft) -> Result<(ScoreIx, Vec<u8>), Refusal> {
        fit_cells(&mut draft)?;
        self.make_room_for(&draft)?;
        let ix = self.plot.add_score(draft)?;
        let header = self.begin_scores();
        let line = appended::line(&header, &scores::cells(&self.plot, self.plot.score(ix)));
        self.append(&line, header.crlf);
        Ok((ix, line))
    }

    /// Takes lines that [`record`](Self::record) gave earlier, such as those of a log that
    /// outlived a crash: to the plot, and byte for byte to `scores.csv`.
    ///
    /// A line that the book holds already is passed over, so the same log may be replayed twice.
    /// A line that is refused is told (its line number counts within `lines`, from 1) and still
    /// kept in the file.
    pub fn replay(&mut self, lines: &[u8]) -> Vec<Problem> {
        let header = self.begin_scores();
        let crlf = header.crlf;
        let mut findings = Findings::of(scores::FILE);
        let mut table = Table::continued(header);
        let mut from = 0;
        // Step by step, one record each: what was just passed is known byte for byte.
        while from < lines.len() {
            // Where the file cannot be widened, the lines are told as too wide, and kept.
            if self.are_wider(&lines[from..]) && self.widen_scores().is_ok() {
                let passed = table.line() - 1;
                let below = self.replay(&lines[from..]).into_iter().map(|problem| Problem {
                    line: problem.line.map(|line| line + passed),
                    ..problem
                });
                return findings.into_problems().into_iter().chain(below).collect();
            }
            let faults = findings.faults();
            let mut taken = false;
            table.step(lines, 1, &mut findings, &mut |line| {
                let Some(draft) = scores::draft(line) else { return };
                if self.holds(&draft) {
                    return;
                }
                match self.plot.add_score(draft) {
                    Ok(_) => taken = true,
                    Err(refusal) => line.refuse(refusal),
                }
            });
            let record = &lines[from..table.at()];
            from = table.at();
            let refused = findings.faults() > faults;
            if taken || (refused && !self.has_line(record)) {
                self.append(record, crlf);
            }
        }
        findings.into_problems()
    }

    /// Every fault and notice, given those that were known before: those of `trees.csv` are of the
    /// file as it is since the last edit.
    pub fn problems_now(&self, mut known: Vec<Problem>) -> Vec<Problem> {
        if let Some(of_trees) = &self.of_trees {
            let at = known.iter().position(|one| one.file == trees::FILE).unwrap_or(known.len());
            known.retain(|one| one.file != trees::FILE);
            known.splice(at..at, of_trees.iter().cloned());
        }
        known
    }

    /// The files as they are to be saved: untouched lines byte for byte, new lines at the end.
    pub fn files(&self) -> &FileSet {
        &self.files
    }

    /// A copy of [`files`](Self::files).
    pub fn to_files(&self) -> FileSet {
        self.files.clone()
    }

    /// The same without a copy; the plot is dropped.
    pub fn into_files(self) -> FileSet {
        self.files
    }

    /// The header of `scores.csv`, which is begun if need be.
    fn begin_scores(&mut self) -> Header {
        appended::begun::<ScoreColumn>(&mut self.files, scores::FILE, &mut self.scores)
    }

    fn append(&mut self, line: &[u8], crlf: bool) {
        appended::append(&mut self.files, scores::FILE, line, crlf);
    }

    /// Whether the plot has a score with everything the draft says.
    fn holds(&self, draft: &ScoreDraft) -> bool {
        let same = |score: &Score| {
            self.plot.tree(score.tree).id() == &draft.tree
                && self.plot.trait_of(score.trait_ix).id == draft.trait_id
                && score.value == draft.value
                && score.scored_on == draft.scored_on
                && score.round == draft.round
                && score.scorer == draft.scorer
                && score.note == draft.note
                && score.replaces == draft.replaces
        };
        self.plot.score_ix(draft.id.as_str()).is_some_and(|ix| same(self.plot.score(ix)))
    }

    fn has_line(&self, line: &[u8]) -> bool {
        appended::has_line(&self.files, scores::FILE, line)
    }
}

/// Makes a draft what reading its line would give.
fn fit_cells(draft: &mut ScoreDraft) -> Result<(), Refusal> {
    let words =
        [(C::Round, &mut draft.round), (C::Scorer, &mut draft.scorer), (C::Note, &mut draft.note)];
    for (column, word) in words {
        if word.as_ref().is_some_and(|word| word.is_empty()) {
            *word = None;
        }
        caps::check_cell(column.name(), word.as_deref().unwrap_or_default())?;
    }
    Ok(())
}

#[cfg(test)]
mod tests;
