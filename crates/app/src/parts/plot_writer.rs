//! The worker that writes the open plot and lays it out: started for one thing, ended with it.

use judge::{breathe, link};
use leptos::prelude::*;
use serde_bytes::Bytes;
use web_sys::Worker;
use writer::{FromWriter, ToWriter};

use super::Turn;
use crate::state::App;
use crate::work::clock;

/// So many bytes of a file are handed over at once: the page must not stop for it.
const PIECE_BYTES: usize = 1 << 20;

/// The worker while there is one; it ends with its screen.
#[derive(Clone, Copy)]
pub struct PlotWriter {
    app: App,
    worker: StoredValue<Option<Worker>, LocalStorage>,
    turn: Turn,
}

impl PlotWriter {
    /// None yet.
    pub fn new(app: App) -> Self {
        let writer = Self { app, worker: StoredValue::new_local(None), turn: Turn::default() };
        on_cleanup(move || writer.end());
        writer
    }

    /// Starts it anew: what was being done is stopped, and heard of no more. Each message comes with
    /// the number that [`hand_over`](Self::hand_over) wants. False where the browser gives none.
    pub fn start(
        self,
        hear: impl Fn(FromWriter, u64) + 'static,
        broke: impl Fn() + 'static,
    ) -> bool {
        self.end();
        let turn = self.turn.next();
        let hear = move |message| {
            if self.turn.is_of(turn) {
                hear(message, turn);
            }
        };
        let broke = move || {
            if self.turn.is_of(turn) {
                broke();
            }
        };
        let worker = link::start(&self.app.writer_address(), hear, broke).ok();
        let is_there = worker.is_some();
        self.worker.set_value(worker);
        is_there
    }

    /// Hands the plot over in pieces; its files are those of one moment. False where it was stopped
    /// on the way.
    pub async fn hand_over(self, turn: u64, with_photos: bool) -> bool {
        let Some(files) = self.app.book_now(files::Book::to_files) else { return false };
        for (file, bytes) in files.iter().filter(|(path, _)| with_photos || !files::is_photo(path))
        {
            // An empty file is a file, too.
            self.say(&ToWriter::Piece { file, bytes: Bytes::new(&[]) });
            for piece in bytes.chunks(PIECE_BYTES) {
                self.say(&ToWriter::Piece { file, bytes: Bytes::new(piece) });
                breathe().await;
                if !self.turn.is_of(turn) {
                    return false;
                }
            }
        }
        true
    }

    /// Says something to it, if it is there.
    pub fn say(self, message: &ToWriter<'_>) {
        self.worker.with_value(|worker| {
            if let Some(worker) = worker {
                link::tell(worker, message);
            }
        });
    }

    /// Stops it.
    pub fn end(self) {
        self.turn.next();
        if let Some(Some(worker)) = self.worker.try_update_value(Option::take) {
            worker.terminate();
        }
    }
}

/// A name for what is saved of the open plot, with today's date.
pub fn file_name(app: App) -> String {
    let name = app.plot_now(|plot| files::plain_name(&plot.head().name));
    format!("{}-{}", name.unwrap_or_default(), clock::now().date())
}
