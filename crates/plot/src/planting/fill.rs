//! The ground of a plan: how long each row is, and which line has each place.

use std::cmp::Ordering;
use std::ops::RangeInclusive;

use language::{count, say};

use super::{Faults, MOST_PLACES, Planted, Planting, Run, at};
use crate::{Plot, Refusal, Status, TreeDraft, TreeId};

/// Rows with their places, each with the line that has it.
pub(super) struct Ground {
    first_row: i32,
    first_place: i32,
    /// By row and place: the position of its line in the list.
    owners: Vec<Vec<Option<usize>>>,
}

impl Ground {
    /// Lays every line over the ground; none when not even the rows are sound.
    pub(super) fn laid(plan: &Planting, faults: &mut Faults) -> Option<Self> {
        let layout = &plan.head.layout;
        for (column, number) in [("rows", plan.rows), ("places", plan.places)] {
            if number < 1 {
                faults.form(column, number.to_string(), say!("1 or more").to_owned());
            }
        }
        let total = i64::from(plan.rows) * i64::from(plan.places);
        if total > i64::from(MOST_PLACES) {
            let found =
                say!("{rows} rows of {places} places", rows = plan.rows, places = plan.places);
            faults.form("rows", found, say!("at most {most} trees", most = MOST_PLACES));
        }
        if !faults.0.is_empty() {
            return None;
        }
        let rows = vec![Vec::new(); plan.rows as usize];
        let mut ground =
            Self { first_row: layout.first_row, first_place: layout.first_place, owners: rows };
        let lengths = ground.lengths(plan, faults);
        let total: i64 = lengths.iter().copied().map(i64::from).sum();
        if total > i64::from(MOST_PLACES) {
            faults.form(
                "places",
                count!(total, "1 place", "{places} places", places = total),
                say!("at most {most} trees", most = MOST_PLACES),
            );
            return None;
        }
        ground.owners = lengths.into_iter().map(|places| vec![None; places as usize]).collect();
        // The lighter first, so that two of one weight always meet.
        let mut order: Vec<(usize, &Run)> = plan.runs.iter().enumerate().collect();
        order.sort_by_key(|(_, run)| run.weight());
        for (nth, run) in order {
            ground.lay(nth, run, &plan.runs, faults);
        }
        ground.look_for_idle(&plan.runs, faults);
        Some(ground)
    }

    /// The plot, its trees by row and place.
    pub(super) fn planted(
        &self,
        mut plot: Plot,
        plan: &Planting,
        numbers: &[Option<u64>],
    ) -> Result<Plot, Refusal> {
        let mut serial = 0;
        for (row, owners) in self.owners.iter().enumerate() {
            for (place, owner) in owners.iter().enumerate() {
                let number = numbers.get(serial as usize).copied().flatten();
                serial += 1;
                let id = TreeId::of_serial(serial);
                let mut tree = match owner {
                    Some(nth) => plan.runs[*nth].tree(id, number),
                    None => TreeDraft::new(id),
                };
                tree.location = at(self.first_row + row as i32, self.first_place + place as i32);
                // Nothing was planted in an empty place.
                tree.planted_on = plan.planted_on.filter(|_| tree.status != Status::Empty);
                plot.add_tree(tree)?;
            }
        }
        Ok(plot)
    }

