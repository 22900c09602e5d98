//! Numbers as lists write them: decimal comma or dot, thousands, units.

use super::{Rows, Separator};

/// Rows that are looked at.
const LOOKED_AT: usize = 500;

/// What a comma means in `1,234`; all else is told from the number itself.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Decimal {
    /// `0.75`; `1,234` is a thousand and more.
    Dot,
    /// `0,75`; `1.234` is a thousand and more.
    Comma,
}

impl Decimal {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Dot, Self::Comma];

    /// What the numbers of a list say; where none does, a list parted by semicolons has commas.
    pub fn sniff(rows: &Rows, separator: Separator) -> Self {
        let (mut dots, mut commas) = (0_usize, 0_usize);
        for row in 0..rows.len().min(LOOKED_AT) {
            for column in 0..rows.cells(row) {
                match evidence(rows.cell(row, column)) {
                    Some(Self::Dot) => dots += 1,
                    Some(Self::Comma) => commas += 1,
                    None => {}
                }
            }
        }
        match dots.cmp(&commas) {
            std::cmp::Ordering::Greater => Self::Dot,
            std::cmp::Ordering::Less => Self::Comma,
            std::cmp::Ordering::Equal if separator == Separator::Semicolon => Self::Comma,
            std::cmp::Ordering::Equal => Self::Dot,
        }
    }

    /// A number, with the word behind it (its unit); none when it is none.
    ///
    /// Where only one reading makes a number, it is taken whatever the list writes elsewhere:
    /// `0,75` and `0.75` both are three quarters. Only a single group of three digits is read
    /// as the list has it.
    pub fn number(self, text: &str) -> Option<(f64, &str)> {
        let text = text.trim().trim_start_matches('\'');
        let end = text.rfind(|letter: char| letter.is_ascii_digit())? + 1;
        let unit = text[end..].trim().trim_end_matches('.');
        let (sign, digits) = match text[..end].strip_prefix(['-', '−', '–']) {
            Some(digits) => (-1.0, digits),
            None => (1.0, text[..end].strip_prefix('+').unwrap_or(&text[..end])),
        };
        let plain = self.plain(digits)?;
        let value: f64 = plain.parse().ok()?;
        value.is_finite().then_some((sign * value, unit))
    }

    /// Digits with a dot for decimals.
    fn plain(self, digits: &str) -> Option<String> {
        let blank =
            |letter: char| matches!(letter, ' ' | '\u{a0}' | '\u{202f}' | '\u{2009}' | '\'' | '’');
        let known =
            |letter: char| letter.is_ascii_digit() || matches!(letter, '.' | ',') || blank(letter);
        if digits.is_empty() || !digits.chars().all(known) {
            return None;
        }
        let (whole, decimals) = match decimal_at(digits, self) {
            Some(at) => (&digits[..at], Some(&digits[at + 1..])),
            None => (digits, None),
        };
        let groups: Vec<&str> =
            whole.split(|letter| blank(letter) || matches!(letter, '.' | ',')).collect();
        let (first, rest) = groups.split_first()?;
        let is_grouped = rest.iter().all(|group| group.len() == 3)
            && (rest.is_empty() || (1..=3).contains(&first.len()));
        let marks: std::collections::BTreeSet<char> =
            whole.chars().filter(|letter| !letter.is_ascii_digit()).collect();
        let decimals_sound = decimals.is_none_or(|decimals| {
            !decimals.is_empty() && decimals.bytes().all(|it| it.is_ascii_digit())
        });
        if !is_grouped || marks.len() > 1 || !decimals_sound {
            return None;
        }
        let whole = if groups.concat().is_empty() { "0".to_owned() } else { groups.concat() };
        Some(decimals.map_or(whole.clone(), |decimals| format!("{whole}.{decimals}")))
    }
}

/// Where the decimal sign of a number stands; none where it has none.
fn decimal_at(digits: &str, list: Decimal) -> Option<usize> {
    let (dot, comma) = (digits.rfind('.'), digits.rfind(','));
    match (dot, comma) {
        (Some(dot), Some(comma)) => Some(dot.max(comma)),
        (None, None) => None,
        (dot, comma) => {
            let at = dot.or(comma)?;
            let sign = if dot.is_some() { '.' } else { ',' };
            let several = digits.matches(sign).count() > 1;
            let could_group =
                digits.len() - at == 4 && (1..=3).contains(&at) && !digits.starts_with('0');
            let is_lists = (list == Decimal::Dot) == (sign == '.');
            (!several && (!could_group || is_lists)).then_some(at)
        }
    }
}

/// What a number says of the list's decimal sign; none when both readings make a number, or none.
fn evidence(text: &str) -> Option<Decimal> {
    // Whether each reading makes the same: then it is the number that says so.
    let (dot, comma) = (Decimal::Dot.number(text)?.0, Decimal::Comma.number(text)?.0);
    let last = text.rfind(['.', ','])?;
    let decimals = text[last + 1..].bytes().take_while(u8::is_ascii_digit).count();
    let fraction = dot == comma && (dot.fract() != 0.0 || decimals != 3);
    fraction.then_some(if text[last..].starts_with('.') { Decimal::Dot } else { Decimal::Comma })
}

#[cfg(test)]
mod tests {
    use super::Decimal::{self, Comma, Dot};
    use crate::list::{Reading, Separator};

    #[test]
    fn numbers_are_read_as_they_are_meant() {
        let check = |text: &str, decimal: Decimal, expect: Option<(f64, &str)>| {
            assert_eq!(decimal.number(text), expect, "{text}");
        };
        for decimal in Decimal::ALL {
            check("12", decimal, Some((12.0, "")));
            check("0,75 m", decimal, Some((0.75, "m")));
            check("0.75", decimal, Some((0.75, "")));
            check("0,750", decimal, Some((0.75, "")));
            check("−3.5°", decimal, Some((-3.5, "°")));
            check("1.234,5", decimal, Some((1234.5, "")));
            check("1,234.5", decimal, Some((1234.5, "")));
            check("1 234 567", decimal, Some((1_234_567.0, "")));
            check("1.234.567", decimal, Some((1_234_567.0, "")));
            check("12’500.25 cm.", decimal, Some((12500.25, "cm")));
            check("5.1234567", decimal, Some((5.1234567, "")));
            check(".5", decimal, Some((0.5, "")));
            check("'7", decimal, Some((7.0, "")));
            for none in ["", "m", "1,2,3", "1.23.456", "12 34", "3a4", "1,234.567.8", "--1"] {
                assert_eq!(decimal.number(none), None, "{none}");
            }
        }
        check("1,234", Dot, Some((1234.0, "")));
        check("1,234", Comma, Some((1.234, "")));
        check("1.234", Comma, Some((1234.0, "")));
        check("1.234", Dot, Some((1.234, "")));
    }

    #[test]
    fn the_decimal_sign_is_told_by_the_whole_list() {
        let check = |text: &str, separator, expect: Decimal| {
            let rows = Reading::new(text.to_owned(), separator).to_end();
            assert_eq!(Decimal::sniff(&rows, separator), expect, "{text}");
        };
        check("x;y\n1,234;0,75\n", Separator::Semicolon, Comma);
        check("x;y\n1.234;0.75\n", Separator::Semicolon, Dot);
        check("x;y\n1.234;2\n", Separator::Semicolon, Comma);
        check("x\ty\n1.234\t2\n", Separator::Tab, Dot);
        check("planted;x\n14.06.2031;0,5 m\n", Separator::Semicolon, Comma);
    }
}
