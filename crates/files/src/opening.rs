//! A plot folder read in bounded steps, so that half a million scores do not freeze a page.

use language::say;
use plot::{Edits, Event, Head, Layout, Origin, Plot, Problem, Weather, Weight};

use crate::decisions;
use crate::events;
use crate::findings::Findings;
use crate::folder;
use crate::scores::{self, Hints, ScoreReading};
use crate::table::Header;
use crate::trees::{self, TreeReading};
use crate::weather::{self, WeatherReading};
use crate::{Book, FileSet, caps, head};

const HEAD: &str = "plot.json";

/// Reads a plot folder in bounded steps: [`step`](Self::step) until it says that all is done,
/// then [`finish`](Self::finish).
#[derive(Debug)]
pub struct Opening {
    base: String,
    files: FileSet,
    /// Files that are too large.
    unread: Vec<String>,
    stage: Stage,
    /// The plot so far; a stand-in where `plot.json` cannot be used.
    plot: Option<Plot>,
    usable: bool,
    hints: Hints,
    scores: Option<Header>,
    decisions: Option<Header>,
    events: Vec<Event>,
    weather: Weather,
    folder: Vec<Problem>,
    of_head: Findings,
    of_trees: Findings,
    of_scores: Findings,
    of_events: Findings,
    of_decisions: Findings,
    of_weather: Findings,
    done: u64,
    of: u64,
    /// Trees and scores that the files may hold.
    room: [usize; 2],
}

#[derive(Debug)]
enum Stage {
    Head,
    Trees(Option<TreeReading>),
    Scores(Option<ScoreReading>),
    Events,
    Weather(Option<WeatherReading>),
    Done,
}

impl Opening {
    /// Begins to read. The folder's files may lie one level down (`hollow-bank/plot.json`).
    pub fn new(files: FileSet) -> Self {
        let (base, folder) = match folder::base(files.keys().map(String::as_str)) {
            Ok(base) => (base, Vec::new()),
            Err(problem) => (String::new(), vec![problem]),
        };
        let files = folder::within(files, &base);
        let usable = folder.is_empty();
        let mut opening = Self {
            base,
            files,
            unread: Vec::new(),
            stage: Stage::Head,
            plot: None,
            usable,
            hints: Hints::default(),
            scores: None,
            decisions: None,
            events: Vec::new(),
            weather: Weather::default(),
            folder,
            of_head: Findings::of(HEAD),
            of_trees: Findings::of(trees::FILE),
            of_scores: Findings::of(scores::FILE),
            of_events: Findings::of(events::FILE),
            of_decisions: Findings::of(decisions::FILE),
            of_weather: Findings::of(weather::FILE),
            done: 0,
            of: 1,
            room: [0; 2],
        };
        let sizes: Vec<(String, u64)> =
            opening.files.iter().map(|(name, bytes)| (name.clone(), bytes.len() as u64)).collect();
        for (name, bytes) in sizes {
            opening.leave_out(&name, bytes);
        }
        // No more than the bytes of a file can hold, whatever its line ends say.
        opening.room = [(trees::FILE, 4), (scores::FILE, 16)].map(|(name, least)| {
            let lines = opening.count(name);
            lines.min(opening.bytes(name).len() / least).min(caps::LINES as usize)
        });
        opening.count(weather::FILE);
        opening
    }

    /// Tells of a file that was not loaded because [`too_large`](crate::too_large) says so of
    /// its size. What is not loaded cannot be written back: there will be no book.
    pub fn leave_out(&mut self, name: &str, bytes: u64) {
        if let Some(problem) = caps::too_large(name, bytes) {
            self.folder.push(problem);
            self.unread.push(name.to_owned());
            self.usable = false;
        }
    }

    /// Reads up to `lines` further lines; gives lines read and lines in all.
    pub fn step(&mut self, lines: usize) -> (usize, usize) {
        let lines = (lines as u64).max(1);
        self.stage = match std::mem::replace(&mut self.stage, Stage::Done) {
            Stage::Head => {
                self.read_head();
                self.done += 1;
                Stage::Trees(self.begin_trees())
            }
            Stage::Trees(reading) => self.read_trees(reading, lines),
            Stage::Scores(reading) => self.read_scores(reading, lines),
            Stage::Events => {
                if let Some(bytes) = self.readable(events::FILE) {
                    let mut findings = Findings::of(events::FILE);
                    self.events = events::read(bytes, &mut findings);
                    self.of_events = findings;
                }
                self.read_decisions();
                Stage::Weather(self.begin_weather())
            }
            Stage::Weather(reading) => self.read_weather(reading, lines),
            Stage::Done => Stage::Done,
        };
        let done = match self.stage {
            Stage::Done => self.of,
            _ => self.done.min(self.of - 1),
        };
        (done as usize, self.of as usize)
    }

    /// The book and every problem found, file by file, each in the order of its lines. No book
    /// when `plot.json` or `trees.csv` is missing or cannot be understood at all, or a file is
    /// too large to be read.
    pub fn finish(mut self) -> (Option<Book>, Vec<Problem>) {
        while !matches!(self.stage, Stage::Done) {
            self.step(usize::MAX);
        }
        let mut problems = self.folder;
        for findings in [
            self.of_head,
            self.of_trees,
            self.of_scores,
            self.of_events,
            self.of_decisions,
            self.of_weather,
        ] {
            problems.extend(findings.into_problems());
        }
        let Self { base, files, scores, decisions, events, weather, .. } = self;
        let edits = Edits::default();
        let plot = self.plot.filter(|_| self.usable).map(|mut plot| {
            plot.set_events(events);
            plot
        });
        let of_trees = None;
        let book = plot.map(|plot| Book {
            plot,
            base,
            files,
            scores,
            decisions,
            weather,
            edits,
            of_trees,
        });
        (book, problems)
    }

