//! What was said of each cell, folded from lines alone: a walk on its way and one taken up again
//! go through the same code.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use plot::{ScoreId, Status, TreeCell, When};

use super::Cursor;

/// What was said of one cell.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum Content {
    /// Nothing yet, or it was taken back.
    #[default]
    Open,
    /// A score.
    Scored {
        /// As written down.
        value: f64,
        /// Free words.
        note: Option<Arc<str>>,
    },
    /// Looked at, but it could not be scored.
    CouldNot {
        /// Why.
        reason: Option<Arc<str>>,
    },
}

impl Content {
    /// Whether nothing was said.
    pub fn is_open(&self) -> bool {
        *self == Self::Open
    }
}

/// A line of `scores.csv` in the terms of a walk.
#[derive(Clone, Debug)]
pub(super) struct Line {
    pub(super) at: Cursor,
    pub(super) id: ScoreId,
    pub(super) value: Option<f64>,
    pub(super) note: Option<Arc<str>>,
    pub(super) replaces: Option<ScoreId>,
    pub(super) when: When,
    /// Taken by this walk's scorer.
    pub(super) own: bool,
}

/// What one or two lines of one moment make of a cell.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Entry {
    pub(super) at: Cursor,
    pub(super) to: Content,
    /// The line that stands for it; none: nothing stands.
    pub(super) live: Option<ScoreId>,
    /// The line that no longer stands because of it.
    pub(super) replaces: Option<ScoreId>,
    pub(super) own: bool,
}

/// What was told of the tree itself at a stop: a cell of its line in `trees.csv` says something
/// else.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Told {
    pub(super) stop: usize,
    pub(super) cell: TreeCell,
    pub(super) from: Arc<str>,
    pub(super) to: Arc<str>,
    pub(super) own: bool,
}

impl Told {
    /// The same with one word for a tree that stands, as the plot has it.
    pub(super) fn in_one_word(mut self) -> Self {
        for text in [&mut self.from, &mut self.to] {
            if self.cell == TreeCell::Status && Status::parse(text) == Some(Status::Alive) {
                *text = "".into();
            }
        }
        self
    }
}

/// Where a change of a cell leads the walker.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Led {
    /// It was taken back: to the cell.
    Back(Cursor),
    /// Onward from the cell.
    On(Cursor),
    /// To the stop, if the walker is elsewhere.
    To(usize),
    /// Onward from a stop at which nothing is to be scored.
    Past(usize),
}

/// What can be taken back.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Act {
    /// A change of a cell.
    Said { at: Cursor, from: Content, to: Content },
    /// Something was told of the tree itself.
    Told { stop: usize, cell: TreeCell, from: Arc<str>, to: Arc<str> },
    /// A tree was left for later; no line tells of it.
    Skipped(Cursor),
}

impl Act {
    fn leaves_a_line(&self) -> bool {
        !matches!(self, Self::Skipped(_))
    }
    fn reversed(&self) -> Self {
        match self.clone() {
            Self::Said { at, from, to } => Self::Said { at, from: to, to: from },
            Self::Told { stop, cell, from, to } => Self::Told { stop, cell, from: to, to: from },
            skipped @ Self::Skipped(_) => skipped,
        }
    }
}

#[derive(Clone, Debug, Default, PartialEq)]
struct Cell {
    own: Content,
    /// The line that stands for `own`.
    live: Option<ScoreId>,
    /// What another scorer said in the same round.
    others: Content,
}

/// All cells of a walk with everything that was done to them.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Ledger {
    slots: usize,
    /// What another scorer said is not to be seen.
    blind: bool,
    cells: Vec<Cell>,
    /// What cells of the trees themselves say, where that was changed during the walk.
    told: BTreeMap<(usize, TreeCell), Arc<str>>,
    /// Stops that were left for later, by hand.
    pub(super) skipped: BTreeSet<usize>,
    done: Vec<Act>,
    undone: Vec<Act>,
}

impl Ledger {
    pub(super) fn new(stops: usize, slots: usize, blind: bool) -> Self {
        Self {
            slots,
            blind,
            cells: vec![Cell::default(); stops * slots],
            told: BTreeMap::new(),
            skipped: BTreeSet::new(),
            done: Vec::new(),
            undone: Vec::new(),
        }
    }

