//! What is wanted on paper, the worker that lays it out, and what it answered.

use judge::{breathe, link};
use leptos::prelude::*;
use leptos::task::spawn_local;
use paper::Document;
use serde_bytes::Bytes;
use web_sys::Worker;
use writer::{FromWriter, MapLayer, PrintWish, Printed, ToWriter, What, Written};

use super::pages::Sheet;
use crate::parts::Turn;
use crate::state::App;
use crate::work::{clock, save};

/// What is wanted on paper, and what came of it.
#[derive(Clone, Copy)]
pub(super) struct Desk {
    pub(super) app: App,
    /// What the person wants.
    pub(super) wish: RwSignal<PrintWish>,
    /// What is shown of it.
    pub(super) shown: RwSignal<Option<Shown>>,
    /// Whether it is being laid out.
    pub(super) is_busy: RwSignal<bool>,
    /// Pages that the browser has still to load.
    pub(super) loading: RwSignal<usize>,
    /// Whether a copy for a colleague is wanted, and what came of it.
    pub(super) copy: RwSignal<ForColleague>,
    worker: StoredValue<Option<Worker>, LocalStorage>,
    turn: Turn,
}

/// What is shown.
#[derive(Clone)]
pub(super) enum Shown {
    /// Pages, and how many there are in all.
    Pages { pages: Vec<Sheet>, of: usize },
    /// A report.
    Report(Document),
    /// Why nothing can be printed.
    Cannot(String),
}

/// How a copy for a colleague stands.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) enum ForColleague {
    /// Nobody asked for one.
    #[default]
    Unwanted,
    /// It is being made.
    Wanted,
    /// Saved under a name, or why not.
    Told(String),
}

/// What was asked of the worker last.
struct Asked {
    wish: PrintWish,
    version: u64,
    is_copied: bool,
    is_judged: bool,
}

impl Asked {
    /// Whether nothing more is asked now.
    fn answers(&self, now: &Self) -> bool {
        self.is_judged
            && (&self.wish, self.version) == (&now.wish, now.version)
            && self.is_copied >= now.is_copied
    }
}

/// So many bytes of a file are handed over at once: the page must not stop for it.
const PIECE_BYTES: usize = 1 << 20;

impl Desk {
    pub(super) fn new(app: App) -> Self {
        let traits = app.plot_now(|plot| {
            let first = plot.head().traits.iter().take(3);
            first.map(|one| one.id.to_string()).collect::<Vec<_>>()
        });
        let what = What::FieldSheets { traits: traits.unwrap_or_default(), sick_last: false };
        let rows = String::new();
        let wish = PrintWish { what, is_letter: false, is_landscape: false, rows };
        let desk = Self {
            app,
            wish: RwSignal::new(wish),
            shown: RwSignal::new(None),
            is_busy: RwSignal::new(false),
            loading: RwSignal::new(0),
            copy: RwSignal::new(ForColleague::Unwanted),
            worker: StoredValue::new_local(None),
            turn: Turn::default(),
        };
        on_cleanup(move || desk.end());
        Effect::new(move |before: Option<Asked>| {
            let is_judged = desk.needed().iter().all(|disease| app.judged(disease).is_some());
            let is_copied = desk.copy.get() == ForColleague::Wanted;
            let asked =
                Asked { wish: desk.wish.get(), version: app.version(), is_copied, is_judged };
            // A copy that was made changes nothing of what is laid out.
            let is_known = before.is_some_and(|before| before.answers(&asked));
            if !is_judged {
                // What waits to be laid out would lack its reports, and what is shown is not what
                // is wanted.
                desk.wait();
            } else if !is_known {
                desk.turn.after_keys(move || desk.begin());
            }
            asked
        });
        desk
    }

    /// Diseases of which a report is needed for what is wanted.
    pub(super) fn needed(self) -> Vec<String> {
        let all = || {
            let all = |plot: &plot::Plot| plot.diseases().iter().map(|&it| it.to_owned()).collect();
            self.app.plot_now(all).unwrap_or_default()
        };
        let is_copied = self.copy.get() == ForColleague::Wanted;
        self.wish.with(|wish| match &wish.what {
            _ if is_copied => all(),
            What::Report => all(),
            What::Map(MapLayer::Verdict(disease)) => vec![disease.clone()],
            _ => Vec::new(),
        })
    }

