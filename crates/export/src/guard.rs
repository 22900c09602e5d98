//! Cells that a spreadsheet would take for a formula: an apostrophe put in front, and taken off.

use crate::columns::is_plain_number;

/// What makes a formula of a cell that begins with it, in one spreadsheet or another.
const BEGINNINGS: &[char] = &['=', '+', '-', '@', '\t', '\r', '\n', '＝', '＋', '－', '＠'];

/// The cell with an apostrophe in front where a spreadsheet would take it for a formula, or where
/// [`unguarded`] would take an apostrophe of its own away. Numbers stay numbers.
pub(crate) fn guarded(cell: &str) -> String {
    let is_guarded = may_be_formula(cell) && !is_plain_number(cell);
    format!("{}{cell}", if is_guarded { "'" } else { "" })
}

/// What was guarded.
pub(crate) fn unguarded(cell: &str) -> &str {
    cell.strip_prefix('\'').filter(|rest| may_be_formula(rest)).unwrap_or(cell)
}

/// Whether it begins as a formula, behind any number of apostrophes.
fn may_be_formula(cell: &str) -> bool {
    cell.trim_start_matches('\'').starts_with(BEGINNINGS)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn formulas_are_guarded_and_nothing_else() {
        let check = |cell: &str, expect: &str| assert_eq!(guarded(cell), expect);
        check("=1+1", "'=1+1");
        check("@SUM(A1)", "'@SUM(A1)");
        check("+31 6", "'+31 6");
        check("-2+3", "'-2+3");
        check("\t=1", "'\t=1");
        check("\r=1", "'\r=1");
        check("＝1+1", "'＝1+1");
        check("'=1", "''=1");
        check("-0.75", "-0.75");
        check("-1e-3", "-1e-3");
        check("-inf", "'-inf");
        check("'t Zand", "'t Zand");
        check("MB-1", "MB-1");
        check("", "");
    }

    proptest! {
        #[test]
        fn every_cell_comes_back(cell in "['=+@a1\\-\t\r\n,\"＝.;é]{0,6}|\\PC{0,12}") {
            let guarded = guarded(&cell);
            prop_assert_eq!(unguarded(&guarded), &cell);
            let first = guarded.chars().next();
            prop_assert!(
                is_plain_number(&guarded) || !first.is_some_and(|sign| BEGINNINGS.contains(&sign))
            );
        }
    }
}
