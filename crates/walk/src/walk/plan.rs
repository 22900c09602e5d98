//! Commands of a walker, and the steps that they come to: planned first, taken when the lines are
//! safe.

use std::sync::Arc;

use language::say;
use plot::{Plot, ScoreDraft, ScoreId, TreeCell, TreeChange, When};

use super::fact::Fact;
use super::ledger::{Act, Content, Entry, Line, Told, entries};
use super::{Cursor, Walk};

/// What a walker asks for.
#[derive(Clone, Debug, PartialEq)]
pub enum Command {
    /// The asked trait has this value at this tree.
    Score(f64),
    /// The asked trait cannot be scored at this tree, and why.
    CouldNot(String),
    /// Words for this tree's next score; for a cell that is already scored, added to that score.
    /// Empty words take a waiting note away.
    Note(String),
    /// A fact of the tree itself, no score.
    Tell(Fact),
    /// On to the next open tree; this one is left behind.
    Skip,
    /// To a stop of the route.
    GoTo(usize),
    /// To one of the walk's traits at this tree.
    GoToTrait(usize),
    /// To the first tree that was left behind.
    GoToLeftBehind,
    /// Takes the last score, correction, fact or skip back.
    Undo,
    /// Brings again what was taken back last.
    Redo,
}

/// What the lines of one command are written with: an id never used before for each, and the
/// moment.
#[derive(Clone, Debug, PartialEq)]
pub struct Stamp {
    /// Two ids; most commands use one or none.
    pub ids: [ScoreId; 2],
    /// The moment.
    pub when: When,
}

/// Why a walk or a step of it cannot be.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Unable {
    /// A walk without traits.
    #[error("{}", say!("choose what to score first"))]
    NothingToScore,
    /// A route without trees.
    #[error("{}", say!("no standing tree is on this route"))]
    NobodyStands,
    /// A score behind the last tree.
    #[error("{}", say!("the walk is at its end: no tree is asked for"))]
    AtTheEnd,
    /// Nothing to take back.
    #[error("{}", say!("there is nothing to take back"))]
    NothingToUndo,
    /// Nothing to bring again.
    #[error("{}", say!("there is nothing to bring again"))]
    NothingToRedo,
    /// A stop that the route does not have, or a trait that the walk does not score.
    #[error("{}", say!("the walk has no such stop"))]
    NoSuchStop,
    /// A score or a skip of a tree that was found dead or of an empty place.
    #[error("{}", say!("nothing stands here any more, so nothing is scored"))]
    Gone,
    /// A fact that is known already.
    #[error("{}", say!("that is written down already"))]
    KnownAlready,
    /// Scoring blind without a name: the two scorers could not be told apart.
    #[error("{}", say!("say who scores first: without a name two scorers cannot be told apart"))]
    BlindWithoutName,
    /// No tree was left behind.
    #[error("{}", say!("no tree was left behind"))]
    NobodyLeftBehind,
}

/// What a command comes to: lines to append, and what the walk is to make of it then.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    lines: Vec<ScoreDraft>,
    tree_change: Option<TreeChange>,
    change: Change,
}

#[derive(Clone, Debug, PartialEq)]
enum Change {
    Cell(Entry),
    Told(Told),
    Note(usize, String),
    Skip,
    Unskip,
    Reskip,
    GoTo(Cursor),
}

impl Step {
    /// The lines to append, in this order; none for a step that changes no score. All of them are
    /// to be safe before the walk takes the step.
    pub fn lines(&self) -> &[ScoreDraft] {
        &self.lines
    }
    /// The change of a tree to keep before the walk takes the step; a step has either lines or a
    /// change.
    pub fn tree_change(&self) -> Option<&TreeChange> {
        self.tree_change.as_ref()
    }
}

impl Walk {
    /// What a command comes to; nothing is changed yet.
    ///
    /// # Errors
    /// A command that has nothing to act on, see [`Unable`].
    pub fn plan(&self, plot: &Plot, command: Command, stamp: Stamp) -> Result<Step, Unable> {
        let here = || self.cursor.ok_or(Unable::AtTheEnd);
        let standing = || match here()? {
            at if self.ledger.is_gone(at.stop) => Err(Unable::Gone),
            at => Ok(at),
        };
        match command {
            Command::Score(value) => {
                let at = standing()?;
                let note = self.waiting_note(at.stop).map(Into::into);
                Ok(self.change(at, Content::Scored { value, note }, stamp))
            }
            Command::CouldNot(reason) => {
                let at = standing()?;
                let words = [Some(reason.trim()), self.waiting_note(at.stop)];
                let words: Vec<&str> =
                    words.into_iter().flatten().filter(|words| !words.is_empty()).collect();
                let reason = (!words.is_empty()).then(|| words.join("; ").into());
                Ok(self.change(at, Content::CouldNot { reason }, stamp))
            }
            Command::Note(words) => Ok(self.note(standing()?, words.trim(), stamp)),
            Command::Skip => here().map(|_| Step::still(Change::Skip)),
            Command::GoTo(stop) if stop >= self.route.stops.len() => Err(Unable::NoSuchStop),
            Command::GoTo(stop) => Ok(Step::still(Change::GoTo(self.ledger.first_slot(stop)))),
            Command::Tell(fact) => self.tell(plot, here()?.stop, fact, stamp.when),
            Command::GoToTrait(slot) if slot >= self.setup.traits.len() => Err(Unable::NoSuchStop),
            Command::GoToTrait(slot) => {
                Ok(Step::still(Change::GoTo(Cursor { stop: here()?.stop, slot })))
            }
            Command::GoToLeftBehind => self
                .ledger
                .open_from(0)
                .map(|at| Step::still(Change::GoTo(at)))
                .ok_or(Unable::NobodyLeftBehind),
            Command::Undo => {
                let act = self.ledger.undo().ok_or(Unable::NothingToUndo)?;
                Ok(self.again(plot, act, Change::Unskip, stamp))
            }
            Command::Redo => {
                let act = self.ledger.redo().ok_or(Unable::NothingToRedo)?;
                Ok(self.again(plot, act, Change::Reskip, stamp))
            }
        }
    }

