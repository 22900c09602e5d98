//! Row numbers merged down a column: a sheet says them once, in the first line of the row.

use std::collections::HashSet;

use plot::TreeField as F;

use super::{Columns, Heading, Rows, Target};

/// Lines that are looked at.
const LOOKED_AT: usize = 5_000;

/// What the column of row numbers looks like.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Merged {
    /// Whether numbers can be filled down: a place without a row stands below one that has one.
    pub(super) is_possible: bool,
    /// Whether it can mean nothing else: the first line has a row, at least half of the others
    /// have none, no row begins twice, and no place comes twice in a row.
    pub(super) is_plain: bool,
}

impl Merged {
    /// Looks at a list below its header.
    pub(super) fn look(rows: &Rows, heading: Heading, columns: &Columns) -> Self {
        let column = |field| columns.of(Target::Field(field));
        let (Some(row), Some(place)) = (column(F::Row), column(F::Place)) else {
            return Self::default();
        };
        let (mut above, mut begun, mut seen) = (None::<&str>, HashSet::new(), HashSet::new());
        let (mut filled, mut empty, mut is_plain) = (0_usize, 0_usize, true);
        let lines = heading.end()..rows.len().min(heading.end() + LOOKED_AT);
        for line in lines.filter(|&line| !rows.cell(line, place).is_empty()) {
            match (rows.cell(line, row), above) {
                ("", None) => is_plain = false,
                ("", Some(_)) => empty += 1,
                (said, _) => {
                    filled += 1;
                    is_plain &= begun.insert(said);
                    above = Some(said);
                }
            }
            is_plain &= seen.insert((above, rows.cell(line, place)));
        }
        Self { is_possible: empty > 0, is_plain: is_plain && empty >= filled.max(1) }
    }
}

#[cfg(test)]
mod tests {
    use crate::list::laws::plot;
    use crate::list::{Intake, Source, Target, Wishes};
    use plot::{EditPart, TreeField as F};

    /// Rows and places of the trees that a list brings.
    fn brought(intake: &Intake) -> Vec<(String, String)> {
        let mut trees = Vec::new();
        for part in intake.parts() {
            let EditPart::Add(line) = part else { panic!("{part:?}") };
            trees.push((line.cell(F::Row).to_owned(), line.cell(F::Place).to_owned()));
        }
        trees
    }

    fn check(list: &str, can: bool, is_filled: bool, expect: &[(&str, &str)]) {
        let mut intake = Intake::new("list", Source::Pasted(list.to_owned())).to_end(&plot());
        assert_eq!(intake.can_fill_rows(), can, "{list}");
        assert_eq!(intake.draft().expect("a draft").choices().fill_rows, is_filled, "{list}");
        // Chosen, it fills whatever was guessed.
        intake.wish(&plot(), Wishes { fill_rows: Some(true), ..Wishes::default() });
        intake = intake.to_end(&plot());
        let expect: Vec<(String, String)> =
            expect.iter().map(|&(row, place)| (row.to_owned(), place.to_owned())).collect();
        assert_eq!(brought(&intake), expect, "{list}");
        intake.wish(&plot(), Wishes { fill_rows: Some(false), ..Wishes::default() });
        intake = intake.to_end(&plot());
        let empty = list.lines().filter(|line| line.starts_with(',')).count();
        assert_eq!(intake.draft().expect("a draft").counts().faulty, empty, "{list}");
    }

    #[test]
    fn merged_row_numbers_are_filled_down_where_the_pattern_is_plain() {
        let both = [("3", "1"), ("3", "2"), ("4", "2"), ("4", "1")];
        check("row,place,tag\n3,1,a\n,2,b\n4,2,c\n,1,d\n", true, true, &both);
        // Places that come twice, a row that begins twice, hardly any empty: a person must say so.
        let twice = [("3", "1"), ("3", "2"), ("3", "1")];
        check("row,place,tag\n3,1,a\n,2,b\n,1,c\n", true, false, &twice);
        check(
            "row,place,tag\n3,1,a\n,2,b\n3,4,c\n,5,d\n",
            true,
            false,
            &[("3", "1"), ("3", "2"), ("3", "4"), ("3", "5")],
        );
        check(
            "row,place,tag\n3,1,a\n3,2,b\n3,3,c\n,4,d\n",
            true,
            false,
            &[("3", "1"), ("3", "2"), ("3", "3"), ("3", "4")],
        );
        // Nothing stands above.
        check("row,place,tag\n3,1,a\n3,2,b\n", false, false, &both[..2]);
        let intake = Intake::new("list", Source::Pasted("row,place,tag\n,1,a\n3,2,b\n".to_owned()));
        let mut intake = intake.to_end(&plot());
        assert!(!intake.can_fill_rows());
        let targets = vec![Target::Skip, Target::Field(F::Place), Target::Field(F::Tag)];
        intake.wish(&plot(), Wishes { targets: Some(targets), ..Wishes::default() });
        assert!(!intake.to_end(&plot()).can_fill_rows());
    }
}
