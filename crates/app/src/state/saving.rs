//! What is on disk: the page's side of the keeper.

use files::FileSet;
use language::say;
use leptos::prelude::*;
use leptos::task::spawn_local;
use serde_bytes::{ByteBuf, Bytes};

use super::reading::{Read, ToRead};
use super::{App, Origin, Refused};

use crate::work::clock;
use crate::work::message::{Files, FromKeeper, Kept, NewPlot, Outside, ToKeeper};
use crate::work::pick::Picked;
use judge::link;

pub use crate::work::message::{OnShelf, Standing};

/// How far the scores are on disk.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Saving {
    /// Scores taken since the page was loaded.
    pub taken: u64,
    /// Of these, acknowledged by the keeper.
    pub kept: u64,
    /// What copies outside of this browser hold.
    pub outside: Outside,
    /// What the keeper can do here.
    pub standing: Standing,
    /// Bytes of this browser's copy that could not be read back.
    pub torn: u64,
    /// What the keeper could not do, in words.
    pub trouble: Option<String>,
    /// Whether the keeper may find room when it tries once more.
    pub can_try_again: bool,
    /// Whether the tab that writes gives no sign; only in one that reads.
    pub writer_sleeps: bool,
}

impl Saving {
    /// Whether every score taken is on disk.
    pub fn is_all_kept(&self) -> bool {
        self.taken == self.kept
    }

    /// Scores that are neither on disk nor in a copy: they go when this tab goes.
    pub fn only_in_tab(&self) -> u64 {
        match self.standing {
            Standing::Writing => self.taken - self.kept,
            Standing::ReadOnly | Standing::Outdated => 0,
            Standing::Starting | Standing::Nowhere => self.outside.lacks,
        }
    }
}

impl App {
    /// Starts the keeper.
    pub(super) fn start_keeper(self) {
        let address = self.addresses.with_value(|addresses| addresses.keeper.clone());
        let broke = move || self.not_kept(say!("The storage worker broke off.").to_owned());
        match link::start(&address, move |message| self.keeper_says(message), broke) {
            Ok(worker) => self.keeper.set_value(Some(worker)),
            Err(_) => self.not_kept(say!("This browser gives no background work.").to_owned()),
        }
    }

    /// From now on nothing is kept in this browser.
    fn not_kept(self, why: String) {
        self.saving.update(|saving| {
            saving.standing = Standing::Nowhere;
            saving.trouble = Some(why);
        });
    }

    /// Whether scores would be lost if another plot were opened now: they are neither on disk nor
    /// in a copy. If so, it is said.
    pub(super) fn would_lose_scores(self) -> bool {
        let only_in_tab = self.saving.with_untracked(Saving::only_in_tab);
        if only_in_tab == 0 {
            return false;
        }
        self.trouble.set(Some(say!(
            "{only_in_tab} scores are only in this tab. Save a copy in Folder first; then another \
             plot can be opened."
        )));
        true
    }

    /// Has the browser ask before a tab is left that holds what nothing else does.
    pub(super) fn ask_before_leaving(self) {
        let handle = window_event_listener(leptos::ev::beforeunload, move |event| {
            if self.saving.with_untracked(Saving::only_in_tab) > 0 {
                event.prevent_default();
            }
        });
        std::mem::forget(handle);
    }

    /// Has the keeper try once more to write what found no room.
    pub fn try_again(self) {
        match self.saving.with_untracked(|saving| saving.standing) {
            Standing::Nowhere => self.put(&Origin::Kept),
            _ => self.tell_keeper(&ToKeeper::Again),
        }
    }

    /// Has the plot that is open kept from now on.
    pub(super) fn put(self, origin: &Origin) {
        let outside = match origin {
            Origin::Chosen(_) => Outside { at_ms: Some(clock::now_ms()), lacks: 0 },
            Origin::Demo | Origin::New => Outside::default(),
            Origin::Kept | Origin::Merged => self.saving.with_untracked(|saving| saving.outside),
            Origin::Together { changed } => {
                let before = self.saving.with_untracked(|saving| saving.outside);
                Outside { lacks: before.lacks + changed, ..before }
            }
        };
        self.saving.update(|saving| {
            *saving = Saving { standing: saving.standing, outside, ..Saving::default() };
        });
        let id = clock::new_id();
        match origin {
            Origin::Merged | Origin::Together { .. } => self.carry_step(id.clone()),
            _ => self.find_step(id.clone()),
        }
        self.book_now(|book| {
            self.tell_keeper(&ToKeeper::Put(NewPlot {
                id,
                name: book.plot().head().name.clone(),
                files: Files::lent(book.files()),
                outside,
                takes_place: *origin == Origin::Merged,
                past: book.edit_records().map(ByteBuf::from).collect(),
            }));
        });
    }

    /// Sends a line's bytes to the keeper.
    pub(super) fn keep(self, line: Vec<u8>) {
        let nth = self.count_one();
        self.tell_keeper(&ToKeeper::Append { nth, line: Bytes::new(&line) });
    }

    /// Sends a change of a tree to the keeper.
    pub(super) fn keep_change(self, line: Vec<u8>) {
        let nth = self.count_one();
        self.tell_keeper(&ToKeeper::Change { nth, line: Bytes::new(&line) });
    }

    /// Sends an edit of trees to the keeper.
    pub(super) fn keep_edit(self, record: Vec<u8>) {
        let nth = self.count_one();
        self.tell_keeper(&ToKeeper::Edit { nth, record: Bytes::new(&record) });
    }

