//! The open plot written as one file by a worker beside the page, and what came of it.

use language::say;
use leptos::prelude::*;
use leptos::task::spawn_local;
use plot::Problem;
use writer::{Format, FromWriter, ToWriter, Written};

use crate::parts::{PlotWriter, file_name};
use crate::state::App;
use crate::work::pick::NotPicked;
use crate::work::save;

/// What is written, and what came of it.
#[derive(Clone, Copy)]
pub(super) struct Writing {
    app: App,
    /// What is being written.
    pub(super) now: RwSignal<Option<Format>>,
    /// What was saved last.
    pub(super) told: RwSignal<Option<Told>>,
    writer: PlotWriter,
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
        let writer = PlotWriter::new(app);
        Self { app, now: RwSignal::new(None), told: RwSignal::new(None), writer }
    }

    /// Writes the open plot and gives it to the person; what was being written is stopped.
    pub(super) fn begin(self, format: Format) {
        self.told.set(None);
        let version = self.app.version_now();
        let hear = move |message, turn| match message {
            FromWriter::Ready => spawn_local(self.hand_over(format, turn)),
            FromWriter::Written(written) => self.save(format, written, version),
            FromWriter::Refused(problems) => self.tell(Told::Refused(problems)),
            // Nothing was to be laid out.
            FromWriter::Printed(_) | FromWriter::CannotPrint(_) => {}
        };
        let broke = move || {
            self.fail(format, say!("what writes files could not be fetched, or found no memory"));
        };
        if self.writer.start(hear, broke) {
            self.now.set(Some(format));
        } else {
            self.fail(format, say!("this browser gives no background work"));
        }
    }

    /// Stops it; nothing is saved then.
    pub(super) fn end(self) {
        self.writer.end();
        let _ = self.now.try_set(None);
    }

    async fn hand_over(self, format: Format, turn: u64) {
        if self.writer.hand_over(turn, format == Format::Zip).await {
            self.writer.say(&ToWriter::Write { format, name: &file_name(self.app) });
        }
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
