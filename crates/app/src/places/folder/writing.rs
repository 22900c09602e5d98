//! The open plot written as one file by a worker beside the page, and what came of it.

use judge::{breathe, link};
use leptos::prelude::*;
use leptos::task::spawn_local;
use plot::Problem;
use serde_bytes::Bytes;
use web_sys::Worker;
use writer::{Format, FromWriter, ToWriter, Written};

use crate::parts::Turn;
use crate::state::App;
use crate::work::pick::NotPicked;
use crate::work::{clock, save};

/// What is written, and what came of it.
#[derive(Clone, Copy)]
pub(super) struct Writing {
    app: App,
    /// What is being written.
    pub(super) now: RwSignal<Option<Format>>,
    /// What was saved last.
    pub(super) told: RwSignal<Option<Told>>,
    worker: StoredValue<Option<Worker>, LocalStorage>,
    turn: Turn,
}

/// What came of writing a plot.
#[derive(Clone)]
pub(super) enum Told {
    /// It was saved, without its bytes.
    Saved(Written),
    /// The format cannot hold the plot.
    Refused(Vec<Problem>),
    /// In words.
    Failed(String),
}

impl Writing {
    pub(super) fn new(app: App) -> Self {
        let writing = Self {
            app,
            now: RwSignal::new(None),
            told: RwSignal::new(None),
            worker: StoredValue::new_local(None),
            turn: Turn::default(),
        };
        on_cleanup(move || writing.end());
        writing
    }

    /// Writes the open plot and gives it to the person; what was being written is stopped.
    pub(super) fn begin(self, format: Format) {
        self.end();
        self.told.set(None);
        let turn = self.turn.next();
        let version = self.app.version_now();
        let hear = move |message: FromWriter| {
            if !self.turn.is_of(turn) {
                return;
            }
            match message {
                FromWriter::Ready => spawn_local(self.hand_over(format, turn)),
                FromWriter::Written(written) => self.save(format, written, version),
                FromWriter::Refused(problems) => self.tell(Told::Refused(problems)),
                // Nothing was to be laid out.
                FromWriter::Printed(_) | FromWriter::CannotPrint(_) => {}
            }
        };
        let broke = move || {
            if self.turn.is_of(turn) {
                self.fail(format, "what writes files could not be fetched, or found no memory");
            }
        };
        match link::start(&self.app.writer_address(), hear, broke) {
            Ok(worker) => {
                self.worker.set_value(Some(worker));
                self.now.set(Some(format));
            }
            Err(_) => self.fail(format, "this browser gives no background work"),
        }
    }

    /// Stops it; nothing is saved then.
    pub(super) fn end(self) {
        self.turn.next();
        if let Some(Some(worker)) = self.worker.try_update_value(Option::take) {
            worker.terminate();
        }
        let _ = self.now.try_set(None);
    }

    /// Hands the plot over in pieces; its files are those of one moment.
    async fn hand_over(self, format: Format, turn: u64) {
        let is_whole = format == Format::Zip;
        let Some(files) = self.app.book_now(files::Book::to_files) else { return };
        for (file, bytes) in files.iter().filter(|(path, _)| is_whole || !files::is_photo(path)) {
            for piece in bytes.chunks(PIECE_BYTES) {
                self.say(&ToWriter::Piece { file, bytes: Bytes::new(piece) });
                breathe().await;
                if !self.turn.is_of(turn) {
                    return;
                }
            }
            if bytes.is_empty() {
                self.say(&ToWriter::Piece { file, bytes: Bytes::new(&[]) });
            }
        }
        self.say(&ToWriter::Write { format, name: &file_name(self.app) });
    }

    fn say(self, message: &ToWriter<'_>) {
        self.worker.with_value(|worker| {
            if let Some(worker) = worker {
                link::tell(worker, message);
            }
        });
    }

    fn save(self, format: Format, mut written: Written, version: u64) {
        let bytes = std::mem::take(&mut written.bytes);
        match save::download(&written.name, &bytes).map_err(NotPicked::from) {
            Ok(()) => {}
            Err(NotPicked::Unusable(problem)) => return self.tell(Told::Failed(problem.found)),
            Err(NotPicked::Nothing) => return self.end(),
        }
        // What came meanwhile is not in it.
        if format == Format::Zip && self.app.version_now() == version {
            self.app.copied();
        }
        self.tell(Told::Saved(written));
    }

    /// The worker is of no use. A copy of the folder must be had all the same: it is packed here.
    fn fail(self, format: Format, why: &str) {
        let version = self.app.version_now();
        let files = self.app.book_now(files::Book::to_files);
        match files.filter(|_| format == Format::Zip) {
            Some(files) => {
                let name = file_name(self.app);
                let bytes = files::pack(&files, &name);
                let written = Written { name: format!("{name}.zip"), bytes, trees: 0, left_out: 0 };
                self.save(format, written, version);
            }
            None => self.tell(Told::Failed(why.to_owned())),
        }
    }

    fn tell(self, told: Told) {
        self.end();
        let _ = self.told.try_set(Some(told));
    }
}

/// So many bytes of a file are handed over at once: the page must not stop for it.
const PIECE_BYTES: usize = 1 << 20;

/// A name for files of the open plot, with today's date.
pub(super) fn file_name(app: App) -> String {
    let name = app.plot_now(|plot| files::plain_name(&plot.head().name)).unwrap_or_default();
    format!("{name}-{}", clock::now().date())
}
