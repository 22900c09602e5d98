//! The keeper's worker: the only one that touches storage. Every line is written and flushed
//! before it is acknowledged.
//!
//! Each plot is one log: its files as they were put, the record that they are whole, then a record
//! for every line of `scores.csv` and every change of a tree taken since. The shelf is a log of its own: which plots there
//! are, and which one is open. Opening another plot leaves the earlier one on the shelf.

mod journal;
mod lock;
mod plot_log;
mod shelf;
mod store;

use std::cell::{Cell, RefCell};
use std::collections::VecDeque;

use wasm_bindgen::prelude::*;

use super::message::{FromKeeper, Kept, NewPlot, Outside, Standing, ToKeeper};
use judge::link;
use lock::{Grant, Lock};
use plot_log::{Entry, PlotLog};
use shelf::Shelf;
use store::Store;

thread_local! {
    static QUEUE: RefCell<VecDeque<ToKeeper>> = const { RefCell::new(VecDeque::new()) };
    static AT_WORK: Cell<bool> = const { Cell::new(false) };
    static ASKED_TO_HAND_OVER: Cell<bool> = const { Cell::new(false) };
    static KEEPER: RefCell<Option<Keeper>> = const { RefCell::new(None) };
    static LOCK: Lock = Lock::default();
}

/// What the keeper holds while this tab writes.
struct Keeper {
    store: Store,
    shelf: Shelf,
    plot: Option<PlotLog>,
    /// Lines that could not be written yet, with their number.
    waiting: VecDeque<(u64, Entry)>,
}

/// Begins: takes the lock if it is free, and gives back what was kept.
#[wasm_bindgen]
pub async fn keeper_starts() {
    lock::when_asked(|| {
        ASKED_TO_HAND_OVER.set(true);
        if !AT_WORK.get() {
            hand_over();
        }
    });
    let grant = LOCK.with(Lock::clone).try_take().await;
    match Store::open().await {
        Err(_) => say_ready(Standing::Nowhere, None),
        Ok(store) if grant == Grant::Ours => begin(store).await,
        Ok(store) => {
            only_read(&store).await;
            LOCK.with(Lock::clone).wait().await;
            begin(store).await;
        }
    }
}

/// Takes what the page says; one thing after another.
#[wasm_bindgen]
pub fn keeper_hears(data: JsValue) {
    let Some(message) = link::decoded::<ToKeeper>(&data) else { return };
    if matches!(message, ToKeeper::TakeOver) {
        lock::ask_to_hand_over();
        return;
    }
    QUEUE.with_borrow_mut(|queue| queue.push_back(message));
    if !AT_WORK.replace(true) {
        wasm_bindgen_futures::spawn_local(async {
            while let Some(message) = QUEUE.with_borrow_mut(VecDeque::pop_front) {
                take(message).await;
            }
            AT_WORK.set(false);
            if ASKED_TO_HAND_OVER.get() {
                hand_over();
            }
        });
    }
}

/// Gives back what was kept, and writes from now on.
async fn begin(store: Store) {
    match Keeper::open(store).await {
        Ok((keeper, kept)) => {
            KEEPER.set(Some(keeper));
            say_ready(Standing::Writing, kept);
        }
        Err(error) => {
            say_ready(Standing::Nowhere, None);
            trouble("Storage cannot be opened", &error);
        }
    }
}

async fn only_read(store: &Store) {
    let shelf = Shelf::peek(store).await;
    let kept = match shelf.open_id() {
        Some(id) => plot_log::peek(store, id).await.ok().flatten(),
        None => None,
    };
    say_ready(Standing::ReadOnly, kept);
    link::tell_page(&FromKeeper::Shelf(shelf.others()));
}

/// Lets another tab write, once nothing is left to be written here.
fn hand_over() {
    ASKED_TO_HAND_OVER.set(false);
    // Lines that found no room are only in this tab: it must not let go of them.
    if !KEEPER.with_borrow(|keeper| keeper.as_ref().is_some_and(|one| one.waiting.is_empty())) {
        return;
    }
    if KEEPER.take().is_some() {
        LOCK.with(Lock::release);
        link::tell_page(&FromKeeper::Ready { standing: Standing::ReadOnly, plot: None });
        wasm_bindgen_futures::spawn_local(async {
            LOCK.with(Lock::clone).wait().await;
            if let Ok(store) = Store::open().await {
                begin(store).await;
            }
        });
    }
}

