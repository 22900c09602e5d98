//! What each column may be: told by its head, and by what its cells look like.

use std::collections::{BTreeMap, BTreeSet};

use language::say;
use plot::TreeField as F;

use super::numbers::Decimal;
use super::own::OwnNames;
use super::words::{self, Sure};
use super::{Heading, Rows, Target, cells, dates};

/// Cells of a column that are looked at.
const LOOKED_AT: usize = 200;

/// The columns of a list.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Columns {
    /// What stands over each; empty where nothing does.
    pub heads: Vec<String>,
    /// What each is taken as.
    pub targets: Vec<Target>,
    /// Whether it is a table that the plot itself wrote.
    pub is_own: bool,
}

impl Columns {
    /// What each column of a list below a header may be. A head that is known counts, unless most
    /// cells cannot be that; without one, only what cells plainly look like. No target but notes
    /// is guessed twice.
    pub fn guess(rows: &Rows, heading: Heading) -> Self {
        Self::guess_with(rows, heading, None)
    }

    /// The same for a table that the plot itself wrote: what it named is what it says.
    pub(super) fn guess_with(rows: &Rows, heading: Heading, own: Option<&OwnNames>) -> Self {
        let below = heading.end()..rows.len().min(heading.end() + LOOKED_AT);
        let header = (heading.row..heading.end()).map(|row| rows.width(row)).max();
        let width =
            header.unwrap_or_else(|| below.clone().map(|row| rows.width(row)).max().unwrap_or(0));
        let heads = heading.names(rows, width);
        let look = |column: usize| Looks::of(below.clone().map(|row| rows.cell(row, column)));
        let looks: Vec<Looks> = (0..width).map(look).collect();
        let named = |head: &String| own.and_then(|own| own.target(head));
        let named: Vec<Option<Target>> = heads.iter().map(named).collect();
        let targets: Vec<Target> = named.iter().map(|one| one.unwrap_or(Target::Skip)).collect();
        let taken = named.iter().copied().flatten().collect();
        let is_named = named.iter().map(Option::is_some).collect();
        let mut guess = Guess { targets, taken, is_named };
        for sure in [Sure::Exactly, Sure::Nearly] {
            for column in 0..width {
                let said = heading.says(rows, &heads[column], column).filter(|said| said.1 == sure);
                let Some((target, _)) = said else { continue };
                let place_too = matches!(target, Target::Field(F::Row | F::Place))
                    && looks[column].mostly(|look| look.row_places);
                let target = if place_too { Target::RowPlace } else { target };
                if looks[column].may_be(target) {
                    guess.take(column, target);
                }
            }
        }
        for (column, look) in looks.iter().enumerate() {
            guess.by_cells(column, look);
        }
        if heads.iter().all(String::is_empty) {
            guess.by_numbers(&looks);
        }
        Self { heads, targets: guess.targets, is_own: own.is_some() }
    }

    /// What problems call a column: its head, or its place in the list.
    pub fn name(&self, column: usize) -> String {
        match self.heads.get(column).map(String::as_str) {
            Some("") | None => say!("column {number}", number = column + 1),
            Some(head) => head.to_owned(),
        }
    }

    /// Columns that are taken as something that only one column may be, and another is, too.
    pub fn doubled(&self) -> Vec<usize> {
        let mut count = BTreeMap::<Target, usize>::new();
        self.targets.iter().for_each(|target| *count.entry(*target).or_default() += 1);
        let is_doubled = |target: &Target| !target.takes_several() && count[target] > 1;
        (0..self.targets.len()).filter(|&column| is_doubled(&self.targets[column])).collect()
    }

    /// The column taken as a target; the first of several.
    pub fn of(&self, target: Target) -> Option<usize> {
        self.targets.iter().position(|&one| one == target)
    }

    /// Whether it is there.
    pub fn has(&self, field: F) -> bool {
        self.of(Target::Field(field)).is_some()
    }
}

struct Guess {
    targets: Vec<Target>,
    taken: BTreeSet<Target>,
    /// Columns that need no guess.
    is_named: Vec<bool>,
}

impl Guess {
    fn take(&mut self, column: usize, target: Target) {
        if self.targets[column] == Target::Skip
            && !self.is_named[column]
            && (target.takes_several() || self.taken.insert(target))
        {
            self.targets[column] = target;
        }
    }

