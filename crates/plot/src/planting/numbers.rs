//! Seedling numbers: each within its cross and year, in the order of lines, rows and places.

use std::collections::BTreeMap;

use language::say;

use super::fill::Ground;
use super::{Faults, Planted, Run};
use crate::CrossKey;

/// Numbers that a line has given.
struct Given {
    first: u64,
    last: u64,
    line: u64,
}

impl Ground {
    /// By place in order: the seedling's number within cross and year.
    pub(super) fn numbers(&self, runs: &[Run], faults: &mut Faults) -> Vec<Option<u64>> {
        let mut counts = vec![0_u64; runs.len()];
        self.owners().flatten().for_each(|nth| counts[nth] += 1);
        let mut given: BTreeMap<(&CrossKey, Option<i32>), Vec<Given>> = BTreeMap::new();
        let mut next = vec![None; runs.len()];
        for (nth, run) in runs.iter().enumerate() {
            let Planted::Cross { key, year, from_no } = &run.what else { continue };
            let Some(more) = counts[nth].checked_sub(1) else { continue };
            let given = given.entry((key, *year)).or_default();
            let greatest = given.iter().map(|given| given.last).max().unwrap_or(0);
            let first = from_no.map_or(greatest + 1, u64::from);
            let last = first + more;
            let twice = given.iter().find(|given| given.first <= last && first <= given.last);
            if let Some(Given { line, .. }) = twice {
                let found = say!("no. {first} to {last}, some of which line {line} gives");
                let expected = say!("numbers that no other line of this cross and year gives");
                faults.line(run.line, say!("no."), found, expected.to_owned());
            }
            given.push(Given { first, last, line: run.line });
            next[nth] = Some(first);
        }
        let number = |owner: Option<usize>| {
            let next = next[owner?].as_mut()?;
            *next += 1;
            Some(*next - 1)
        };
        self.owners().map(number).collect()
    }
}