    /// Lays nothing out until every report is there.
    fn wait(self) {
        self.end();
        self.is_busy.set(false);
        self.shown.set(None);
    }

    /// Stops what is being laid out.
    pub(super) fn stop(self) {
        self.show(Shown::Cannot("Stopped: nothing was laid out.".to_owned()));
    }

    /// Has the wish laid out by a worker of its own; what was being laid out is stopped.
    fn begin(self) {
        self.end();
        let turn = self.turn.next();
        let hear = move |message: FromWriter| {
            if !self.turn.is_of(turn) {
                return;
            }
            match message {
                FromWriter::Ready => spawn_local(self.hand_over(turn)),
                FromWriter::Printed(Printed::Pages { pages, of }) => {
                    let pages = pages.iter().filter_map(|svg| Sheet::of(svg)).collect();
                    self.show(Shown::Pages { pages, of });
                }
                FromWriter::Printed(Printed::Report(document)) => {
                    self.show(Shown::Report(document));
                }
                FromWriter::Written(written) => self.save(written),
                FromWriter::CannotPrint(why) => self.show(Shown::Cannot(format!("{why}."))),
                FromWriter::Refused(problems) => {
                    let first = problems.first().map(ToString::to_string).unwrap_or_default();
                    self.show(Shown::Cannot(format!("The plot cannot be read: {first}.")));
                }
            }
        };
        let broke = move || {
            if self.turn.is_of(turn) {
                let why = "What lays pages out could not be fetched, or found no memory.";
                self.show(Shown::Cannot(why.to_owned()));
            }
        };
        match link::start(&self.app.writer_address(), hear, broke) {
            Ok(worker) => {
                self.worker.set_value(Some(worker));
                self.is_busy.set(true);
            }
            Err(_) => {
                let why = "This browser gives no background work: nothing can be laid out.";
                self.show(Shown::Cannot(why.to_owned()));
            }
        }
    }

    /// Hands over the plot, the reports that are needed, and the wish.
    async fn hand_over(self, turn: u64) {
        let is_copied = self.copy.get_untracked() == ForColleague::Wanted;
        let Some(files) = self.app.book_now(files::Book::to_files) else { return };
        for (file, bytes) in files.iter().filter(|(path, _)| is_copied || !files::is_photo(path)) {
            for piece in bytes.chunks(PIECE_BYTES) {
                self.say(&ToWriter::Piece { file, bytes: Bytes::new(piece) });
                breathe().await;
                if !self.turn.is_of(turn) {
                    return;
                }
            }
        }
        let reports = untrack(move || {
            self.needed().iter().filter_map(|disease| self.app.report(disease)).collect::<Vec<_>>()
        });
        for report in reports {
            self.say(&ToWriter::Report(Box::new((*report).clone())));
        }
        if is_copied {
            self.say(&ToWriter::Copy { name: &self.file_name() });
        }
        self.say(&ToWriter::Print(self.wish.get_untracked()));
    }

    fn say(self, message: &ToWriter<'_>) {
        self.worker.with_value(|worker| {
            if let Some(worker) = worker {
                link::tell(worker, message);
            }
        });
    }

    fn save(self, written: Written) {
        let said = match save::download(&written.name, &written.bytes) {
            Ok(()) => format!("Saved as {}.", written.name),
            Err(_) => "It could not be saved: the browser refused.".to_owned(),
        };
        self.copy.set(ForColleague::Told(said));
    }

    fn show(self, shown: Shown) {
        self.end();
        self.is_busy.set(false);
        match &shown {
            Shown::Pages { pages, .. } => self.loading.set(pages.len()),
            Shown::Report(_) => self.loading.set(0),
            Shown::Cannot(why) if self.copy.get_untracked() == ForColleague::Wanted => {
                self.copy.set(ForColleague::Told(format!("No copy was made. {why}")));
            }
            Shown::Cannot(_) => {}
        }
        self.shown.set(Some(shown));
    }

    fn end(self) {
        self.turn.next();
        if let Some(Some(worker)) = self.worker.try_update_value(Option::take) {
            worker.terminate();
        }
    }

    fn file_name(self) -> String {
        let name = self.app.plot_now(|plot| files::plain_name(&plot.head().name));
        format!("{}-{}", name.unwrap_or_default(), clock::now().date())
    }
}