    fn read_head(&mut self) {
        let mut findings = Findings::of(HEAD);
        let head = self.readable(HEAD).and_then(|bytes| head::read(bytes, &mut findings));
        self.usable &= head.is_some();
        self.hints.faulty_head = findings.faults() > 0;
        self.of_head = findings;
        let plot = Plot::new(head.unwrap_or_else(stand_in));
        let mut plot = plot.expect("the head was checked when it was read");
        if self.usable {
            let [trees, scores] = self.room;
            plot.make_room(trees, scores);
        }
        self.plot = Some(plot);
    }

    fn begin_trees(&mut self) -> Option<TreeReading> {
        if !self.files.contains_key(trees::FILE) && !self.is_unread(trees::FILE) && self.usable {
            self.of_trees.whole(say!("no trees.csv"), say!("a file with one line for each tree"));
        }
        let mut findings = std::mem::replace(&mut self.of_trees, Findings::of(trees::FILE));
        let reading =
            self.readable(trees::FILE).and_then(|bytes| TreeReading::new(bytes, &mut findings));
        self.of_trees = findings;
        self.usable &= reading.is_some();
        reading
    }

    fn read_trees(&mut self, reading: Option<TreeReading>, lines: u64) -> Stage {
        let (Some(mut reading), Some(plot)) = (reading, &mut self.plot) else {
            return Stage::Scores(self.begin_scores());
        };
        let before = reading.line();
        let more = reading.step(&self.files[trees::FILE], lines, plot, &mut self.of_trees);
        self.done += reading.line() - before;
        if more {
            return Stage::Trees(Some(reading));
        }
        self.hints.faulty_trees = reading.finish(plot, &mut self.of_trees);
        Stage::Scores(self.begin_scores())
    }

    fn begin_scores(&mut self) -> Option<ScoreReading> {
        let mut findings = Findings::of(scores::FILE);
        if !self.files.contains_key(scores::FILE) && !self.is_unread(scores::FILE) && self.usable {
            let expected = say!("a file with one line for each score (taken as: no scores yet)");
            findings.push(Weight::Notice, None, None, say!("no scores.csv"), expected);
        }
        let hints = std::mem::take(&mut self.hints);
        let reading = self
            .readable(scores::FILE)
            .and_then(|bytes| ScoreReading::new(bytes, hints, &mut findings));
        self.of_scores = findings;
        self.scores = reading.as_ref().map(|reading| reading.header().clone());
        reading
    }

    fn read_scores(&mut self, reading: Option<ScoreReading>, lines: u64) -> Stage {
        let Some(mut reading) = reading else { return Stage::Events };
        let plot = if self.usable { self.plot.as_mut() } else { None };
        let before = reading.line();
        let more = reading.step(&self.files[scores::FILE], lines, plot, &mut self.of_scores);
        self.done += reading.line() - before;
        if more {
            return Stage::Scores(Some(reading));
        }
        reading.finish(self.plot.as_ref().filter(|_| self.usable), &mut self.of_scores);
        Stage::Events
    }

    fn read_decisions(&mut self) {
        let mut findings = Findings::of(decisions::FILE);
        if self.usable
            && !self.is_unread(decisions::FILE)
            && let Some(plot) = &mut self.plot
            && let Some(bytes) = self.files.get(decisions::FILE)
        {
            self.decisions = decisions::read(bytes, plot, &mut findings);
        }
        self.of_decisions = findings;
    }

    fn begin_weather(&mut self) -> Option<WeatherReading> {
        let mut findings = Findings::of(weather::FILE);
        let reading = self
            .readable(weather::FILE)
            .and_then(|bytes| WeatherReading::new(bytes, &mut findings));
        self.of_weather = findings;
        reading
    }

    fn read_weather(&mut self, reading: Option<WeatherReading>, lines: u64) -> Stage {
        let Some(mut reading) = reading else { return Stage::Done };
        let before = reading.line();
        let more = reading.step(&self.files[weather::FILE], lines, &mut self.of_weather);
        self.done += reading.line() - before;
        if more {
            return Stage::Weather(Some(reading));
        }
        self.weather = reading.finish(&mut self.of_weather);
        Stage::Done
    }

    /// The lines of a file, which are added to what there is to do.
    fn count(&mut self, name: &str) -> usize {
        let lines = memchr::memchr_iter(b'\n', self.bytes(name)).count();
        self.of += 1 + lines as u64;
        lines
    }

    fn is_unread(&self, name: &str) -> bool {
        self.unread.iter().any(|unread| unread == name)
    }

    /// The bytes of a file that is there and not too large.
    fn readable(&self, name: &str) -> Option<&[u8]> {
        let bytes = self.files.get(name).filter(|_| !self.is_unread(name))?;
        Some(bytes)
    }

    fn bytes(&self, name: &str) -> &[u8] {
        self.readable(name).unwrap_or_default()
    }
}

/// A head for reading the other files where `plot.json` cannot be used: only their own faults
/// are told then, and no book is made of them.
fn stand_in() -> Head {
    Head {
        name: "stand-in".to_owned(),
        layout: Layout { row_spacing_m: 1.0, place_spacing_m: 1.0, first_row: 1, first_place: 1 },
        origin: Some(Origin { lon: 0.0, lat: 0.0, row_bearing_deg: 0.0 }),
        season_starts_month: 1,
        traits: Vec::new(),
        diseases: Default::default(),
        crosses: Vec::new(),
    }
}

/// Reads a plot folder to the end.
pub fn open(files: FileSet) -> (Option<Book>, Vec<Problem>) {
    Opening::new(files).finish()
}

#[cfg(test)]
mod tests;
