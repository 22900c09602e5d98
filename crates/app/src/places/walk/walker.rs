//! The walk that the page holds: commands go through it, and everything on the screen reads it.

use language::say;
use leptos::prelude::*;
use plot::{Plot, ScoreId, TreeIx, When};
use walk::{Bookmark, Command, Content, Setup, Stamp, Unable};

use super::remembered::Remembered;
use super::side::taken_back;
use crate::state::{self, App};
use crate::work::clock;

/// A small handle to the walk, passed from component to component.
#[derive(Clone, Copy)]
pub struct Walker {
    app: App,
    walk: StoredValue<Option<walk::Walk>, LocalStorage>,
    /// Counts the steps.
    steps: RwSignal<u64>,
    /// What was said last, in words, for eyes and screen readers.
    last_said: RwSignal<Option<String>>,
}

impl Walker {
    /// Nobody walks yet.
    pub fn new(app: App) -> Self {
        Self {
            app,
            walk: StoredValue::new_local(None),
            steps: RwSignal::new(0),
            last_said: RwSignal::new(None),
        }
    }

    /// Sets out, or takes up again.
    pub fn begin(self, setup: Setup, bookmark: Option<&Bookmark>) -> Result<(), Unable> {
        let begun =
            self.app.look_up(|plot, look| walk::Walk::begin(plot, &look.rows, setup, bookmark));
        if let Some(walk) = begun.transpose()? {
            self.walk.set_value(Some(walk));
            self.last_said.set(None);
            self.stepped();
        }
        Ok(())
    }

    /// Ends the walk; its scores stay, and so does its setup.
    pub fn leave(self) {
        self.remember(false);
        self.walk.set_value(None);
        self.steps.update(|steps| *steps += 1);
    }

    /// Whether a walk is being walked; follows.
    pub fn is_on_the_way(self) -> bool {
        self.read(|_| ()).is_some()
    }

    /// Reads the walk; follows its steps.
    pub fn read<R>(self, read: impl FnOnce(&walk::Walk) -> R) -> Option<R> {
        self.steps.track();
        self.walk.with_value(|walk| walk.as_ref().map(read))
    }

    /// Reads the walk with the plot; follows the walk's steps.
    pub fn read_on<R>(self, read: impl FnOnce(&walk::Walk, &Plot) -> R) -> Option<R> {
        self.steps.track();
        self.read_on_now(read)
    }

    /// The same without following.
    pub fn read_on_now<R>(self, read: impl FnOnce(&walk::Walk, &Plot) -> R) -> Option<R> {
        self.app.plot_now(|plot| self.walk.with_value(|walk| Some(read(walk.as_ref()?, plot))))?
    }

    /// What was said last; follows.
    pub fn last_said(self) -> Option<String> {
        self.last_said.get()
    }

    /// Does what the walker asks for: the lines go to the book and to the keeper first, and only
    /// then the walk moves on. Gives whether it did; if not, the page says why.
    pub fn say(self, command: Command) -> bool {
        let mut ids = [(); 2].map(|()| ScoreId::new(clock::new_id()));
        if matches!(command, Command::Score(_) | Command::CouldNot(_) | Command::Note(_))
            && let Some(id) = self.photographed()
        {
            ids[0] = id;
        }
        let stamp = Stamp { ids, when: When::at(clock::now()) };
        let planned = self.read_on_now(|walk, plot| walk.plan(plot, command, stamp));
        let step = match planned {
            Some(Ok(step)) => step,
            Some(Err(unable)) => {
                self.last_said.set(Some(say!("Nothing was changed: {unable}.")));
                return false;
            }
            None => return false,
        };
        let lines = step.lines().iter().map(|line| state::Command::Line(Box::new(line.clone())));
        let change =
            step.tree_change().map(|change| state::Command::Tree(Box::new(change.clone())));
        for command in lines.chain(change) {
            if let Err(refusal) = self.app.perform(command) {
                let why = say!(
                    "Not taken: {found}, expected {expected}.",
                    found = refusal.found,
                    expected = refusal.expected
                );
                self.last_said.set(Some(why));
                return false;
            }
        }
        self.walk.update_value(|walk| {
            if let Some(walk) = walk {
                walk.take(step);
            }
        });
        self.stepped();
        true
    }

