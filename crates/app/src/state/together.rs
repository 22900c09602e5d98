//! Bringing another folder of the open plot together with it: first looked at, then taken.

use std::collections::BTreeMap;

use files::{Book, Choice, Conflict, FileSet, Merged};
use language::say;
use leptos::prelude::*;
use plot::{Plot, Problem, Weight};
use serde_bytes::ByteBuf;

use super::reading::{Read, ToRead};
use super::{App, Origin, Refused};
use crate::work::message::OfTrees;
use crate::work::pick::Picked;

/// What two folders of one plot make, before a person has taken it.
#[derive(Clone, Debug, PartialEq)]
pub struct Together {
    /// The files of both.
    pub files: FileSet,
    /// Lines that are not the same in both.
    pub conflicts: Vec<Conflict>,
    /// By file: lines that the open plot did not have.
    pub added: BTreeMap<String, usize>,
    /// What these lines are about: walks and trees.
    pub news: NewsSaid,
    /// Rules that the two together break, though neither does alone.
    pub faults: Vec<Problem>,
}

/// What another folder knows, in words.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct NewsSaid {
    /// New scores: when, of what, by whom, how many.
    pub walks: Vec<[String; 4]>,
    /// New lines that correct or withdraw others.
    pub not_standing: usize,
    /// New trees by what a person calls them.
    pub trees: Vec<String>,
}

impl App {
    /// What the open plot and another folder of it make; none, and [`App::refused`](App) says why,
    /// where they cannot be made one.
    pub async fn bring_together(self, picked: Picked) -> Option<Together> {
        self.refused.set(None);
        let name = picked.name.clone();
        let refuse = |problems| self.refused.set(Some(Refused { name: name.clone(), problems }));
        let Read { book, problems, .. } = self.read(picked).await?;
        let is_sound = problems.iter().all(|problem| problem.weight != Weight::Fault);
        let Some(theirs) = book.filter(|_| is_sound) else {
            refuse(problems);
            return None;
        };
        let news = self.plot_now(|ours| said(ours, theirs.plot()))?;
        match self.book_now(|ours| files::merge(ours.files(), theirs.files()))? {
            Ok(Merged { files, conflicts, added }) => {
                let faults = self.faults_of(&files).await?;
                Some(Together { files, conflicts, added, news, faults })
            }
            Err(problems) => {
                refuse(problems);
                None
            }
        }
    }

    /// What the merged files break that the open plot does not; none: the person stopped it.
    async fn faults_of(self, merged: &FileSet) -> Option<Vec<Problem>> {
        let Read { problems, .. } = self.read(ToRead::from(merged.clone())).await?;
        let is_new = |one: &Problem| one.weight == Weight::Fault;
        let before = self.problems.with_untracked(|all| all.iter().filter(|it| is_new(it)).count());
        let faults: Vec<Problem> = problems.into_iter().filter(is_new).collect();
        Some(if faults.len() > before { faults } else { Vec::new() })
    }

    /// What an earlier bringing together left to be decided; none when nothing is.
    pub fn left_to_decide(self) -> Option<Together> {
        self.book(|book| {
            let conflicts = files::undecided(book.files());
            (!conflicts.is_empty()).then(|| Together {
                files: book.to_files(),
                conflicts,
                added: BTreeMap::new(),
                news: NewsSaid::default(),
                faults: Vec::new(),
            })
        })
        .flatten()
    }

    /// Takes it, as far as it is decided, in place of the open plot, which stays on the shelf.
    pub async fn take(self, together: Together, decided: Vec<(Conflict, Choice)>) {
        if self.would_lose_scores() {
            return;
        }
        let version = self.version_now();
        let added = together.added.values().sum::<usize>() as u64;
        let changed = added + decided.len() as u64;
        let files = files::decide(together.files, &decided);
        if !self.put_in_place(files, version, &Origin::Together { changed }).await {
            self.trouble.set(Some(
                say!("Nothing was taken: it was stopped, or a score came meanwhile. Bring the folder in \
                 once more.")
                    .to_owned(),
            ));
        }
    }

    /// Takes a plot united with what another folder of it held in place of the open one, as it was
    /// at a version. False: something happened meanwhile, so that it has to be united anew.
    pub(super) async fn put_in_place(self, merged: FileSet, version: u64, origin: &Origin) -> bool {
        // What was edited here can still be undone, and ids stay given.
        let past = |ours: &Book| {
            ours.edit_records().map(|record| OfTrees::Past(ByteBuf::from(record))).collect()
        };
        let trees = self.book_now(past).unwrap_or_default();
        let Some(Read { book: Some(book), problems, .. }) =
            self.read(ToRead { trees, ..ToRead::from(merged) }).await
        else {
            return false;
        };
        if self.version_now() != version {
            return false;
        }
        self.show(Some(book), problems);
        self.put(origin);
        true
    }
}

fn said(ours: &Plot, theirs: &Plot) -> NewsSaid {
    let news = files::news(ours, theirs);
    let walk = |one: &files::NewScores| {
        let of = theirs.trait_of(one.of).label.clone();
        [one.round.name(), of, one.scorer.clone(), one.count.to_string()]
    };
    NewsSaid {
        walks: news.walks.iter().map(walk).collect(),
        not_standing: news.not_standing,
        trees: news.trees.iter().map(|&ix| theirs.tree(ix).name().to_owned()).collect(),
    }
}