    /// Sends a decision on a tree to the keeper.
    pub(super) fn keep_decision(self, line: Vec<u8>) {
        let nth = self.count_one();
        self.tell_keeper(&ToKeeper::Decision { nth, line: Bytes::new(&line) });
    }

    /// Sends a new file of the folder to the keeper.
    pub(super) fn keep_file(self, path: String, bytes: Vec<u8>) {
        let nth = self.count_one();
        self.tell_keeper(&ToKeeper::File { nth, path, bytes: Bytes::new(&bytes) });
    }

    fn count_one(self) -> u64 {
        let mut nth = 0;
        self.saving.update(|saving| {
            saving.taken += 1;
            saving.outside.lacks += 1;
            nth = saving.taken;
        });
        nth
    }

    /// Notes that a copy outside of this browser now holds everything.
    pub fn copied(self) {
        let at_ms = clock::now_ms();
        self.saving.update(|saving| saving.outside = Outside { at_ms: Some(at_ms), lacks: 0 });
        self.tell_keeper(&ToKeeper::Copied { at_ms });
    }

    /// Takes a plot from the shelf in place of the open one.
    pub fn bring(self, id: &str) {
        if self.would_lose_scores() {
            return;
        }
        // From here on a score would go into the log of the plot that is brought.
        self.show(None, Vec::new());
        self.tell_keeper(&ToKeeper::Bring { id: id.to_owned() });
    }

    /// Forgets a plot of the shelf for good.
    pub fn forget(self, id: &str) {
        self.tell_keeper(&ToKeeper::Drop { id: id.to_owned() });
    }

    /// Puts the open plot on the shelf; nothing is open then.
    pub fn close(self) {
        if self.would_lose_scores() {
            return;
        }
        self.tell_keeper(&ToKeeper::Close);
        self.show(None, Vec::new());
    }

    /// Asks the tab that writes to hand over to this one.
    pub fn take_over(self) {
        self.tell_keeper(&ToKeeper::TakeOver);
    }

    fn tell_keeper(self, message: &ToKeeper<'_>) {
        self.keeper.with_value(|keeper| {
            if let Some(keeper) = keeper {
                link::tell(keeper, message);
            }
        });
    }

    fn keeper_says(self, message: FromKeeper) {
        match message {
            FromKeeper::Ready { standing, plot } => self.keeper_is_ready(standing, plot),
            FromKeeper::Shelf(shelf) => self.shelf.set(shelf),
            FromKeeper::PutDone => self.saving.update(|saving| {
                saving.standing = Standing::Writing;
                saving.trouble = None;
            }),
            FromKeeper::NotPut(why) => {
                self.not_kept(why);
                self.saving.update(|saving| saving.can_try_again = true);
            }
            FromKeeper::Appended { nth } => self.saving.update(|saving| {
                saving.kept = saving.kept.max(nth);
                saving.trouble = None;
            }),
            FromKeeper::Trouble(why) => self.saving.update(|saving| {
                saving.trouble = Some(why);
                saving.can_try_again = saving.standing == Standing::Writing;
            }),
            FromKeeper::Writer { is_awake } => {
                self.saving.update(|saving| saving.writer_sleeps = !is_awake);
            }
        }
    }

    fn keeper_is_ready(self, standing: Standing, plot: Option<Kept>) {
        let before = self.saving.with_untracked(|saving| saving.standing);
        self.saving.update(|saving| saving.writer_sleeps = false);
        let holds_a_plot = self.book.with_value(Option::is_some);
        let only_read = matches!(before, Standing::ReadOnly | Standing::Outdated);
        match plot {
            // What a person opened meanwhile is not covered; it takes the place of what was kept.
            Some(kept) if !holds_a_plot || only_read => {
                spawn_local(async move {
                    self.reopen(kept).await;
                    self.saving.update(|saving| saving.standing = standing);
                });
            }
            _ => {
                self.saving.update(|saving| saving.standing = standing);
                if standing == Standing::Writing && holds_a_plot && before != Standing::Writing {
                    self.put(&Origin::Kept);
                }
            }
        }
    }

    /// Shows a plot that the keeper has open, unless another one is opened while it is read. Where it
    /// cannot be read nothing is shown, so that nothing can go into its log.
    async fn reopen(self, kept: Kept) {
        let Kept { id, files, lines, decisions, trees, outside, torn } = kept;
        let opened = self.opened.get_untracked();
        let picked = Picked::from(FileSet::from(files));
        let (lines, decisions) = (lines.into_vec(), decisions.into_vec());
        let to_read = ToRead { picked, trees, lines, decisions };
        let read = self.read(to_read).await;
        if self.opened.get_untracked() != opened {
            return;
        }
        let Some(Read { book: Some(book), problems, scores_in_files }) = read else {
            self.show(None, Vec::new());
            if let Some(Read { problems, .. }) = read {
                let name = say!("the plot that is kept in this browser").to_owned();
                self.refused.set(Some(Refused { name, problems }));
            }
            return;
        };
        let newest = book.plot().scores()[scores_in_files..]
            .iter()
            .map(|score| score.scored_on.date())
            .max();
        self.saving.update(|saving| {
            *saving = Saving { standing: saving.standing, outside, torn, ..Saving::default() };
        });
        self.show(Some(book), problems);
        self.follow_clock(newest);
        self.find_step(id);
    }
}
