//! Every word of a plot once, with the trees that carry it.

use std::collections::HashMap;

use plot::TreeIx;

use super::Field;
use super::likeness::{Shape, Typed};

/// The words, laid out to be run through from front to back.
#[derive(Clone, Debug, Default)]
pub(super) struct Lexicon {
    /// All words on end.
    text: String,
    /// Where in `text` each word ends.
    ends: Vec<usize>,
    shapes: Vec<Shape>,
    /// Where in `uses` each word's trees end.
    use_ends: Vec<usize>,
    uses: Vec<Use>,
}

#[derive(Clone, Copy, Debug)]
struct Use {
    tree: TreeIx,
    field: Field,
    whole: bool,
}

/// Gathers words in any order.
#[derive(Debug, Default)]
pub(super) struct Builder {
    numbers: HashMap<Box<str>, usize>,
    words: Vec<(Box<str>, Vec<Use>)>,
}

impl Builder {
    /// Notes that `tree` carries `word` in `field`.
    pub(super) fn add(&mut self, word: &str, tree: TreeIx, field: Field, whole: bool) {
        let number = match self.numbers.get(word) {
            Some(&number) => number,
            None => {
                self.numbers.insert(word.into(), self.words.len());
                self.words.push((word.into(), Vec::new()));
                self.words.len() - 1
            }
        };
        self.words[number].1.push(Use { tree, field, whole });
    }

    pub(super) fn finish(self) -> Lexicon {
        let mut lexicon = Lexicon::default();
        for (word, uses) in self.words {
            lexicon.text += &word;
            lexicon.ends.push(lexicon.text.len());
            lexicon.shapes.push(Shape::of(&word));
            lexicon.uses.extend(uses);
            lexicon.use_ends.push(lexicon.uses.len());
        }
        lexicon
    }
}

impl Lexicon {
    /// Gives each tree that carries a word like `typed`, with what the likeness is worth; a tree
    /// may come several times.
    pub(super) fn look_up(&self, typed: &Typed, mut give: impl FnMut(TreeIx, u8)) {
        for (number, &shape) in self.shapes.iter().enumerate() {
            if !typed.may_match(shape) {
                continue;
            }
            let word = &self.text[range(&self.ends, number)];
            let Some(likeness) = typed.compare(word, shape) else {
                continue;
            };
            let uses = &self.uses[range(&self.use_ends, number)];
            // A parent's name has a use for each of its seedlings: what it is worth is said once.
            for same in uses.chunk_by(|a, b| (a.field, a.whole) == (b.field, b.whole)) {
                if let Some(quality) = typed.quality(likeness, same[0].field, same[0].whole) {
                    same.iter().for_each(|used| give(used.tree, quality));
                }
            }
        }
    }
}

fn range(ends: &[usize], number: usize) -> std::ops::Range<usize> {
    let start = if number == 0 { 0 } else { ends[number - 1] };
    start..ends[number]
}
