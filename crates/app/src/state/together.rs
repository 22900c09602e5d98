//! Bringing another folder of the open plot together with it: first looked at, then taken.

use std::collections::BTreeMap;

use files::{Book, Choice, Conflict, FileSet};
use leptos::prelude::*;
use plot::Weight;
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
        let Some(theirs) = book.filter(|_| is_sound).map(Book::into_files) else {
            refuse(problems);
            return None;
        };
        match self.book_now(|ours| files::merge(ours.files(), &theirs))? {
            Ok(merged) => Some(Together {
                files: merged.files,
                conflicts: merged.conflicts,
                added: merged.added,
            }),
            Err(problems) => {
                refuse(problems);
                None
            }
        }
    }

    /// What an earlier bringing together left to be decided; none when nothing is.
    pub fn left_to_decide(self) -> Option<Together> {
        self.book(|book| {
            let conflicts = files::undecided(book.files());
            (!conflicts.is_empty()).then(|| Together {
                files: book.to_files(),
                conflicts,
                added: BTreeMap::new(),
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
                "Nothing was taken: it was stopped, or a score came meanwhile. Bring the folder in \
                 once more."
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