    /// Takes an entry in; gives where it leads when it is this walker's own.
    ///
    /// A change that is the reverse of the last one takes that back; a change that is the same as
    /// the last one taken back brings it again; any other is new. So the lines alone tell what can
    /// be undone and redone.
    pub(super) fn take(&mut self, entry: Entry) -> Option<Led> {
        let at = entry.at;
        let nth = self.nth(at);
        let cell = &mut self.cells[nth];
        if !entry.own {
            if entry.replaces.is_some() && entry.replaces == cell.live {
                (cell.own, cell.live) = (Content::Open, None);
            }
            cell.others = entry.to;
            return None;
        }
        let from = std::mem::replace(&mut cell.own, entry.to.clone());
        let act = Act::Said { at, from, to: entry.to };
        cell.live = entry.live;
        Some(if self.is_back(act) { Led::Back(at) } else { Led::On(at) })
    }

    /// Takes in what was told of a tree itself; the same rules as for [`take`](Self::take).
    pub(super) fn take_told(&mut self, told: Told) -> Option<Led> {
        let Told { stop, cell, from, to, own } = told;
        self.told.insert((stop, cell), to.clone());
        if !own {
            return None;
        }
        let is_back = self.is_back(Act::Told { stop, cell, from, to });
        Some(if self.is_gone(stop) && !is_back { Led::Past(stop) } else { Led::To(stop) })
    }

    /// Enters an act into what was done and undone; gives whether it took the last one back.
    fn is_back(&mut self, act: Act) -> bool {
        // Skips in between leave no line, so they must not make a difference.
        let last = |acts: &[Act], wanted: &Act| {
            acts.iter().rposition(Act::leaves_a_line).filter(|&nth| acts[nth] == *wanted)
        };
        if let Some(nth) = last(&self.done, &act.reversed()) {
            self.done.truncate(nth);
            self.undone.push(act.reversed());
            return true;
        }
        match last(&self.undone, &act) {
            Some(nth) => self.undone.truncate(nth),
            None => self.undone.clear(),
        }
        self.done.push(act);
        false
    }

    /// Notes that the walker left a tree for later.
    pub(super) fn skip(&mut self, from: Cursor) {
        self.undone.retain(Act::leaves_a_line);
        self.done.push(Act::Skipped(from));
        self.skipped.insert(from.stop);
    }
    /// Takes a skip back; gives where the walker stood.
    pub(super) fn unskip(&mut self) -> Option<Cursor> {
        let from = shift_skip(&mut self.done, &mut self.undone)?;
        self.skipped.remove(&from.stop);
        Some(from)
    }
    /// Skips again what was taken back; gives where the walker stood.
    pub(super) fn reskip(&mut self) -> Option<Cursor> {
        let from = shift_skip(&mut self.undone, &mut self.done)?;
        self.skipped.insert(from.stop);
        Some(from)
    }
    /// The stops that were left for later and are still open.
    pub(super) fn still_skipped(&self) -> impl Iterator<Item = usize> {
        self.skipped.iter().copied().filter(|&stop| self.is_open(stop))
    }

