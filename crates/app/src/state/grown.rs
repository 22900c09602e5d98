//! How strongly trees grow: the page's side of the judge's models of vigour.
//!
//! They run only while the screen of vigour is shown. A model may take seconds, in which the judge
//! hears nothing, so that stopping it ends the judge; it gets the plot anew when it is next asked.

use std::sync::Arc;

use judge::{FromJudge, Growing, Grown, ToJudge};
use leptos::prelude::*;
use leptos::task::spawn_local;

use super::App;
use crate::route::Route;

/// Answers that are kept, so that one can look to and fro between trends.
const KEPT: usize = 6;

/// What the judge found of vigour.
#[derive(Clone, Debug)]
pub struct KnownGrown {
    /// What was asked.
    pub growing: Growing,
    /// What was found; none: the plot cannot be read.
    pub found: Option<Arc<Grown>>,
    /// The plot's version of which it is; older than [`App::version`]: scores came since.
    pub version: u64,
}

/// Models in the making.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct GrowingNow {
    /// What is asked.
    pub growing: Growing,
    /// Models fitted.
    pub done: u64,
    /// Models in all, at most; 0: not yet known.
    pub of: u64,
}

impl App {
    /// The newest answer to a question of vigour, if there is one; follows.
    pub fn grown(self, growing: Growing) -> Option<KnownGrown> {
        self.grown.with(|known| known.iter().find(|one| one.growing == growing).cloned())
    }

    /// Asks a question of vigour in place of any other, also after it was stopped.
    pub fn ask_grown(self, growing: Growing) {
        if !self.is_growing(growing) {
            self.stop_growing();
            self.grow_wanted.set_value(Some(growing));
            self.judge_when_painted();
        }
    }

    /// Stops the models that run; they begin again when they are asked for.
    pub fn stop_growing(self) {
        self.grow_wanted.set_value(None);
        if self.growing_now.with_untracked(Option::is_some) {
            self.growing_now.set(None);
            self.end_judge();
            self.judge_when_painted();
        }
    }

    /// Ends them when nobody looks any more.
    pub(super) fn grow_only_while_seen(self) {
        Effect::new(move || {
            let is_seen = self.route.with(|route| matches!(route, Route::Vigour { .. }));
            if !is_seen {
                self.stop_growing();
            }
        });
    }

    /// Forgets what is known by the trees' place in the list.
    pub(super) fn forget_grown(self) {
        self.growing_now.set(None);
        self.grown.update(Vec::clear);
    }

    /// Another plot is open.
    pub(super) fn want_no_growing(self) {
        self.grow_wanted.set_value(None);
        self.forget_grown();
    }

    /// Begins what is asked and not known; gives whether there is any.
    pub(super) fn grow_next(self) -> bool {
        let is_seen = self.route.with_untracked(|route| matches!(route, Route::Vigour { .. }));
        let Some(growing) = self.grow_wanted.get_value().filter(|_| is_seen) else { return false };
        let version = self.version.get_untracked();
        let is_known = self.grown.with_untracked(|known| {
            known.iter().any(|one| one.growing == growing && one.version == version)
        });
        if is_known {
            return false;
        }
        self.start_judge();
        self.growing_now.set(Some(GrowingNow { growing, done: 0, of: 0 }));
        spawn_local(async move {
            if self.hand_plot().await && self.is_growing(growing) {
                let version = self.version.get_untracked();
                self.tell_judge(&ToJudge::Grow { growing, version });
            }
        });
        true
    }

    /// Takes in what the judge says of vigour.
    pub(super) fn grown_says(self, message: FromJudge) {
        match message {
            FromJudge::Grows { growing, done, of } if self.is_growing(growing) => {
                self.growing_now.set(Some(GrowingNow { growing, done, of }));
            }
            FromJudge::Grown { growing, version, found } if self.is_growing(growing) => {
                self.growing_now.set(None);
                let found = found.map(|found| Arc::new(*found));
                self.grown.update(|known| {
                    known.retain(|one| one.growing != growing && one.version == version);
                    if known.len() == KEPT {
                        known.remove(0);
                    }
                    known.push(KnownGrown { growing, found, version });
                });
                self.judge_next();
            }
            // Of an earlier plot, or stopped.
            _ => {}
        }
    }

    fn is_growing(self, growing: Growing) -> bool {
        self.growing_now.with_untracked(|now| now.is_some_and(|now| now.growing == growing))
    }
}
