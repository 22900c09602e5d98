//! Bringing another folder of the open plot together with it: first looked at, then taken.

use std::collections::BTreeMap;

use files::{Book, Choice, Conflict, FileSet, Opening};
use plot::Weight;

use super::{App, Origin, Refused};
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
        use leptos::prelude::Set as _;
        self.refused.set(None);
        let name = picked.name.clone();
        let refuse = |problems| self.refused.set(Some(Refused { name: name.clone(), problems }));
        let mut opening = Opening::new(picked.files);
        for (file, bytes) in &picked.left_out {
            opening.leave_out(file, *bytes);
        }
        let (book, problems) = self.read_on(opening).await?;
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
        use leptos::prelude::Set as _;
        if self.would_lose_scores() {
            return;
        }
        let added = together.added.values().sum::<usize>() as u64;
        let files = files::decide(together.files, &decided);
        let Some((book, problems)) = self.read(files).await else { return };
        self.show(Some(book));
        self.problems.set(problems);
        self.put(&Origin::Together { changed: added + decided.len() as u64 });
    }
}
