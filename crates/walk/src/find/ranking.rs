//! Which trees answer a question best: how well every stretch of it is answered by each tree.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use plot::{Plot, Status, TreeIx};

use super::fold::WORDS_AT_MOST;

/// Words of a question, joined as in `tr 9`, beyond which nobody separates one name.
const JOINED_AT_MOST: usize = 3;
/// Worth of a place said with its row in words: above any name.
const PLACE_IN_WORDS: u8 = 130;
/// Worth of two bare numbers: below a name that is the same, above a piece of one.
const PLACE_IN_NUMBERS: u8 = 105;
/// What a name that is the same is worth at least.
const SAME_AT_LEAST: u32 = 100;

/// A table of trees by spans of the question.
pub(super) struct Ranking {
    words: usize,
    letters: u32,
    spans: Vec<Span>,
    /// Worth by tree and span; 0: no answer.
    worth: Vec<u8>,
    /// Worth of the place, for the trees that stand there.
    places: BTreeMap<TreeIx, u8>,
    only_whole: bool,
}

/// A stretch of the question.
#[derive(Clone, Copy, Debug)]
struct Span {
    from: usize,
    to: usize,
    letters: u32,
}

/// How well a tree answers: words answered, then worth of the answers, letter by letter, so that a
/// long name that is nearly right beats a letter that is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
struct Merit {
    words: usize,
    worth: u32,
}

impl Ranking {
    pub(super) fn new(trees: usize, words: &[String]) -> Self {
        let letters = |words: &[String]| {
            let letters: usize = words.iter().map(|word| word.chars().count()).sum();
            u32::try_from(letters).unwrap_or(u32::MAX)
        };
        // By their ends, as the best ways are built up.
        let spans: Vec<Span> = (1..=words.len())
            .flat_map(|to| (to.saturating_sub(JOINED_AT_MOST)..to).map(move |from| (from, to)))
            .map(|(from, to)| Span { from, to, letters: letters(&words[from..to]) })
            .collect();
        Self {
            words: words.len(),
            letters: letters(words),
            worth: vec![0; trees * spans.len()],
            spans,
            places: BTreeMap::new(),
            only_whole: false,
        }
    }

    /// How many stretches of the question are looked up.
    pub(super) fn spans(&self) -> usize {
        self.spans.len()
    }

    /// The words of a span, joined.
    pub(super) fn text_of(&self, span: usize, words: &[String]) -> String {
        words[self.spans[span].from..self.spans[span].to].concat()
    }

    /// A tree answers a span at least so well.
    pub(super) fn raise(&mut self, span: usize, tree: TreeIx, worth: u8) {
        let cell = &mut self.worth[tree.get() * self.spans.len() + span];
        *cell = (*cell).max(worth);
    }

    /// These trees stand where the question says.
    pub(super) fn at_place(&mut self, trees: Vec<TreeIx>, in_words: bool) {
        let worth = if in_words { PLACE_IN_WORDS } else { PLACE_IN_NUMBERS };
        self.places.extend(trees.into_iter().map(|tree| (tree, worth)));
    }

    /// Only a tree that answers every word counts.
    pub(super) fn only_whole(&mut self) {
        self.only_whole = true;
    }

    /// The best `limit` trees, and how many answer as many words as the best.
    pub(super) fn best(&self, plot: &Plot, typed: &str, limit: usize) -> (Vec<TreeIx>, usize) {
        let needed = if self.only_whole { self.words } else { self.words.div_ceil(2) };
        let mut answers: Vec<(TreeIx, Merit)> = self
            .worth
            .chunks_exact(self.spans.len())
            .enumerate()
            .map(|(nth, worth)| (TreeIx::new(nth), self.merit(TreeIx::new(nth), worth)))
            .filter(|(_, merit)| merit.words >= needed.max(1))
            .collect();
        let most = answers.iter().map(|(_, merit)| merit.words).max().unwrap_or(0);
        answers.retain(|(_, merit)| merit.words == most);
        let total = answers.len();
        let key = |(ix, merit): (TreeIx, Merit)| {
            let tree = plot.tree(ix);
            let is_typed = |name: &str| name.eq_ignore_ascii_case(typed.trim());
            let as_written = merit.worth >= SAME_AT_LEAST * self.letters
                && (tree.tag().is_some_and(is_typed) || is_typed(tree.id().as_str()));
            let place = tree.row().zip(tree.place());
            // Standing trees first, then by row, place and id.
            let order = (tree.status() != Status::Alive, place.is_none(), place, tree.id());
            (Reverse(merit), Reverse(as_written), order, ix)
        };
        let mut answers: Vec<_> = answers.into_iter().map(key).collect();
        if answers.len() > limit && limit > 0 {
            answers.select_nth_unstable(limit - 1);
        }
        answers.truncate(limit);
        answers.sort_unstable();
        (answers.into_iter().map(|(.., ix)| ix).collect(), total)
    }

    /// The spans by which a tree answers best, first to last; none when it answers by its place.
    pub(super) fn cover(&self, tree: TreeIx) -> Option<Vec<usize>> {
        let width = self.spans.len();
        let ways = self.ways(&self.worth[tree.get() * width..][..width]);
        let mut spans = Vec::new();
        let mut end = self.words;
        while end > 0 {
            match ways[end].1 {
                Some(span) => {
                    spans.push(span);
                    end = self.spans[span].from;
                }
                None => end -= 1,
            }
        }
        spans.reverse();
        (self.place_merit(tree) < ways[self.words].0).then_some(spans)
    }

    fn merit(&self, tree: TreeIx, worth: &[u8]) -> Merit {
        let unnamed = worth.iter().all(|&worth| worth == 0);
        let named = if unnamed { Merit::default() } else { self.ways(worth)[self.words].0 };
        named.max(self.place_merit(tree))
    }

    fn place_merit(&self, tree: TreeIx) -> Merit {
        self.places.get(&tree).map_or(Merit::default(), |&worth| Merit {
            words: self.words,
            worth: self.letters * u32::from(worth),
        })
    }

    /// The best ways to answer the first words of the question, by spans that do not overlap: at
    /// `k`, the merit of the first `k` words and the span that ends there.
    fn ways(&self, worth: &[u8]) -> [(Merit, Option<usize>); WORDS_AT_MOST + 1] {
        let mut best = [(Merit::default(), None); WORDS_AT_MOST + 1];
        for (nth, (span, &worth)) in self.spans.iter().zip(worth).enumerate() {
            // The first span that ends here begins with what the words before it came to.
            best[span.to].0 = best[span.to].0.max(best[span.to - 1].0);
            if worth > 0 {
                let before = best[span.from].0;
                let merit = Merit {
                    words: before.words + (span.to - span.from),
                    worth: before.worth + span.letters * u32::from(worth),
                };
                if merit > best[span.to].0 {
                    best[span.to] = (merit, Some(nth));
                }
            }
        }
        best
    }
}
