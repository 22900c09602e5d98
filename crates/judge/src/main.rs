//! The judge's worker: holds its own copy of the plot and runs the proof in short pieces, so that
//! it hears at once when something newer is asked.

mod grow;

use std::cell::RefCell;

use files::{Book, FileSet, Opening};
use language::say;
use plot::Plot;
use proof::{Options, Run, Unusable};

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
            answered(answer(judge.asked, question, version));
        }
        ToJudge::Grow { growing, version } => {
            judge.asked += 1;
            answered(grow::answer(judge.asked, growing, version));
        }
    });
}

/// Works on an answer beside what is heard, and gives it unless something newer was asked.
fn answered(answer: impl Future<Output = Option<FromJudge>> + 'static) {
    wasm_bindgen_futures::spawn_local(async move {
        if let Some(answer) = answer.await {
            link::tell_page(&answer);
        }
    });
}

fn is_asked(nth: u64) -> bool {
    JUDGE.with_borrow(|judge| judge.asked == nth)
}

/// None: something newer was asked.
async fn answer(nth: u64, question: Question, version: u64) -> Option<FromJudge> {
    open(nth).await?;
    let begun = with_plot(|plot| {
        let options = Options { seasons: question.seasons.clone(), ..Options::default() };
        Run::new(plot, &question.disease, &options)
    });
    let mut run = match begun {
        Some(Ok(run)) => run,
        Some(Err(Unusable::NoSuchDisease { disease, known })) => {
            let why =
                say!("no trait of this plot counts for the disease \"{disease}\"; it has {known}");
            return Some(FromJudge::Unusable { question, version, why });
        }
        None => {
            let why = say!("the plot cannot be read").to_owned();
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
        if !is_asked(nth) {
            return None;
        }
    }
}

/// Reads the plot, unless that is done; none: something newer was asked.
async fn open(nth: u64) -> Option<()> {
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
        if !is_asked(nth) {
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

/// Reads the plot with every line that came since; none: it cannot be read.
fn with_plot<R>(read: impl FnOnce(&Plot) -> R) -> Option<R> {
    JUDGE.with_borrow_mut(|judge| {
        let lines = std::mem::take(&mut judge.lines);
        let book = judge.book.as_mut()?;
        book.replay(&lines);
        Some(read(book.plot()))
    })
}
