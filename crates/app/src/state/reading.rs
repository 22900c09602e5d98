//! From files to an open book, in pieces, so that the page never freezes. It is fetched when a plot
//! is first opened: a visitor who looks at the first page need not wait for it.

use std::pin::Pin;

use files::{Book, FileSet, Opening, TreeRecord, Unpacking};
use language::say;
use leptos::prelude::*;
use plot::Problem;

use super::{App, Busy};
use crate::work::clock;
use crate::work::message::OfTrees;
use crate::work::pick::{MOST_BYTES, Picked};

/// Lines read between two looks at the clock.
const LINES_AT_ONCE: usize = 500;
/// Bytes unpacked between two looks at the clock.
const BYTES_AT_ONCE: usize = 1 << 20;
/// How long is read between two looks at what the person does, milliseconds. A look costs a few of
/// them: browsers make those wait who ask for the next turn again and again.
const READ_MS: f64 = 40.0;

/// Files, and what was made of them since they were written.
#[derive(Debug, Default)]
pub struct ToRead {
    /// The files, or a zip of them.
    pub picked: Picked,
    /// What was made of the trees since.
    pub trees: Vec<OfTrees>,
    /// Lines of `scores.csv` taken since.
    pub lines: Vec<u8>,
    /// Decisions made since.
    pub decisions: Vec<u8>,
}

/// What was read.
pub struct Read {
    /// The book; none where the files are no plot.
    pub book: Option<Book>,
    /// Every fault and notice.
    pub problems: Vec<Problem>,
    /// Scores in the files themselves.
    pub scores_in_files: usize,
}

/// Reads; none: the person stopped it.
pub type Reading = fn(App, ToRead) -> Pin<Box<dyn Future<Output = Option<Read>>>>;

impl From<Picked> for ToRead {
    fn from(picked: Picked) -> Self {
        Self { picked, ..Self::default() }
    }
}

impl From<FileSet> for ToRead {
    fn from(files: FileSet) -> Self {
        Picked::from(files).into()
    }
}

impl App {
    /// None: the person stopped it, or what reads could not be fetched; that is told.
    pub(super) async fn read(self, to_read: impl Into<ToRead>) -> Option<Read> {
        let Ok(reading) = crate::places::reading().await else {
            let why = say!(
                "The part of the page that reads plots could not be fetched, and it was not \
                       kept on this machine yet. Nothing is lost: load the page again once there \
                       is a network."
            );
            self.trouble.set(Some(why.to_owned()));
            return None;
        };
        reading(self, to_read.into()).await
    }
}

/// Reads in pieces, told by [`App::busy`](App); none: the person stopped it.
pub async fn in_pieces(app: App, to_read: ToRead) -> Option<Read> {
    let Picked { name, mut files, zip, left_out, .. } = to_read.picked;
    if let Some(zip) = zip {
        match unpacked(app, &name, zip).await? {
            Ok(unpacked) => files = unpacked,
            Err(problem) => {
                return Some(Read { book: None, problems: vec![problem], scores_in_files: 0 });
            }
        }
    }
    let mut opening = Opening::new(files);
    left_out.iter().for_each(|(file, bytes)| opening.leave_out(file, *bytes));
    step_by_step(app, say!("Reading the plot"), || {
        let (done, of) = opening.step(LINES_AT_ONCE);
        (done < of).then_some((done, of))
    })
    .await?;
    let (mut book, mut problems) = opening.finish();
    let scores_in_files = book.as_ref().map_or(0, |book| book.plot().scores().len());
    if let Some(book) = &mut book {
        // Trees first: an edit may have added one that was scored.
        let told = book.replay_trees(to_read.trees.iter().map(|record| match record {
            OfTrees::Changes(lines) => TreeRecord::Changes(lines),
            OfTrees::Edit(record) => TreeRecord::Edit(record),
            OfTrees::Past(record) => TreeRecord::Past(record),
        }));
        problems = book.problems_now(problems);
        problems.extend(told);
        problems.extend(book.replay(&to_read.lines));
        problems.extend(book.replay_decisions(&to_read.decisions));
    }
    Some(Read { book, problems, scores_in_files })
}

/// The files of a zip, or why it is refused; none: the person stopped it.
async fn unpacked(app: App, name: &str, zip: Vec<u8>) -> Option<Result<FileSet, Problem>> {
    let mut unpacking = match Unpacking::new(name, zip, MOST_BYTES) {
        Ok(unpacking) => unpacking,
        Err(problem) => return Some(Err(problem)),
    };
    let mut refused = None;
    step_by_step(app, say!("Unpacking the zip"), || match unpacking.step(BYTES_AT_ONCE) {
        Ok(more) => {
            let (done, of) = unpacking.progress();
            more.then_some((done as usize, of as usize))
        }
        Err(problem) => {
            refused = Some(problem);
            None
        }
    })
    .await?;
    Some(refused.map_or_else(|| Ok(unpacking.finish()), Err))
}

/// Goes on until a step says how much is done of how much no more; none: the person stopped it.
async fn step_by_step(
    app: App,
    what: &str,
    mut step: impl FnMut() -> Option<(usize, usize)>,
) -> Option<()> {
    app.busy.set(Some(Busy { what: what.to_owned(), ..Busy::default() }));
    let mut looked = clock::since_opened_ms();
    let mut is_stopped = false;
    while !is_stopped && let Some((done, of)) = step() {
        if clock::since_opened_ms() - looked < READ_MS {
            continue;
        }
        app.busy.update(|busy| {
            if let Some(busy) = busy {
                (busy.done, busy.of) = (done, of);
            }
        });
        judge::breathe().await;
        is_stopped = app.busy.with_untracked(|busy| busy.as_ref().is_some_and(|busy| busy.stop));
        looked = clock::since_opened_ms();
    }
    app.busy.set(None);
    (!is_stopped).then_some(())
}
