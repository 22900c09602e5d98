//! The keeper's worker: the only one that touches storage. Every line is written and flushed
//! before it is acknowledged.
//!
//! Each plot is one log: its files as they were put, the record that they are whole, then a record
//! for every line of `scores.csv`, every change of a tree and every picture taken since. The shelf
//! is a log of its own: which plots there are, and which one is open. Opening another plot leaves
//! the earlier one on the shelf.

mod lock;
mod plot_log;
mod shelf;
mod store;
mod turns;

use language::say;
use std::cell::{Cell, RefCell};
use std::collections::VecDeque;

use wasm_bindgen::prelude::*;

use super::message::{FromKeeper, Kept, NewPlot, Outside, Standing, ToKeeper};
use judge::link;
use plot_log::{Entry, PlotLog};
use shelf::Shelf;
use store::{Closed, Store, name_of};

/// How long it waits before it tries again to write what found no room.
const TRY_AGAIN_MS: i32 = 3_000;

thread_local! {
    /// Messages as they came: a plot's files are lent from there, not copied.
    static QUEUE: RefCell<VecDeque<Vec<u8>>> = const { RefCell::new(VecDeque::new()) };
    static AT_WORK: Cell<bool> = const { Cell::new(false) };
    static WILL_TRY_AGAIN: Cell<bool> = const { Cell::new(false) };
    static KEEPER: RefCell<Option<Keeper>> = const { RefCell::new(None) };
}

/// What the keeper holds while this tab writes.
struct Keeper {
    store: Store,
    shelf: Shelf,
    plot: Option<PlotLog>,
    /// What could not be written yet, with its number.
    waiting: VecDeque<(u64, Entry)>,
}

/// Begins: takes the lock if it is free, and gives back what was kept.
#[wasm_bindgen]
pub async fn keeper_starts() {
    turns::start().await;
}

/// Takes what the page says; one thing after another.
#[wasm_bindgen]
pub fn keeper_hears(data: JsValue) {
    let Some(bytes) = link::bytes(&data) else { return };
    match link::message::<ToKeeper<'_>>(&bytes) {
        Some(ToKeeper::TakeOver) => lock::ask_to_hand_over(),
        Some(_) => hear(bytes),
        None => {}
    }
}

fn hear(message: Vec<u8>) {
    QUEUE.with_borrow_mut(|queue| queue.push_back(message));
    if !AT_WORK.replace(true) {
        wasm_bindgen_futures::spawn_local(async {
            while let Some(message) = QUEUE.with_borrow_mut(VecDeque::pop_front) {
                if let Some(message) = link::message(&message) {
                    take(message).await;
                }
            }
            AT_WORK.set(false);
            turns::hand_over_if_asked();
        });
    }
}

async fn take(message: ToKeeper<'_>) {
    // Taken out while it works, so that nothing is borrowed across a wait.
    let Some(mut keeper) = KEEPER.take() else { return };
    match keeper.take(message).await {
        Ok(()) => {}
        Err(error) => {
            trouble(say!("This browser could not keep it"), &error);
            if !keeper.waiting.is_empty() {
                try_again_later();
            }
        }
    }
    KEEPER.set(Some(keeper));
}

fn try_again_later() {
    if !WILL_TRY_AGAIN.replace(true) {
        wasm_bindgen_futures::spawn_local(async {
            judge::pause(TRY_AGAIN_MS).await;
            WILL_TRY_AGAIN.set(false);
            hear(link::written(&ToKeeper::Again));
        });
    }
}

impl Keeper {
    async fn open() -> Result<(Self, Option<Kept>), Closed> {
        let store = Store::open(shelf::FILE).await?;
        let mut shelf = Shelf::open(&store).await?;
        let (mut plot, mut kept) = (None, None);
        if let Some(id) = shelf.open_id().map(str::to_owned) {
            match PlotLog::open(&store, &id).await? {
                Some((log, found)) => (plot, kept) = (Some(log), Some(found)),
                None => shelf.close(Outside::default()).await?,
            }
        }
        link::tell_page(&FromKeeper::Shelf(shelf.others()));
        Ok((Self { store, shelf, plot, waiting: VecDeque::new() }, kept))
    }