    /// Takes a step whose lines are safe. A step belongs to the walk as it was when it was planned.
    pub fn take(&mut self, step: Step) {
        self.lines += step.lines.len() + usize::from(step.tree_change.is_some());
        match step.change {
            Change::Cell(entry) => {
                if !entry.to.is_open() {
                    self.notes.remove(&entry.at.stop);
                }
                if let Some(led) = self.ledger.take(entry) {
                    self.follow(led);
                }
            }
            Change::Told(told) => {
                if let Some(led) = self.ledger.take_told(told) {
                    self.follow(led);
                }
            }
            Change::Note(stop, words) if words.is_empty() => {
                self.notes.remove(&stop);
            }
            Change::Note(stop, words) => {
                self.notes.insert(stop, words);
            }
            Change::Skip => {
                if let Some(at) = self.cursor {
                    self.ledger.skip(at);
                    self.cursor = self.ledger.open_from(at.stop + 1);
                }
            }
            Change::Unskip => self.cursor = self.ledger.unskip().or(self.cursor),
            Change::Reskip => {
                let from = self.ledger.reskip();
                self.cursor = from.and_then(|at| self.ledger.open_from(at.stop + 1));
            }
            Change::GoTo(at) => self.cursor = Some(at),
        }
    }

    /// An act that was undone or is to be undone, as a step of its own.
    fn again(&self, plot: &Plot, act: Act, skip: Change, stamp: Stamp) -> Step {
        match act {
            Act::Said { at, to, .. } => self.change(at, to, stamp),
            Act::Told { stop, cell, to, .. } => {
                self.change_of_tree(plot, stop, cell, to, stamp.when)
            }
            Act::Skipped(_) => Step::still(skip),
        }
    }

    fn tell(&self, plot: &Plot, stop: usize, fact: Fact, when: When) -> Result<Step, Unable> {
        let (cell, to) = fact.on(plot, self.route.stops[stop], when).ok_or(Unable::KnownAlready)?;
        Ok(self.change_of_tree(plot, stop, cell, to, when))
    }

    /// The change that makes a cell of a tree's line say something else.
    fn change_of_tree(
        &self,
        plot: &Plot,
        stop: usize,
        cell: TreeCell,
        to: Arc<str>,
        changed_on: When,
    ) -> Step {
        let from: Arc<str> = plot.cell_of(self.route.stops[stop], cell).into();
        let told = Told { stop, cell, from: from.clone(), to: to.clone(), own: true };
        let tree_change = Some(TreeChange {
            tree: self.tree_ids[stop].clone(),
            cell,
            from,
            to,
            changed_on,
            round: Some(self.setup.round.clone()),
            scorer: self.setup.scorer.clone(),
            after: plot.scores().last().map(|score| score.id.clone()),
        });
        Step { lines: Vec::new(), tree_change, change: Change::Told(told) }
    }

    /// A note waits for the next score of its tree, or is added to the score that stands.
    fn note(&self, at: Cursor, words: &str, stamp: Stamp) -> Step {
        let note = (!words.is_empty()).then(|| words.into());
        match self.ledger.own(at) {
            Content::Open => Step::still(Change::Note(at.stop, words.to_owned())),
            Content::Scored { value, .. } => {
                self.change(at, Content::Scored { value: *value, note }, stamp)
            }
            Content::CouldNot { .. } => self.change(at, Content::CouldNot { reason: note }, stamp),
        }
    }

    /// The lines that make a cell say something else.
    fn change(&self, at: Cursor, to: Content, stamp: Stamp) -> Step {
        let Stamp { ids: [first, second], when } = stamp;
        let live = self.ledger.live(at).cloned();
        let mut line = self.draft(at, first, when);
        line.replaces = live.clone();
        let lines = match &to {
            Content::Open => vec![line],
            Content::Scored { value, note } => {
                (line.value, line.note) = (Some(*value), note.clone());
                vec![line]
            }
            // A line without value that replaces another only withdraws it: the reason needs a
            // line of its own.
            Content::CouldNot { reason } if live.is_some() => {
                let mut fresh = self.draft(at, second, when);
                fresh.note = reason.clone();
                vec![line, fresh]
            }
            Content::CouldNot { reason } => {
                line.note = reason.clone();
                vec![line]
            }
        };
        let taken: Vec<Line> = lines
            .iter()
            .map(|line| Line {
                at,
                id: line.id.clone(),
                value: line.value,
                note: line.note.clone(),
                replaces: line.replaces.clone(),
                when,
                own: true,
            })
            .collect();
        // The same reading as after a reload: what is written is what is meant.
        let entry = entries(&taken).pop().unwrap_or(Entry {
            at,
            to,
            live: None,
            replaces: None,
            own: true,
        });
        Step { lines, tree_change: None, change: Change::Cell(entry) }
    }
}

impl Step {
    fn still(change: Change) -> Self {
        Self { lines: Vec::new(), tree_change: None, change }
    }
}