    /// What a cell says: this walker's word, else another scorer's unless that is not to be seen.
    pub(super) fn content(&self, at: Cursor) -> &Content {
        let cell = &self.cells[self.nth(at)];
        if cell.own.is_open() && !self.blind { &cell.others } else { &cell.own }
    }
    /// What a cell of a tree itself says since it was changed.
    pub(super) fn told(&self, stop: usize, cell: TreeCell) -> &str {
        self.told.get(&(stop, cell)).map_or("", |text| text)
    }
    /// Whether nothing stands at a stop any more, as was told during the walk.
    pub(super) fn is_gone(&self, stop: usize) -> bool {
        self.told
            .get(&(stop, TreeCell::Status))
            .is_some_and(|status| Status::parse(status) != Some(Status::Alive))
    }
    /// Whether something is still to be scored at a stop.
    pub(super) fn is_open(&self, stop: usize) -> bool {
        !self.is_gone(stop) && self.stop(stop).any(Content::is_open)
    }
    /// What this walker said of a cell.
    pub(super) fn own(&self, at: Cursor) -> &Content {
        &self.cells[self.nth(at)].own
    }
    /// The line that stands for what this walker said of a cell.
    pub(super) fn live(&self, at: Cursor) -> Option<&ScoreId> {
        self.cells[self.nth(at)].live.as_ref()
    }
    /// What *undo* takes back: the last change or skip.
    pub(super) fn undo(&self) -> Option<Act> {
        self.still_true(self.done.last().map(Act::reversed))
    }
    /// What *redo* brings again.
    pub(super) fn redo(&self) -> Option<Act> {
        self.still_true(self.undone.last().cloned())
    }
    /// A line from elsewhere may have changed a cell meanwhile: then its acts lead nowhere.
    fn still_true(&self, act: Option<Act>) -> Option<Act> {
        act.filter(|act| match act {
            Act::Said { at, from, .. } => self.own(*at) == from,
            Act::Told { stop, cell, from, .. } => {
                self.told.get(&(*stop, *cell)).is_some_and(|now| now == from)
            }
            Act::Skipped(_) => true,
        })
    }

    /// Number of stops.
    pub(super) fn stops(&self) -> usize {
        self.cells.len() / self.slots
    }
    /// What the cells of a stop say.
    pub(super) fn stop(&self, stop: usize) -> impl Iterator<Item = &Content> {
        (0..self.slots).map(move |slot| self.content(Cursor { stop, slot }))
    }
    /// The first open cell of a stop, else its first cell.
    pub(super) fn first_slot(&self, stop: usize) -> Cursor {
        Cursor { stop, slot: self.stop(stop).position(Content::is_open).unwrap_or(0) }
    }
    /// The first open cell at or after a stop.
    pub(super) fn open_from(&self, stop: usize) -> Option<Cursor> {
        (stop..self.stops()).find(|&stop| self.is_open(stop)).map(|stop| self.first_slot(stop))
    }
    /// The open cell that comes after one: the same tree's next, else the next tree's first.
    pub(super) fn open_after(&self, at: Cursor) -> Option<Cursor> {
        (at.slot + 1..self.slots)
            .map(|slot| Cursor { stop: at.stop, slot })
            .find(|&next| !self.is_gone(at.stop) && self.content(next).is_open())
            .or_else(|| self.open_from(at.stop + 1))
    }

    /// The same as it is after a reload.
    #[cfg(test)]
    pub(super) fn without_skips(mut self) -> Self {
        self.done.retain(Act::leaves_a_line);
        self.undone.retain(Act::leaves_a_line);
        self
    }

    fn nth(&self, at: Cursor) -> usize {
        at.stop * self.slots + at.slot
    }
}

fn shift_skip(from: &mut Vec<Act>, to: &mut Vec<Act>) -> Option<Cursor> {
    let Some(&Act::Skipped(at)) = from.last() else { return None };
    to.extend(from.pop());
    Some(at)
}

/// The lines as changes of cells. A withdrawal and a line without value of the same cell and moment
/// are one change: that is how a score is corrected to *could not be scored*, since a line without
/// value that replaces another only withdraws it.
pub(super) fn entries(lines: &[Line]) -> Vec<Entry> {
    let mut entries: Vec<Entry> = Vec::new();
    let mut withdrawn_at: Option<(Cursor, When)> = None;
    for line in lines {
        let note = line.note.clone();
        let withdraws = line.value.is_none() && line.replaces.is_some();
        let to = match line.value {
            Some(value) => Content::Scored { value, note },
            None if withdraws => Content::Open,
            None => Content::CouldNot { reason: note },
        };
        let goes_on = withdrawn_at == Some((line.at, line.when)) && line.replaces.is_none();
        withdrawn_at = withdraws.then_some((line.at, line.when));
        let live = (!withdraws).then(|| line.id.clone());
        match entries.last_mut() {
            Some(last) if goes_on && last.own == line.own && line.value.is_none() => {
                (last.to, last.live) = (to, live);
            }
            _ => entries.push(Entry {
                at: line.at,
                to,
                live,
                replaces: line.replaces.clone(),
                own: line.own,
            }),
        }
    }
    entries
}