    async fn take(&mut self, message: ToKeeper<'_>) -> Result<(), JsValue> {
        match message {
            ToKeeper::Append { nth, line } => {
                return self.add(nth, Entry::Line(line.to_vec())).await;
            }
            ToKeeper::Change { nth, line } => {
                return self.add(nth, Entry::Change(line.to_vec())).await;
            }
            ToKeeper::Edit { nth, record } => {
                return self.add(nth, Entry::Edit(record.to_vec())).await;
            }
            ToKeeper::Decision { nth, line } => {
                return self.add(nth, Entry::Decision(line.to_vec())).await;
            }
            ToKeeper::File { nth, path, bytes } => {
                return self.add(nth, Entry::File(path, bytes.to_vec())).await;
            }
            ToKeeper::Again => return self.append().await,
            ToKeeper::Copied { at_ms } => {
                if let Some(plot) = &mut self.plot {
                    plot.copied(at_ms).await?;
                }
                return Ok(());
            }
            ToKeeper::Put(new) => self.put(new).await?,
            ToKeeper::Bring { id } => self.bring(&id).await?,
            ToKeeper::Drop { id } => self.forget(&id).await?,
            ToKeeper::Close => self.close().await?,
            ToKeeper::TakeOver => {}
        }
        link::tell_page(&FromKeeper::Shelf(self.shelf.others()));
        Ok(())
    }

    async fn add(&mut self, nth: u64, entry: Entry) -> Result<(), JsValue> {
        self.waiting.push_back((nth, entry));
        self.append().await
    }

    /// Writes what waits, oldest first; stops at the first line that finds no room.
    async fn append(&mut self) -> Result<(), JsValue> {
        let Some(plot) = &mut self.plot else { return Ok(()) };
        let mut done = None;
        let mut result = Ok(());
        while let Some((nth, entry)) = self.waiting.front() {
            result = plot.append(entry).await;
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

    async fn put(&mut self, new: NewPlot<'_>) -> Result<(), JsValue> {
        // First of all, so that no line of the new plot can end in the log of the earlier one.
        let earlier = self.shelf.open_id().map(str::to_owned);
        let closed = self.close().await;
        self.waiting.clear();
        match self.written(closed, &new).await {
            Ok(log) => {
                self.plot = Some(log);
                link::tell_page(&FromKeeper::PutDone);
                if let Some(id) = earlier.filter(|_| new.takes_place) {
                    self.forget(&id).await?;
                }
            }
            Err(error) => {
                self.store.remove(&plot_log::name(&new.id)).await;
                let why = reason(say!("This browser could not keep the plot"), &error);
                link::tell_page(&FromKeeper::NotPut(why));
            }
        }
        Ok(())
    }

    async fn written(
        &mut self,
        closed: Result<(), JsValue>,
        new: &NewPlot<'_>,
    ) -> Result<PlotLog, JsValue> {
        closed?;
        let log = PlotLog::put(&self.store, new).await?;
        self.shelf.put(new).await?;
        Ok(log)
    }

    async fn bring(&mut self, id: &str) -> Result<(), JsValue> {
        let (log, kept) = match PlotLog::open(&self.store, id).await {
            Ok(Some(found)) => found,
            Ok(None) => return Err(say!("the plot is not there any more").into()),
            Err(closed) => return Err(closed.into()),
        };
        self.close().await?;
        self.shelf.bring(id).await?;
        self.plot = Some(log);
        say_ready(Standing::Writing, Some(kept));
        Ok(())
    }

    async fn forget(&mut self, id: &str) -> Result<(), JsValue> {
        self.shelf.forget(id).await?;
        self.store.remove(&plot_log::name(id)).await;
        Ok(())
    }

    async fn close(&mut self) -> Result<(), JsValue> {
        let Some(plot) = self.plot.take() else { return Ok(()) };
        self.shelf.close(plot.outside()).await
    }
}

fn say_ready(standing: Standing, plot: Option<Kept>) {
    link::tell_page(&FromKeeper::Ready { standing, plot });
}

fn trouble(what: &str, error: &JsValue) {
    link::tell_page(&FromKeeper::Trouble(reason(what, error)));
}

fn reason(what: &str, error: &JsValue) -> String {
    if name_of(error).as_deref() == Some("QuotaExceededError") {
        return say!("{what}: there is no room left for it.");
    }
    let why = js_sys::Reflect::get(error, &"message".into())
        .ok()
        .and_then(|message| message.as_string())
        .or_else(|| error.as_string())
        .unwrap_or_else(|| say!("no reason given").to_owned());
    say!("{what}: {why}.", why = why.trim_end_matches('.'))
}
