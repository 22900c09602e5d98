//! A plan of a plot that is yet to be planted: rows of so many places, what stands where, and the
//! plot that comes of it.

mod fill;
mod numbers;
#[cfg(test)]
mod tests;

use std::ops::RangeInclusive;

use time::Date;

use crate::{
    CrossKey, GenotypeId, Head, Plot, Problem, Refusal, Role, Status, TreeDraft, TreeId, Weight,
    WhereGiven,
};
use fill::Ground;

/// What problems call the lines of a plan.
pub const PLANTING_LIST: &str = "planting list";
/// Most places that a plan may have.
pub const MOST_PLACES: i32 = 100_000;
const FORM: &str = "form";

/// A plan of a plot.
#[derive(Clone, Debug, PartialEq)]
pub struct Planting {
    /// What `plot.json` will say.
    pub head: Head,
    /// How many rows.
    pub rows: i32,
    /// How many places each row has, where no line says otherwise.
    pub places: i32,
    /// The lines of the planting list, in their order.
    pub runs: Vec<Run>,
    /// When all of it was planted.
    pub planted_on: Option<Date>,
}

/// One line of a planting list: what stands at some of the places.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// Its line in the list, from 1.
    pub line: u64,
    /// In which rows; none: in all.
    pub rows: Option<RangeInclusive<i32>>,
    /// At which places of these rows; none: at all.
    pub places: Option<RangeInclusive<i32>>,
    /// At intervals only.
    pub every: Option<Every>,
    /// What stands there.
    pub what: Planted,
}

/// Places at intervals, counted in each row anew.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Every {
    /// Every so manieth place, 2 or more.
    pub nth: i32,
    /// The number of the first of them; none: the nth place of those that the line names.
    pub from: Option<i32>,
}

/// What a line puts at its places.
#[derive(Clone, Debug, PartialEq)]
pub enum Planted {
    /// Nothing: it says how many places the rows have.
    Places(i32),
    /// Seedlings of a cross.
    Cross {
        /// The parents.
        key: CrossKey,
        /// Year of the cross.
        year: Option<i32>,
        /// Number of the first seedling; none: numbers go on where the cross's last line ended.
        from_no: Option<u32>,
    },
    /// Trees that are no seedlings: a named sort, a check, a guard.
    Sort {
        /// What they are there for.
        role: Role,
        /// What they are; only a guard may have none.
        name: Option<GenotypeId>,
    },
    /// Places left empty.
    Empty,
}

impl Planting {
    /// The plot of the plan: a tree for each place, by row and place, ids in that order.
    ///
    /// More than one line may name a place. Then what is said of fewer places wins, whatever the
    /// order of the lines: *empty* over all, sorts, checks and guards over places at intervals,
    /// these over a cross. A place that no line names gets a seedling of unknown parents.
    ///
    /// # Errors
    /// Every fault of the plan: what [`Plot::new`] refuses; more than [`MOST_PLACES`] places; a
    /// row, place or interval that is not there; two lines of the same weight on one place; a line
    /// that no place is left to; a seedling number given twice.
    pub fn plant(&self) -> Result<Plot, Vec<Problem>> {
        let mut faults = Faults::default();
        let plot = Plot::new(self.head.clone());
        let ground = Ground::laid(self, &mut faults);
        let numbers = match &ground {
            Some(ground) => ground.numbers(&self.runs, &mut faults),
            None => Vec::new(),
        };
        match (plot, ground) {
            (Ok(plot), Some(ground)) if faults.0.is_empty() => {
                ground.planted(plot, self, &numbers).map_err(|refusal| vec![of_form(refusal)])
            }
            (plot, _) => {
                let head = plot.err().map(of_form);
                faults.0.sort_by_key(|fault| fault.line);
                Err(head.into_iter().chain(faults.0).collect())
            }
        }
    }
}

impl Run {
    /// Which of two lines on one place wins: the greater.
    fn weight(&self) -> u8 {
        match (&self.what, self.every) {
            (Planted::Empty, _) => 3,
            (_, Some(_)) => 1,
            (Planted::Sort { .. }, None) => 2,
            _ => 0,
        }
    }

    /// The tree of this line at a place.
    fn tree(&self, id: TreeId, number: Option<u64>) -> TreeDraft {
        let mut tree = TreeDraft::new(id);
        match &self.what {
            Planted::Places(_) => {}
            Planted::Cross { key, year, .. } => {
                (tree.cross, tree.cross_year) = (key.clone(), *year);
                tree.seedling_no = number.map(|number| number.to_string().into());
            }
            Planted::Sort { role, name } => (tree.role, tree.genotype) = (*role, name.clone()),
            Planted::Empty => tree.status = Status::Empty,
        }
        tree
    }
}

fn of_form(refusal: Refusal) -> Problem {
    refusal.at(Weight::Fault, FORM, None)
}

/// What is wrong with a plan.
#[derive(Default)]
struct Faults(Vec<Problem>);

impl Faults {
    fn form(&mut self, column: &'static str, found: String, expected: String) {
        self.0.push(of_form(Refusal::new(column, found, expected)));
    }

    fn line(&mut self, line: u64, column: &'static str, found: String, expected: String) {
        let refusal = Refusal::new(column, found, expected);
        self.0.push(refusal.at(Weight::Fault, PLANTING_LIST, Some(line)));
    }
}

fn at(row: i32, place: i32) -> WhereGiven {
    WhereGiven { row: Some(row), place: Some(place), ..WhereGiven::default() }
}
