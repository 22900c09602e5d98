//! Taking a walk up again: what its lines say, and where one stood.

use std::collections::HashMap;

use plot::{Plot, RoundKey, Season, TreeChange, TreeId, TreeIx};

use super::ledger::{Led, Line, Told, entries};
use super::{Bookmark, Cursor, Walk};

impl Walk {
    pub(super) fn turn_to(&mut self, bookmark: &Bookmark) {
        let stops: HashMap<&TreeId, usize> =
            self.tree_ids.iter().enumerate().map(|(stop, id)| (id, stop)).collect();
        let stop_of = |id: &TreeId| stops.get(id).copied();
        let slot = bookmark
            .trait_id
            .as_ref()
            .and_then(|id| self.trait_ids.iter().position(|known| known == id));
        let cursor = match bookmark.tree.as_ref().map(stop_of) {
            // It was put down at another time: stay where the lines lead.
            _ if bookmark.lines != self.lines => self.cursor,
            // The tree is no longer on the route.
            Some(None) => self.cursor,
            None => None,
            Some(Some(stop)) => Some(match slot {
                Some(slot) => Cursor { stop, slot },
                None => self.ledger.first_slot(stop),
            }),
        };
        let notes =
            bookmark.notes.iter().filter_map(|(id, note)| Some((stop_of(id)?, note.clone())));
        let (notes, skipped) =
            (notes.collect(), bookmark.skipped.iter().filter_map(stop_of).collect());
        (self.cursor, self.notes) = (cursor, notes);
        self.ledger.skipped = skipped;
    }

    /// Runs through the round's lines and changes as if they were taken just now.
    pub(super) fn read_lines(&mut self, plot: &Plot, key: &(Season, RoundKey)) {
        let stops: HashMap<TreeIx, usize> =
            self.route.stops.iter().enumerate().map(|(stop, &tree)| (tree, stop)).collect();
        let told = |change: &TreeChange| {
            let stop = *stops.get(&plot.tree_ix(change.tree.as_str())?)?;
            let (from, to) = (change.from.clone(), change.to.clone());
            let own = change.scorer == self.setup.scorer;
            Some(Told { stop, cell: change.cell, from, to, own }.in_one_word())
        };
        // What was told, by how many lines stood then.
        let mut changes: Vec<(usize, Told)> = plot
            .changes()
            .iter()
            .filter(|change| is_of(plot, change, key))
            .filter_map(|change| {
                let after = change.after.as_ref();
                let ix = after.map(|id| plot.score_ix(id.as_str()));
                let lines = match ix {
                    None => 0,
                    // A line that is not here came from elsewhere, and counts as the last.
                    Some(None) => plot.scores().len(),
                    Some(Some(ix)) => ix.get() + 1,
                };
                Some((lines, told(change)?))
            })
            .collect();
        changes.sort_by_key(|(lines, _)| *lines);
        let mut changes = changes.into_iter().peekable();
        let mut pieces: Vec<(Vec<Line>, Option<Told>)> = vec![(Vec::new(), None)];
        for (nth, score) in plot.scores().iter().enumerate() {
            while let Some((_, told)) = changes.next_if(|(lines, _)| *lines <= nth) {
                pieces.push((Vec::new(), Some(told)));
            }
            if plot.round_key_of(score) != *key {
                continue;
            }
            let slot = self.setup.traits.iter().position(|&ix| ix == score.trait_ix);
            if let (Some(&stop), Some(slot), Some((lines, _))) =
                (stops.get(&score.tree), slot, pieces.last_mut())
            {
                lines.push(Line {
                    at: Cursor { stop, slot },
                    id: score.id.clone(),
                    value: score.value,
                    note: score.note.clone(),
                    replaces: score.replaces.clone(),
                    when: score.scored_on,
                    own: score.scorer == self.setup.scorer,
                });
            }
        }
        pieces.extend(changes.map(|(_, told)| (Vec::new(), Some(told))));
        for (lines, told) in pieces {
            self.lines += lines.len() + usize::from(told.is_some());
            if let Some(led) = told.and_then(|told| self.ledger.take_told(told)) {
                self.follow(led);
            }
            for entry in entries(&lines) {
                if let Some(led) = self.ledger.take(entry) {
                    self.follow(led);
                }
            }
        }
    }

    /// Goes where a change of a cell leads.
    pub(super) fn follow(&mut self, led: Led) {
        self.cursor = match led {
            Led::Back(at) => Some(at),
            Led::On(at) => self.ledger.open_after(at),
            Led::To(stop) => match self.cursor {
                Some(at) if at.stop == stop => Some(at),
                _ => Some(self.ledger.first_slot(stop)),
            },
            Led::Past(stop) => self.ledger.open_from(stop + 1),
        };
    }
}

/// Whether a change was seen in a round.
pub(super) fn is_of(
    plot: &Plot,
    change: &TreeChange,
    (season, round): &(Season, RoundKey),
) -> bool {
    let named = change.round.clone().map(RoundKey::Named);
    named.as_ref() == Some(round) && plot.season_of_change(change) == *season
}
