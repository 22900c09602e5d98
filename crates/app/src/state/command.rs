//! What a person can do to a plot: each command adds a line or a change of a tree, none takes one
//! away.

use std::sync::Arc;

use files::Book;
use language::say;
use leptos::prelude::*;
use plot::{
    Decision, DecisionId, Edit, EditId, EditPart, Fate, Plot, Refusal, ScoreDraft, ScoreId,
    TraitId, TreeChange, TreeId, When,
};

use super::{App, Standing};
use crate::work::clock;

/// A change of the plot.
#[derive(Clone, Debug, PartialEq)]
pub enum Command {
    /// Adds a score; id and moment are put to it.
    Score(NewScore),
    /// Takes a score back: adds a line without value that replaces it.
    Withdraw(ScoreId),
    /// Adds a line that a walk drew up, with its id and moment.
    Line(Box<ScoreDraft>),
    /// Makes a cell of a tree say something else, as a walk drew it up.
    Tree(Box<TreeChange>),
    /// Changes trees, all of it or nothing; id and moment are put to it.
    Edit(NewEdit),
    /// Takes an edit back, or does it again where it was taken back.
    TurnOver(EditId),
    /// Keeps what the person decided on a tree; id and moment are put to it.
    Decide(NewDecision),
    /// Puts a picture into the folder: a path of `Book::photo_path`, and its bytes.
    Photo(String, Vec<u8>),
}

/// A score as a thumb gives it.
#[derive(Clone, Debug, PartialEq)]
pub struct NewScore {
    /// Which tree.
    pub tree: TreeId,
    /// Which trait.
    pub trait_id: TraitId,
    /// The value; none: looked for but could not be scored.
    pub value: Option<f64>,
    /// Name or number of the walk-through.
    pub round: Option<Arc<str>>,
    /// Who.
    pub scorer: Option<Arc<str>>,
    /// Free words.
    pub note: Option<Arc<str>>,
    /// The score that it corrects.
    pub replaces: Option<ScoreId>,
}

/// A decision as a form gives it.
#[derive(Clone, Debug, PartialEq)]
pub struct NewDecision {
    /// On which tree.
    pub tree: TreeId,
    /// What is to become of it; none: it is undecided again.
    pub fate: Option<Fate>,
    /// Why.
    pub reason: Option<Arc<str>>,
}

/// An edit as a form gives it.
#[derive(Clone, Debug, PartialEq)]
pub struct NewEdit {
    /// What it is, as a person says it.
    pub words: String,
    /// What is done.
    pub parts: Vec<EditPart>,
}

