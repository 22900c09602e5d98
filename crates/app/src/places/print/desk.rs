//! What is wanted on paper, the worker that lays it out, and what it answered.

use language::say;
use leptos::prelude::*;
use leptos::task::spawn_local;
use paper::Document;
use writer::{FromWriter, MapLayer, PrintWish, Printed, ToWriter, What, Written};

use super::choice::first_sheets;
use super::pages::Sheet;
use crate::parts::{PlotWriter, Turn, file_name};
use crate::state::App;
use crate::work::save;

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
    writer: PlotWriter,
    keys: Turn,
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

impl Desk {
    pub(super) fn new(app: App) -> Self {
        let (what, rows) = (first_sheets(app), String::new());
        let wish = PrintWish { what, is_letter: false, is_landscape: false, rows };
        let desk = Self {
            app,
            wish: RwSignal::new(wish),
            shown: RwSignal::new(None),
            is_busy: RwSignal::new(false),
            loading: RwSignal::new(0),
            copy: RwSignal::new(ForColleague::Unwanted),
            writer: PlotWriter::new(app),
            keys: Turn::default(),
        };
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
                desk.writer.end();
                desk.keys.after_keys(move || desk.begin());
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
        self.show(Shown::Cannot(say!("Stopped: nothing was laid out.").to_owned()));
    }

    /// Has the wish laid out by a worker of its own; what was being laid out is stopped.
    fn begin(self) {
        let hear = move |message, turn| match message {
            FromWriter::Ready => spawn_local(self.hand_over(turn)),
            FromWriter::Printed(Printed::Pages { pages, of }) => {
                let pages = pages.iter().filter_map(|svg| Sheet::of(svg)).collect();
                self.show(Shown::Pages { pages, of });
            }
            FromWriter::Printed(Printed::Report(document)) => self.show(Shown::Report(document)),
            FromWriter::Written(written) => self.save(written),
            FromWriter::CannotPrint(why) => self.show(Shown::Cannot(format!("{why}."))),
            FromWriter::Refused(problems) => {
                let first = problems.first().map(ToString::to_string).unwrap_or_default();
                self.show(Shown::Cannot(say!("The plot cannot be read: {first}.")));
            }
        };
        let broke = move || {
            let why = say!("What lays pages out could not be fetched, or found no memory.");
            self.show(Shown::Cannot(why.to_owned()));
        };
        if self.writer.start(hear, broke) {
            self.is_busy.set(true);
        } else {
            let why = say!("This browser gives no background work: nothing can be laid out.");
            self.show(Shown::Cannot(why.to_owned()));
        }
    }

    /// Hands over the plot, the reports that are needed, and the wish.
    async fn hand_over(self, turn: u64) {
        let is_copied = self.copy.get_untracked() == ForColleague::Wanted;
        if !self.writer.hand_over(turn, is_copied).await {
            return;
        }
        let reports = untrack(move || {
            self.needed().iter().filter_map(|disease| self.app.report(disease)).collect::<Vec<_>>()
        });
        for report in reports {
            self.writer.say(&ToWriter::Report(Box::new((*report).clone())));
        }
        if is_copied {
            self.writer.say(&ToWriter::Copy { name: &file_name(self.app) });
        }
        self.writer.say(&ToWriter::Print(self.wish.get_untracked()));
    }

    fn save(self, written: Written) {
        let said = match save::download(&written.name, &written.bytes) {
            Ok(()) => say!("Saved as {name}.", name = written.name),
            Err(_) => say!("It could not be saved: the browser refused.").to_owned(),
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
                self.copy.set(ForColleague::Told(say!("No copy was made. {why}")));
            }
            Shown::Cannot(_) => {}
        }
        self.shown.set(Some(shown));
    }

    /// Stops what is being laid out, and what was about to be.
    fn end(self) {
        self.keys.next();
        self.writer.end();
    }
}