async fn take(message: ToKeeper) {
    // Taken out while it works, so that nothing is borrowed across a wait.
    let Some(mut keeper) = KEEPER.take() else { return };
    match keeper.take(message).await {
        Ok(()) => {}
        Err(error) => trouble("This browser could not keep it", &error),
    }
    KEEPER.set(Some(keeper));
}

impl Keeper {
    async fn open(store: Store) -> Result<(Self, Option<Kept>), JsValue> {
        let mut shelf = Shelf::open(&store).await?;
        let (mut plot, mut kept) = (None, None);
        if let Some(id) = shelf.open_id().map(str::to_owned) {
            match PlotLog::open(&store, &id).await? {
                Some((log, found)) => (plot, kept) = (Some(log), Some(found)),
                None => shelf.close(Outside::default())?,
            }
        }
        link::tell_page(&FromKeeper::Shelf(shelf.others()));
        Ok((Self { store, shelf, plot, waiting: VecDeque::new() }, kept))
    }

    async fn take(&mut self, message: ToKeeper) -> Result<(), JsValue> {
        match message {
            ToKeeper::Append { nth, line } => {
                self.waiting.push_back((nth, Entry::Line(line.into_vec())));
                return self.append();
            }
            ToKeeper::Change { nth, line } => {
                self.waiting.push_back((nth, Entry::Change(line.into_vec())));
                return self.append();
            }
            ToKeeper::File { nth, path, bytes } => {
                self.waiting.push_back((nth, Entry::File(path, bytes.into_vec())));
                return self.append();
            }
            ToKeeper::Copied { at_ms } => {
                if let Some(plot) = &mut self.plot {
                    plot.copied(at_ms)?;
                }
                return Ok(());
            }
            ToKeeper::Put(new) => self.put(new).await?,
            ToKeeper::Bring { id } => self.bring(&id).await?,
            ToKeeper::Drop { id } => {
                self.shelf.forget(&id)?;
                self.store.remove(&plot_log::name(&id)).await;
            }
            ToKeeper::Close => self.close()?,
            ToKeeper::TakeOver => {}
        }
        link::tell_page(&FromKeeper::Shelf(self.shelf.others()));
        Ok(())
    }

    /// Writes what waits, oldest first; stops at the first line that finds no room.
    fn append(&mut self) -> Result<(), JsValue> {
        let Some(plot) = &mut self.plot else { return Ok(()) };
        let mut done = None;
        let mut result = Ok(());
        while let Some((nth, entry)) = self.waiting.front() {
            result = plot.append(entry);
            if result.is_err() {
                break;
            }
            done = Some(*nth);
            self.waiting.pop_front();
        }
        if let Some(nth) = done {
            link::tell_page(&FromKeeper::Appended { nth });
        }
        result
    }

    async fn put(&mut self, new: NewPlot) -> Result<(), JsValue> {
        // First of all, so that no line of the new plot can end in the log of the earlier one.
        let closed = self.close();
        self.waiting.clear();
        let put = match closed {
            Ok(()) => PlotLog::put(&self.store, &new).await,
            Err(error) => Err(error),
        };
        match put.and_then(|log| self.shelf.put(&new).map(|()| log)) {
            Ok(log) => {
                self.plot = Some(log);
                link::tell_page(&FromKeeper::PutDone);
            }
            Err(error) => {
                self.store.remove(&plot_log::name(&new.id)).await;
                let why = reason("This browser could not keep the plot", &error);
                link::tell_page(&FromKeeper::NotPut(why));
            }
        }
        Ok(())
    }

    async fn bring(&mut self, id: &str) -> Result<(), JsValue> {
        let Some((log, kept)) = PlotLog::open(&self.store, id).await? else {
            return Err("the plot is not there any more".into());
        };
        self.close()?;
        self.shelf.bring(id)?;
        self.plot = Some(log);
        say_ready(Standing::Writing, Some(kept));
        Ok(())
    }

    fn close(&mut self) -> Result<(), JsValue> {
        let Some(plot) = self.plot.take() else { return Ok(()) };
        self.shelf.close(plot.outside())
    }
}

fn say_ready(standing: Standing, plot: Option<Kept>) {
    link::tell_page(&FromKeeper::Ready { standing, plot });
}

fn trouble(what: &str, error: &JsValue) {
    link::tell_page(&FromKeeper::Trouble(reason(what, error)));
}

fn reason(what: &str, error: &JsValue) -> String {
    let why = js_sys::Reflect::get(error, &"message".into())
        .ok()
        .and_then(|message| message.as_string())
        .or_else(|| error.as_string())
        .unwrap_or_else(|| "no reason given".to_owned());
    format!("{what}: {}.", why.trim_end_matches('.'))
}
