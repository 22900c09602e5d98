//! Whose turn it is to write: this tab begins, only reads, hands over, and hears whether the tab
//! that writes is still awake.

use language::say;
use std::cell::Cell;

use super::lock::{self, Call, Grant, Lock};
use super::store::{Closed, Store};
use super::{AT_WORK, KEEPER, Keeper, plot_log, say_ready, shelf, trouble};
use crate::work::message::{FromKeeper, Kept, OnShelf, Standing};
use judge::link;

/// How often a tab that reads asks the other for a sign.
const SIGN_EVERY_MS: i32 = 1_500;
/// So many signs may be missed before the other counts as asleep.
const SIGNS_MISSED: u32 = 3;
/// How long it waits for a log that a tab still holds which is on its way out.
const HELD_MS: i32 = 300;

thread_local! {
    static LOCK: Lock = Lock::default();
    static ASKED_TO_HAND_OVER: Cell<bool> = const { Cell::new(false) };
    static IS_READING: Cell<bool> = const { Cell::new(false) };
    static MISSED: Cell<u32> = const { Cell::new(0) };
}

/// Begins: takes the lock if it is free, and gives back what was kept.
pub async fn start() {
    lock::when_called(|call| match call {
        Call::HandOver => {
            ASKED_TO_HAND_OVER.set(true);
            if !AT_WORK.get() {
                hand_over_if_asked();
            }
        }
        Call::IsAnyoneThere if KEEPER.with_borrow(Option::is_some) || AT_WORK.get() => {
            lock::give_a_sign();
        }
        Call::IsAnyoneThere => {}
        Call::Here => {
            if MISSED.replace(0) >= SIGNS_MISSED {
                link::tell_page(&FromKeeper::Writer { is_awake: true });
            }
        }
    });
    if LOCK.with(Lock::clone).try_take().await == Grant::Theirs {
        if !only_read().await {
            return;
        }
        wait_for_turn().await;
    }
    begin().await;
}

/// Lets another tab write if one asked, once nothing is left to be written here.
pub fn hand_over_if_asked() {
    if !ASKED_TO_HAND_OVER.replace(false) {
        return;
    }
    // Lines that found no room are only in this tab: it must not let go of them.
    if !KEEPER.with_borrow(|keeper| keeper.as_ref().is_some_and(|one| one.waiting.is_empty())) {
        return;
    }
    if KEEPER.take().is_some() {
        LOCK.with(Lock::release);
        link::tell_page(&FromKeeper::Ready { standing: Standing::ReadOnly, plot: None });
        wasm_bindgen_futures::spawn_local(async {
            wait_for_turn().await;
            begin().await;
        });
    }
}

/// Gives back what was kept, and writes from now on.
async fn begin() {
    let mut is_told = false;
    loop {
        match Keeper::open().await {
            Ok((keeper, kept)) => {
                KEEPER.set(Some(keeper));
                return say_ready(Standing::Writing, kept);
            }
            // A tab that was closed a moment ago, or one without locks.
            Err(Closed::Held) => {
                if !is_told {
                    is_told = only_read().await;
                }
                judge::pause(HELD_MS).await;
            }
            Err(Closed::Newer) => return leave_alone(),
            Err(Closed::Refused(error)) => {
                say_ready(Standing::Nowhere, None);
                return trouble(say!("Storage cannot be opened"), &error);
            }
        }
    }
}

/// What was kept is not ours to touch: another version may have it.
fn leave_alone() {
    LOCK.with(Lock::release);
    say_ready(Standing::Outdated, None);
}

/// Shows what is kept, as it stands on disk. False: it was left alone.
async fn only_read() -> bool {
    match peeked().await {
        Ok((kept, shelf)) => {
            say_ready(Standing::ReadOnly, kept);
            link::tell_page(&FromKeeper::Shelf(shelf));
            true
        }
        Err(Closed::Newer) => {
            say_ready(Standing::Outdated, None);
            false
        }
        Err(_) => {
            say_ready(Standing::ReadOnly, None);
            true
        }
    }
}

async fn peeked() -> Result<(Option<Kept>, Vec<OnShelf>), Closed> {
    let store = Store::open_to_read(shelf::FILE).await?;
    let shelf = shelf::Shelf::peek(&store).await?;
    let kept = match shelf.open_id() {
        Some(id) => plot_log::peek(&store, id).await?,
        None => None,
    };
    Ok((kept, shelf.others()))
}

/// Waits for the lock, and tells meanwhile whether the tab that has it is awake.
async fn wait_for_turn() {
    MISSED.set(0);
    if !IS_READING.replace(true) {
        wasm_bindgen_futures::spawn_local(async {
            while IS_READING.get() {
                lock::ask_for_a_sign();
                judge::pause(SIGN_EVERY_MS).await;
                MISSED.set(MISSED.get().saturating_add(1));
                if MISSED.get() == SIGNS_MISSED && IS_READING.get() {
                    link::tell_page(&FromKeeper::Writer { is_awake: false });
                }
            }
        });
    }
    LOCK.with(Lock::clone).wait().await;
    IS_READING.set(false);
}