    /// The same, and says what was said of which tree.
    pub fn say_of_tree(self, command: Command, words: &str) {
        let name = self.here().map(|tree| self.name_of(tree)).unwrap_or_default();
        self.say_that(command, format!("{name}: {words}"));
    }

    /// The same, and says these words when it is done.
    pub fn say_that(self, command: Command, words: String) {
        if self.say(command) {
            self.last_said.set(Some(words));
        }
    }

    /// Keeps a picture for the tree's next score, whose note will name it; on a cell that is scored
    /// already the note names it now.
    pub fn photo(self, ending: &str, bytes: Vec<u8>) {
        let id = self.photographed().map_or_else(clock::new_id, |id| id.to_string());
        let path = self.app.book_now(|book| book.photo_path(&id, ending));
        let Some(kept) = path.map(|path| {
            let path = path?;
            self.app.perform(state::Command::Photo(path.clone(), bytes)).map(|()| path)
        }) else {
            return;
        };
        match kept {
            Ok(path) => {
                let words: Vec<String> = self.noted().into_iter().chain([path]).collect();
                let note = Command::Note(words.join("; "));
                self.say_of_tree(note, say!("photo kept, goes with its score"));
            }
            Err(refusal) => {
                let why = say!(
                    "Not kept: {found}, expected {expected}.",
                    found = refusal.found,
                    expected = refusal.expected
                );
                self.last_said.set(Some(why));
            }
        }
    }

    /// What is noted of the cell that is asked for, or waits to be.
    fn noted(self) -> Option<String> {
        self.walk.with_value(|walk| {
            let walk = walk.as_ref()?;
            let at = walk.cursor()?;
            let said = match walk.content(at) {
                Content::Open => walk.waiting_note(at.stop),
                Content::Scored { note, .. } => note.as_deref(),
                Content::CouldNot { reason } => reason.as_deref(),
            };
            said.map(str::to_owned)
        })
    }

    /// The score that a photo at this tree was taken for, if it is still to come.
    fn photographed(self) -> Option<ScoreId> {
        let waits = self.walk.with_value(|walk| {
            let walk = walk.as_ref()?;
            Some(walk.waiting_note(walk.cursor()?.stop)?.to_owned())
        })?;
        let id = files::photographed(&waits)?;
        let is_new = self.app.plot_now(|plot| plot.score_ix(id).is_none());
        (is_new == Some(true)).then(|| ScoreId::new(id))
    }

    /// Takes the last thing back, and says what it was.
    pub fn undo(self) {
        if let Some(words) = self.read_on_now(taken_back).flatten() {
            self.say_that(Command::Undo, say!("Taken back: {words}"));
        }
    }

    /// Brings again what was taken back last, and says what it is.
    pub fn redo(self) {
        if self.say(Command::Redo) {
            let words = self.read_on_now(taken_back).flatten().unwrap_or_default();
            self.last_said.set(Some(say!("Brought again: {words}")));
        }
    }

    /// What a person calls a tree.
    pub fn name_of(self, tree: TreeIx) -> String {
        self.app.plot_now(|plot| plot.tree(tree).name()).unwrap_or_default()
    }

    fn here(self) -> Option<TreeIx> {
        self.walk.with_value(|walk| walk.as_ref()?.tree())
    }

    fn stepped(self) {
        self.remember(true);
        self.steps.update(|steps| *steps += 1);
    }

    fn remember(self, on_the_way: bool) {
        self.walk.with_value(|walk| {
            if let Some(walk) = walk {
                self.app.plot_now(|plot| Remembered::from(plot, walk, on_the_way).keep(plot));
            }
        });
    }
}
