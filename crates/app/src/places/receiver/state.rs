//! The positions on their way in.

use std::sync::Arc;

use files::list::{Positions, Survey, likely_walk, read_positions, walked};
use language::say;
use leptos::prelude::*;
use plot::{EditPart, Problem};

use crate::parts::Turn;
use crate::places::intake::Taken;
use crate::state::{App, Command, NewEdit};

/// Positions on their way in.
#[derive(Clone, Copy)]
pub(super) struct Receiver {
    pub(super) app: App,
    /// What was read.
    pub(super) read: RwSignal<Option<Arc<Read>>>,
    /// In which order the places were walked.
    pub(super) places: RwSignal<String>,
    /// What is wrong with that order.
    pub(super) faults: RwSignal<Vec<Problem>>,
    /// The positions laid over the plan.
    pub(super) survey: RwSignal<Option<Arc<Survey>>>,
    pub(super) trouble: RwSignal<Option<String>>,
    /// What was taken last.
    pub(super) taken: RwSignal<Option<Taken>>,
    turn: Turn,
}

/// What was read of a log or a list.
pub(super) struct Read {
    pub(super) name: String,
    pub(super) positions: Positions,
}

impl Receiver {
    pub(super) fn new(app: App) -> Self {
        let receiver = Self {
            app,
            read: RwSignal::new(None),
            places: RwSignal::new(String::new()),
            faults: RwSignal::new(Vec::new()),
            survey: RwSignal::new(None),
            trouble: RwSignal::new(None),
            taken: RwSignal::new(None),
            turn: Turn::default(),
        };
        Effect::new(move || {
            app.version();
            receiver.read.track();
            receiver.places.track();
            // The first look at new positions waits for nobody.
            match receiver.survey.with_untracked(Option::is_some) {
                true => receiver.turn.after_keys(move || receiver.lay()),
                false => {
                    receiver.turn.next();
                    receiver.lay();
                }
            }
        });
        receiver
    }

    /// Reads positions in place of those before.
    pub(super) fn take_in(self, name: String, bytes: Vec<u8>) {
        self.put_away();
        self.trouble.set(None);
        self.taken.set(None);
        let positions = read_positions(&name, &bytes);
        let places = match positions.places.as_str() {
            "" => self.app.plot_now(|plot| likely_walk(plot, positions.read.fixes.len())),
            told => Some(told.to_owned()),
        };
        self.places.set(places.unwrap_or_default());
        self.read.set(Some(Arc::new(Read { name, positions })));
    }

    pub(super) fn put_away(self) {
        self.read.set(None);
        self.survey.set(None);
        self.faults.set(Vec::new());
        self.places.set(String::new());
    }

    pub(super) fn name(self) -> String {
        self.read.with(|read| read.as_ref().map(|read| read.name.clone()).unwrap_or_default())
    }

    /// How many positions there are.
    pub(super) fn count(self) -> usize {
        self.read.with(|read| read.as_ref().map_or(0, |read| read.positions.read.fixes.len()))
    }

    /// Takes an edit of them.
    pub(super) fn take(self, parts: Vec<EditPart>, words: String, said: String) {
        match self.app.perform(Command::Edit(NewEdit { words, parts })) {
            Ok(()) => {
                self.trouble.set(None);
                self.taken.set(Taken::last(self.app, said));
            }
            Err(refusal) => self.trouble.set(Some(say!("Nothing was taken: {refusal}."))),
        }
    }

    /// Lays the positions over the plan, as far as places are given to them.
    fn lay(self) {
        let Some(read) = self.read.get_untracked() else { return };
        let fixes = &read.positions.read.fixes;
        let places = self.places.get_untracked();
        if fixes.is_empty() || places.trim().is_empty() {
            self.faults.set(Vec::new());
            return self.survey.set(None);
        }
        match walked(fixes, &places) {
            Ok(walk) => {
                self.faults.set(Vec::new());
                let survey = self.app.plot_now(|plot| Arc::new(Survey::new(plot, &walk)));
                self.survey.set(survey);
            }
            Err(faults) => {
                self.faults.set(faults);
                self.survey.set(None);
            }
        }
    }
}
