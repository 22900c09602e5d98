//! Cells that a spreadsheet would take for a formula: an apostrophe put in front of them in tables
//! that are written for spreadsheets, and taken off in lists that are brought in.

/// What makes a formula of a cell that begins with it, in one spreadsheet or another.
const BEGINNINGS: &[char] = &['=', '+', '-', '@', '\t', '\r', '\n', '＝', '＋', '－', '＠'];

/// The cell with an apostrophe in front where a spreadsheet would take it for a formula, or where
/// [`unguarded`] would take an apostrophe of its own away. Numbers stay numbers.
pub fn guarded(cell: &str) -> String {
    let is_guarded = may_be_formula(cell) && !is_plain_number(cell);
    format!("{}{cell}", if is_guarded { "'" } else { "" })
}

/// What was guarded.
pub fn unguarded(cell: &str) -> &str {
    cell.strip_prefix('\'').filter(|rest| may_be_formula(rest)).unwrap_or(cell)
}

/// A number as a spreadsheet understands it, and gives it back: digits, at most a minus in front,
/// a dot with digits behind it, an exponent; no needless zero in front.
pub fn is_plain_number(cell: &str) -> bool {
    let unsigned = cell.strip_prefix('-').unwrap_or(cell);
    let (mantissa, exponent) = unsigned.split_once(['e', 'E']).unwrap_or((unsigned, "0"));
    let (whole, share) = mantissa.split_once('.').unwrap_or((mantissa, "0"));
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    let is_led_by_zero = whole.len() > 1 && whole.starts_with('0');
    digits(whole)
        && !is_led_by_zero
        && digits(share)
        && digits(exponent.strip_prefix(['-', '+']).unwrap_or(exponent))
        && cell.parse::<f64>().is_ok_and(f64::is_finite)
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

    #[test]
    fn numbers_are_told_from_names_and_formulas() {
        for number in ["0", "-3", "0.75", "-0.5", "1e-3", "12", "1E+7", "2031"] {
            assert!(is_plain_number(number), "{number}");
        }
        let others = [
            "", "-", "+3", "007", "0x1", "1,5", "-2-3", "inf", "nan", ".5", "5.", "1e", "1e999",
            "=1",
        ];
        for other in others {
            assert!(!is_plain_number(other), "{other}");
        }
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
