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
    /// Which words it holds, one bit each.
    words: u8,
}

/// How well a tree answers: words answered, then worth of the answers, letter by letter, so that a
/// long name that is nearly right beats a letter that is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
struct Merit {
    words: usize,
    worth: u32,
}

impl Merit {
    /// With a span answered besides.
    fn and(self, span: &Span, worth: u8) -> Self {
        Self {
            words: self.words + (span.to - span.from),
            worth: self.worth + span.letters * u32::from(worth),
        }
    }
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
            .map(|(from, to)| {
                let bits = (from..to).fold(0, |bits, word| bits | 1 << word);
                Span { from, to, letters: letters(&words[from..to]), words: bits }
            })
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
        let mut most = needed.max(1);
        let mut answers: Vec<(TreeIx, Merit)> = Vec::new();
        for (nth, worth) in self.worth.chunks_exact(self.spans.len()).enumerate() {
            let tree = TreeIx::new(nth);
            let place = self.place_merit(tree);
            // Most trees answer fewer words than one before: that is seen at a glance.
            if place.words < most && self.words_touched(worth) < most {
                continue;
            }
            let merit = self.named_merit(worth).max(place);
            if merit.words > most {
                most = merit.words;
                answers.clear();
            }
            if merit.words == most {
                answers.push((tree, merit));
            }
        }
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

    /// How many words of the question the spans that are answered touch: no way answers more.
    fn words_touched(&self, worth: &[u8]) -> usize {
        let answered = self.spans.iter().zip(worth).filter(|(_, worth)| **worth > 0);
        let touched = answered.fold(0_u8, |touched, (span, _)| touched | span.words);
        touched.count_ones() as usize
    }

    /// The merit of the best way: as [`ways`](Self::ways), without the way.
    fn named_merit(&self, worth: &[u8]) -> Merit {
        let mut best = [Merit::default(); WORDS_AT_MOST + 1];
        for (span, &worth) in self.spans.iter().zip(worth) {
            best[span.to] = best[span.to].max(best[span.to - 1]);
            if worth > 0 {
                best[span.to] = best[span.to].max(best[span.from].and(span, worth));
            }
        }
        best[self.words]
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
                let merit = best[span.from].0.and(span, worth);
                if merit > best[span.to].0 {
                    best[span.to] = (merit, Some(nth));
                }
            }
        }
        best
    }
}