impl App {
    /// Does it: adds the line to the book, sends its bytes to the keeper, and counts it as taken.
    /// It is saved when [`Saving::is_all_kept`](super::Saving::is_all_kept) says so.
    ///
    /// # Errors
    /// What the plot refuses, or no open plot; nothing is changed then.
    pub fn perform(self, command: Command) -> Result<(), Refusal> {
        match self.saving.with_untracked(|saving| saving.standing) {
            Standing::ReadOnly => {
                let found = say!("a tab that only reads, since another tab has the plot");
                return Err(Refusal::new("plot", found, say!("the tab that writes")));
            }
            Standing::Outdated => {
                let found = say!("a page that is older than what is kept");
                return Err(Refusal::new("plot", found, say!("the newer version")));
            }
            Standing::Starting | Standing::Writing | Standing::Nowhere => {}
        }
        let id = ScoreId::new(clock::new_id());
        let scored_on = When::at(clock::now());
        let draft = match command {
            Command::Tree(change) => return self.change_tree(*change),
            Command::Photo(path, bytes) => return self.add_photo(path, bytes),
            Command::Decide(NewDecision { tree, fate, reason }) => {
                let id = DecisionId::new(clock::new_id());
                let decision = Decision { id, tree, fate, decided_on: scored_on, reason };
                return self.decide(decision);
            }
            Command::Edit(NewEdit { words, parts }) => {
                let edit = Edit::new(EditId::new(clock::new_id()), words, scored_on, parts);
                return self.edit(|book| book.edit(edit));
            }
            Command::TurnOver(edit) => {
                let id = EditId::new(clock::new_id());
                return self.edit(|book| book.turn_over(&edit, id, scored_on));
            }
            Command::Score(new) => ScoreDraft {
                id,
                tree: new.tree,
                trait_id: new.trait_id,
                value: new.value,
                scored_on,
                round: new.round,
                scorer: new.scorer,
                note: new.note,
                replaces: new.replaces,
            },
            Command::Line(draft) => *draft,
            Command::Withdraw(earlier) => {
                let found = self.plot_now(|plot| {
                    let score = plot.score(plot.score_ix(earlier.as_str())?);
                    let tree = plot.tree(score.tree).id().clone();
                    let trait_id = plot.trait_of(score.trait_ix).id.clone();
                    Some((tree, trait_id, score.round.clone(), score.scorer.clone()))
                });
                let (tree, trait_id, round, scorer) = found.flatten().ok_or_else(|| {
                    Refusal::new("replaces", format!("\"{earlier}\""), say!("a score of this plot"))
                })?;
                ScoreDraft {
                    id,
                    tree,
                    trait_id,
                    value: None,
                    scored_on,
                    round,
                    scorer,
                    note: None,
                    replaces: Some(earlier),
                }
            }
        };
        let day = draft.scored_on.date();
        let line = self.in_book(|book| book.record(draft).map(|(_, line)| line))?;
        self.judge_line(&line);
        self.keep(line);
        self.score_is_dated(day);
        self.changed();
        Ok(())
    }

    fn change_tree(self, change: TreeChange) -> Result<(), Refusal> {
        let line = self.in_book(|book| book.change_tree(change))?;
        self.keep_change(line);
        self.trees_changed();
        self.changed();
        Ok(())
    }

    fn decide(self, decision: Decision) -> Result<(), Refusal> {
        let line = self.in_book(|book| book.decide(decision))?;
        self.keep_decision(line);
        self.decided.update(|decided| *decided += 1);
        Ok(())
    }

    fn edit(self, make: impl FnOnce(&mut Book) -> Result<Vec<u8>, Refusal>) -> Result<(), Refusal> {
        let chosen = self.chosen.get_untracked();
        let before =
            self.plot_now(|plot| (plot.order(), chosen.map(|tree| plot.tree(tree).id().clone())));
        let record = self.in_book(make)?;
        self.keep_edit(record);
        self.trees_changed();
        let known = self.problems.get_untracked();
        if let Some(problems) = self.book_now(|book| book.problems_now(known.clone()))
            && problems != known
        {
            self.problems.set(problems);
        }
        if let Some((order, chosen)) = before {
            if self.plot_now(Plot::order) != Some(order) {
                self.forget_reports();
            }
            let again = chosen.and_then(|id| self.plot_now(|plot| plot.tree_ix(id.as_str()))?);
            if again != self.chosen.get_untracked() {
                self.chosen.set(again);
            }
        }
        self.changed();
        Ok(())
    }

    fn add_photo(self, path: String, bytes: Vec<u8>) -> Result<(), Refusal> {
        self.in_book(|book| book.add_photo(&path, bytes.clone()))?;
        self.keep_file(path, bytes);
        Ok(())
    }

    fn in_book<R>(self, take: impl FnOnce(&mut Book) -> Result<R, Refusal>) -> Result<R, Refusal> {
        let taken = self.book.try_update_value(|book| match book {
            Some(book) => take(book),
            None => Err(no_plot()),
        });
        taken.unwrap_or_else(|| Err(no_plot()))
    }
}

pub(super) fn no_plot() -> Refusal {
    Refusal::new("plot", say!("no open plot"), say!("an open plot"))
}
