//! The judge's worker: holds its own copy of the plot and runs the proof in short pieces, so that
//! it hears at once when something newer is asked.

use std::cell::RefCell;

use files::{Book, FileSet, Opening};
use proof::{Options, Run};

use judge::{FromJudge, Question, ToJudge, breathe, link};

/// Lines read, between two looks at what the page says.
const LINES_AT_ONCE: usize = 20_000;
/// Milliseconds worked between two looks at what the page says.
const PIECE_MS: f64 = 60.0;

#[derive(Default)]
struct Judge {
    files: Option<FileSet>,
    book: Option<Book>,
    /// Lines not yet in the book.
    lines: Vec<u8>,
    /// Counts what was asked; work for an older question ends.
    asked: u64,
}

thread_local! {
    static JUDGE: RefCell<Judge> = RefCell::default();
}

/// Hears the page from now on.
fn main() {
    link::listen(|bytes| {
        if let Some(message) = link::message(bytes) {
            hear(message);
        }
    });
}

fn hear(message: ToJudge<'_>) {
    JUDGE.with_borrow_mut(|judge| match message {
        ToJudge::Plot => {
            let files = Some(FileSet::new());
            *judge = Judge { files, asked: judge.asked + 1, ..Judge::default() };
        }
        ToJudge::Piece { file, of, bytes } => {
            let Some(files) = &mut judge.files else { return };
            let whole = || Vec::with_capacity(of as usize);
            files.entry(file.to_owned()).or_insert_with(whole).extend_from_slice(bytes);
        }
        ToJudge::Line(line) => judge.lines.extend_from_slice(line),
        ToJudge::Stop => judge.asked += 1,
        ToJudge::Judge { question, version } => {
            judge.asked += 1;
            let nth = judge.asked;
            wasm_bindgen_futures::spawn_local(async move {
                if let Some(answer) = answer(nth, question, version).await {
                    link::tell_page(&answer);
                }
            });
        }
    });
}

/// None: something newer was asked.
async fn answer(nth: u64, question: Question, version: u64) -> Option<FromJudge> {
    let still_asked = || JUDGE.with_borrow(|judge| judge.asked == nth);
    open(&still_asked).await?;
    let begun = JUDGE.with_borrow_mut(|judge| {
        let lines = std::mem::take(&mut judge.lines);
        let book = judge.book.as_mut()?;
        book.replay(&lines);
        let options = Options { seasons: question.seasons.clone(), ..Options::default() };
        Some(Run::new(book.plot(), &question.disease, &options))
    });
    let mut run = match begun {
        Some(Ok(run)) => run,
        Some(Err(unusable)) => {
            return Some(FromJudge::Unusable { question, version, why: unusable.to_string() });
        }
        None => {
            let why = "the plot cannot be read".to_owned();
            return Some(FromJudge::Unusable { question, version, why });
        }
    };
    loop {
        let until = js_sys::Date::now() + PIECE_MS;
        let progress = loop {
            let progress = run.step();
            if progress.is_done() || js_sys::Date::now() >= until {
                break progress;
            }
        };
        if progress.is_done() {
            return Some(FromJudge::Done { question, version, report: Box::new(run.finish()) });
        }
        let (done, of) = (progress.done as u64, progress.of as u64);
        link::tell_page(&FromJudge::Progress { question: question.clone(), done, of });
        breathe().await;
        if !still_asked() {
            return None;
        }
    }
}

/// Reads the plot, unless that is done; none: something newer was asked.
async fn open(still_asked: impl Fn() -> bool) -> Option<()> {
    let files = JUDGE.with_borrow(|judge| match judge.book {
        Some(_) => None,
        None => judge.files.clone(),
    });
    let Some(files) = files else { return Some(()) };
    let mut opening = Opening::new(files);
    loop {
        let (done, of) = opening.step(LINES_AT_ONCE);
        if done >= of {
            break;
        }
        breathe().await;
        if !still_asked() {
            return None;
        }
    }
    let (book, _) = opening.finish();
    JUDGE.with_borrow_mut(|judge| {
        judge.book = book;
        judge.files = None;
    });
    Some(())
}