    /// Every place in order, with its line.
    pub(super) fn owners(&self) -> impl Iterator<Item = Option<usize>> + '_ {
        self.owners.iter().flatten().copied()
    }

    /// How many places each row has.
    fn lengths(&self, plan: &Planting, faults: &mut Faults) -> Vec<i32> {
        let mut lengths = vec![plan.places; self.owners.len()];
        let mut said_by: Vec<Option<u64>> = vec![None; self.owners.len()];
        for run in &plan.runs {
            let Planted::Places(places) = run.what else { continue };
            if run.places.is_some() || run.every.is_some() {
                let expected = say!("whole rows: how many places they have").to_owned();
                faults.line(
                    run.line,
                    say!("places"),
                    say!("some places of a row").to_owned(),
                    expected,
                );
            } else if !(1..=MOST_PLACES).contains(&places) {
                let expected = say!("1 to {most} places", most = MOST_PLACES);
                faults.line(
                    run.line,
                    say!("what"),
                    count!(places, "1 place", "{places} places"),
                    expected,
                );
            } else {
                for row in self.rows_of(run, faults) {
                    if let Some(earlier) = said_by[row].replace(run.line) {
                        let row = self.first_row + row as i32;
                        let found = say!("row {row}, whose places line {earlier} has counted");
                        faults.line(
                            run.line,
                            say!("rows"),
                            found,
                            say!("each row once").to_owned(),
                        );
                        break;
                    }
                    lengths[row] = places;
                }
            }
        }
        lengths
    }

    /// Takes the places of a line that no line of more weight has.
    fn lay(&mut self, nth: usize, run: &Run, runs: &[Run], faults: &mut Faults) {
        if matches!(run.what, Planted::Places(_)) {
            return;
        }
        let before = faults.0.len();
        let rows = self.rows_of(run, faults);
        if let Some(every) = run.every
            && every.nth < 2
        {
            faults.line(
                run.line,
                say!("every"),
                every.nth.to_string(),
                say!("2 or more").to_owned(),
            );
        }
        if faults.0.len() > before {
            return;
        }
        let mut any = false;
        for row in rows {
            let Some(picked) = self.places_of(run, row, faults) else { return };
            for place in picked {
                any = true;
                let owner = &mut self.owners[row][place];
                match owner.map(|other| (other, run.weight().cmp(&runs[other].weight()))) {
                    Some((other, Ordering::Equal)) => {
                        let (row, place) =
                            (self.first_row + row as i32, self.first_place + place as i32);
                        let found = say!(
                            "row {row} place {place}, which line {line} has already",
                            line = runs[other].line
                        );
                        faults.line(
                            run.line,
                            say!("places"),
                            found,
                            say!("each place once").to_owned(),
                        );
                        return;
                    }
                    Some((_, Ordering::Less)) => {}
                    _ => *owner = Some(nth),
                }
            }
        }
        if let (false, Some(every)) = (any, run.every) {
            let found = match every.from {
                Some(from) => say!("an interval of {nth} places from {from}", nth = every.nth),
                None => say!("an interval of {nth} places", nth = every.nth),
            };
            let expected = say!("an interval that meets at least one place").to_owned();
            faults.line(run.line, say!("every"), found, expected);
        }
    }

    /// Positions of a line's rows.
    fn rows_of(&self, run: &Run, faults: &mut Faults) -> std::ops::Range<usize> {
        let last = self.first_row + self.owners.len() as i32 - 1;
        let Some(rows) = &run.rows else { return 0..self.owners.len() };
        match inside(rows, self.first_row, last) {
            Ok(rows) => rows,
            Err(found) => {
                let expected =
                    say!("rows {first} to {last}, the lower first", first = self.first_row);
                faults.line(run.line, say!("rows"), say!("row {row}", row = found), expected);
                0..0
            }
        }
    }

    /// Positions of a line's places in a row.
    fn places_of(
        &self,
        run: &Run,
        row: usize,
        faults: &mut Faults,
    ) -> Option<impl Iterator<Item = usize> + use<>> {
        let (first, length) = (self.first_place, self.owners[row].len());
        let last = first + length as i32 - 1;
        let range = match run.places.as_ref().map(|places| inside(places, first, last)) {
            None => 0..length,
            Some(Ok(range)) => range,
            Some(Err(found)) => {
                let found = say!(
                    "place {place} of row {row}",
                    place = found,
                    row = self.first_row + row as i32
                );
                let expected = say!("places {first} to {last}, the lower first");
                faults.line(run.line, say!("places"), found, expected);
                return None;
            }
        };
        let every = run.every;
        let begin = range.start as i32;
        Some(range.filter(move |&place| {
            let Some(every) = every else { return true };
            let place = place as i32;
            match every.from {
                Some(from) => {
                    let steps = i64::from(place) + i64::from(first) - i64::from(from);
                    steps >= 0 && steps % i64::from(every.nth) == 0
                }
                None => (place - begin + 1) % every.nth == 0,
            }
        }))
    }

    /// Tells of lines that have no place in the end.
    fn look_for_idle(&self, runs: &[Run], faults: &mut Faults) {
        let mut has_place = vec![false; runs.len()];
        self.owners().flatten().for_each(|nth| has_place[nth] = true);
        for (run, has_place) in runs.iter().zip(has_place) {
            let is_told = faults.0.iter().any(|fault| fault.line == Some(run.line));
            if !has_place && !is_told && !matches!(run.what, Planted::Places(_)) {
                let found = say!("a line that has no place left: others take them all").to_owned();
                faults.line(run.line, say!("places"), found, say!("a place of its own").to_owned());
            }
        }
    }
}

/// The positions of numbers within `first` to `last`; else the number at fault.
fn inside(
    numbers: &RangeInclusive<i32>,
    first: i32,
    last: i32,
) -> Result<std::ops::Range<usize>, i32> {
    let (from, to) = (*numbers.start(), *numbers.end());
    match (first..=last).contains(&from) {
        false => Err(from),
        true if to < from || to > last => Err(to),
        true => Ok((from - first) as usize..(to - first + 1) as usize),
    }
}
