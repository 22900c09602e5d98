//! Finding a tree from what a person types: typos, spacing, accents, half a tag, a cross in either
//! order, a seedling number, a place.

mod codes;
mod fold;
mod lexicon;
mod likeness;
mod ranking;
mod spoken_place;
mod words_of;

#[cfg(test)]
mod tests;

use plot::{Code, Plot, TreeIx};

use crate::Rows;
use codes::Codes;
use lexicon::Lexicon;
use ranking::Ranking;
use words_of::words_of;

pub(crate) use likeness::{Shape, Typed};
pub use spoken_place::OnTheSpot;
pub use words_of::Field;

/// How well a piece of a tree's names matched.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum How {
    /// The same but for case, accents, spacing and leading zeros.
    Same,
    /// It begins so.
    Begins,
    /// It contains this.
    Contains,
    /// Nearly so: a letter or two missing, added, swapped or other. Not what was typed.
    Close,
}

/// One piece of a hit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Matched {
    /// What was matched.
    pub field: Field,
    /// As the plot writes it; for a place: `row 7, place 12`.
    pub text: String,
    /// How well.
    pub how: How,
}

/// A tree that answers the question.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hit {
    /// Which tree.
    pub tree: TreeIx,
    /// What answered, in the order of the question.
    pub matched: Vec<Matched>,
}

impl Hit {
    /// Whether it answers by a name that is just what was typed, leading zeros and all.
    fn is_named(&self, typed: &Code) -> bool {
        self.matched.iter().any(|it| Code::read(&it.text).as_ref() == Some(typed))
    }
}

/// The answer to a question.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Found {
    /// The best trees, best first.
    pub hits: Vec<Hit>,
    /// How many trees answer as many words of the question as the best one does.
    pub total: usize,
    /// What is wrong with the place that was asked for.
    pub place: Option<OnTheSpot>,
    /// Whether it reads like a tree's short code whose last character does not fit: the code has a
    /// slip, and no tree is meant.
    pub is_slip: bool,
}

/// An index of everything by which the trees of a plot can be asked for; built once.
#[derive(Clone, Debug)]
pub struct Finder {
    lexicon: Lexicon,
    codes: Codes,
    trees: usize,
}

/// An index in the making, in bounded steps.
#[derive(Debug, Default)]
pub struct Indexing {
    builder: lexicon::Builder,
    codes: Codes,
    trees: usize,
}

impl Indexing {
    /// Takes up to `trees` further trees in; gives trees taken and trees in all. It must be the same
    /// plot at every step.
    pub fn step(&mut self, plot: &Plot, trees: usize) -> (usize, usize) {
        let all = plot.trees();
        let to = all.len().min(self.trees.saturating_add(trees));
        for (nth, tree) in all[self.trees..to].iter().enumerate() {
            let ix = TreeIx::new(self.trees + nth);
            self.codes.add(tree.id(), ix);
            for word in words_of(tree) {
                self.builder.add(&word.folded, ix, word.field, word.whole);
            }
        }
        self.trees = to;
        (to, all.len())
    }

    /// The index of the trees taken in so far.
    pub fn finish(self) -> Finder {
        Finder { lexicon: self.builder.finish(), codes: self.codes.sorted(), trees: self.trees }
    }
}

impl Finder {
    /// Indexes a plot in one go.
    pub fn new(plot: &Plot) -> Self {
        let mut indexing = Indexing::default();
        indexing.step(plot, usize::MAX);
        indexing.finish()
    }

    /// The best `limit` trees for what was typed, of the plot that was indexed. The same question
    /// always gets the same answer; ties go to standing trees, then by row, place and id.
    pub fn find(&self, plot: &Plot, rows: &Rows, typed: &str, limit: usize) -> Found {
        let words = fold::question(typed);
        if words.is_empty() {
            return Found::default();
        }
        let found = self.find_words(plot, rows, typed, &words, limit);
        let Some(code) = Code::read(typed) else { return found };
        // A name that is just so goes before a code, and `T0038-6` before the name `T0386`.
        if found.hits.first().is_some_and(|hit| hit.is_named(&code)) {
            return found;
        }
        if let Some(found) = self.codes.found(plot, &code) {
            return found;
        }
        match self.codes.is_slip(plot, &code, typed) {
            true => Found { is_slip: true, ..Found::default() },
            false => found,
        }
    }

    fn find_words(
        &self,
        plot: &Plot,
        rows: &Rows,
        typed: &str,
        words: &[String],
        limit: usize,
    ) -> Found {
        let mut ranking = Ranking::new(self.trees, words);
        for span in 0..ranking.spans() {
            let typed = Typed::new(&ranking.text_of(span, words));
            self.lexicon.look_up(&typed, |tree, quality| ranking.raise(span, tree, quality));
        }
        let mut place = None;
        if let Some(asked) = spoken_place::read(typed) {
            match asked.trees(rows) {
                Ok(trees) => ranking.at_place(trees, asked.in_words),
                Err(wrong) if asked.in_words => {
                    ranking.only_whole();
                    place = Some(wrong);
                }
                Err(_) => {}
            }
        }
        let (best, total) = ranking.best(plot, typed, limit);
        let hits = best
            .into_iter()
            .map(|tree| Hit { tree, matched: explain(plot, &ranking, words, tree) })
            .collect();
        Found { hits, total, place, is_slip: false }
    }
}

/// A tag as it is compared: its words folded and joined, `Q-011` → `q11`.
pub(crate) fn folded_tag(tag: &str) -> String {
    fold::words(tag).concat()
}

/// What of a tree answered: the look-up once more, among its own words alone.
fn explain(plot: &Plot, ranking: &Ranking, words: &[String], tree: TreeIx) -> Vec<Matched> {
    let one = plot.tree(tree);
    let Some(cover) = ranking.cover(tree) else {
        let number = |number: Option<i32>| number.unwrap_or_default();
        let text = format!("row {}, place {}", number(one.row()), number(one.place()));
        return vec![Matched { field: Field::Place, text, how: How::Same }];
    };
    let own = words_of(one);
    let best_of = |span: usize| {
        let typed = Typed::new(&ranking.text_of(span, words));
        let best = own.iter().filter_map(|word| {
            let likeness = typed.compare(&word.folded, Shape::of(&word.folded))?;
            Some((typed.quality(likeness, word.field, word.whole)?, likeness.how, word))
        });
        // The first of equals: words come in the order of the fields.
        best.rev().max_by_key(|&(quality, ..)| quality)
    };
    cover
        .into_iter()
        .filter_map(best_of)
        .map(|(_, how, word)| Matched { field: word.field, text: word.written.to_string(), how })
        .collect()
}