    /// What words tell whatever stands over them.
    fn by_cells(&mut self, column: usize, looks: &Looks) {
        let shapes: [(Target, Count); 3] = [
            (Target::Cross, |looks| looks.crosses),
            (Target::Field(F::Status), |looks| looks.statuses),
            (Target::Field(F::Role), |looks| looks.roles),
        ];
        for (target, count) in shapes {
            let parents = [F::SeedParent, F::PollenParent].map(Target::Field);
            let has_parents = parents.iter().any(|parent| self.taken.contains(parent));
            if looks.mostly(count) && !(target == Target::Cross && has_parents) {
                self.take(column, target);
            }
        }
    }

    /// Columns without heads: whole numbers that repeat are rows, then places; days are those of
    /// planting; the first words that hardly repeat are tags, others notes.
    fn by_numbers(&mut self, looks: &[Looks]) {
        let free = |guess: &Self, column: usize| guess.targets[column] == Target::Skip;
        let mut whole: Vec<usize> = (0..looks.len())
            .filter(|&column| free(self, column) && looks[column].all(|look| look.whole))
            .collect();
        whole.truncate(2);
        if let [one, other] = whole[..] {
            let fewer = looks[other].distinct < looks[one].distinct;
            let (row, place) = if fewer { (other, one) } else { (one, other) };
            self.take(row, Target::Field(F::Row));
            self.take(place, Target::Field(F::Place));
        }
        for (column, look) in looks.iter().enumerate() {
            if look.mostly(|look| look.row_places) && look.distinct * 10 >= look.filled * 9 {
                self.take(column, Target::RowPlace);
            } else if look.all(|look| look.days) {
                self.take(column, Target::Field(F::PlantedOn));
            } else if look.filled > 0 && look.numbers == 0 {
                let has_tags = self.taken.contains(&Target::Field(F::Tag));
                let is_tag = !has_tags && look.distinct * 10 >= look.filled * 8;
                self.take(column, Target::Field(if is_tag { F::Tag } else { F::Note }));
            }
        }
    }
}

type Count = fn(&Looks) -> usize;

/// How many cells of a column look like what.
#[derive(Debug, Default)]
struct Looks {
    filled: usize,
    whole: usize,
    numbers: usize,
    days: usize,
    statuses: usize,
    roles: usize,
    crosses: usize,
    row_places: usize,
    distinct: usize,
}

impl Looks {
    fn of<'a>(cells: impl Iterator<Item = &'a str>) -> Self {
        let mut looks = Self::default();
        let mut seen = BTreeSet::new();
        for cell in cells.filter(|cell| !cell.is_empty()) {
            let number = Decimal::Dot.number(cell).map(|(value, _)| value);
            let is_word = cell.chars().any(char::is_alphabetic) && cell.len() > 1;
            looks.filled += 1;
            looks.numbers += usize::from(number.is_some());
            looks.whole += usize::from(number.is_some_and(|value| value.fract() == 0.0));
            looks.days += usize::from(dates::read(cell, None) != Err(dates::Unread::NoDay));
            looks.statuses += usize::from(is_word && words::status(cell).is_some());
            looks.roles += usize::from(is_word && words::role(cell).is_some());
            looks.crosses += usize::from(cells::parents(cell).is_some());
            looks.row_places += usize::from(number.is_none() && cells::row_place(cell).is_some());
            seen.insert(cell);
        }
        looks.distinct = seen.len();
        looks
    }

    fn mostly(&self, count: impl Fn(&Self) -> usize) -> bool {
        self.filled > 0 && count(self) * 5 >= self.filled * 4
    }

    fn all(&self, count: impl Fn(&Self) -> usize) -> bool {
        self.filled > 0 && count(self) == self.filled
    }

    /// Whether at least half of the cells can be that.
    fn may_be(&self, target: Target) -> bool {
        let fit = match target {
            Target::Field(F::Row | F::Place | F::CrossYear) => self.whole,
            Target::Field(F::X | F::Y | F::Lon | F::Lat) => self.numbers,
            Target::Field(F::PlantedOn | F::RemovedOn) => self.days,
            Target::RowPlace => self.row_places,
            _ => self.filled,
        };
        fit * 2 >= self.filled
    }
}
