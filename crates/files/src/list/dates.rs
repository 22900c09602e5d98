//! Days as lists write them: `2031-06-14`, `14.06.2031`, `6/14/2031`, `14 June 2031`.

use time::{Date, Month};

/// Which comes first in a day such as `4/6/2031`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DateOrder {
    /// The 4th of June.
    DayMonth,
    /// The 6th of April.
    MonthDay,
}

/// What the days of a whole column say of their order.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Column {
    day_first: bool,
    month_first: bool,
    open: bool,
}

/// How a day is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Written {
    /// In one way only.
    Plain(Date),
    /// Two numbers before the year, parted by slashes or dashes: either may be the day.
    Two(u8, u8, i32),
}

impl Column {
    /// Looks at one more cell.
    pub(super) fn look(&mut self, text: &str) {
        // Most cells are plain at a glance, and lists are long.
        let begins_with_year = text.len() > 4 && text.bytes().take(4).all(|it| it.is_ascii_digit());
        if begins_with_year || !text.contains(['/', '-']) {
            return;
        }
        if let Some(Written::Two(first, second, year)) = written(text) {
            let day_first = day(year, second, first).is_some();
            let month_first = day(year, first, second).is_some();
            match (day_first, month_first) {
                (true, true) => self.open |= first != second,
                (true, false) => self.day_first = true,
                (false, true) => self.month_first = true,
                (false, false) => {}
            }
        }
    }

    /// The order; none where no cell says, or cells say both.
    pub(super) fn order(self) -> Option<DateOrder> {
        match (self.day_first, self.month_first) {
            (true, false) => Some(DateOrder::DayMonth),
            (false, true) => Some(DateOrder::MonthDay),
            _ => None,
        }
    }

    /// Whether some cell may be either, and no other says which.
    pub(super) fn is_ambiguous(self) -> bool {
        self.open && self.order().is_none()
    }
}

/// A day, where `order` says which of two numbers is the day.
pub(super) fn read(text: &str, order: Option<DateOrder>) -> Result<Date, Unread> {
    match written(text).ok_or(Unread::NoDay)? {
        Written::Plain(date) => Ok(date),
        Written::Two(first, second, year) => {
            let (day_month, month_day) = (day(year, second, first), day(year, first, second));
            match order {
                Some(DateOrder::DayMonth) => day_month.ok_or(Unread::NoDay),
                Some(DateOrder::MonthDay) => month_day.ok_or(Unread::NoDay),
                // A day that can only be one of both is sure by itself.
                None => match (day_month, month_day) {
                    (Some(date), None) | (None, Some(date)) => Ok(date),
                    (Some(one), Some(other)) if one == other => Ok(one),
                    (None, None) => Err(Unread::NoDay),
                    _ => Err(Unread::Ambiguous),
                },
            }
        }
    }
}

/// Why a cell is no day.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Unread {
    NoDay,
    Ambiguous,
}

fn written(text: &str) -> Option<Written> {
    let text = without_time(text.trim().trim_start_matches('\''));
    if let Some(date) = with_month_name(text) {
        return Some(Written::Plain(date));
    }
    let mark = text.chars().find(|letter| matches!(letter, '-' | '.' | '/'))?;
    let parts: Vec<&str> = text.trim_end_matches('.').split(mark).map(str::trim).collect();
    let [first, second, third] = parts[..] else { return None };
    let is_number = |part: &str, most: usize| {
        (1..=most).contains(&part.len()) && part.bytes().all(|byte| byte.is_ascii_digit())
    };
    if first.len() == 4 && is_number(first, 4) && is_number(second, 2) && is_number(third, 2) {
        let date = day(first.parse().ok()?, second.parse().ok()?, third.parse().ok()?)?;
        return Some(Written::Plain(date));
    }
    if !is_number(first, 2) || !is_number(second, 2) {
        return None;
    }
    let (first, second, year) = (first.parse().ok()?, second.parse().ok()?, year(third)?);
    match mark {
        // With dots the day comes first, as DIN 5008 and its like have it.
        '.' => day(year, second, first).map(Written::Plain),
        _ => Some(Written::Two(first, second, year)),
    }
}

/// A year of four digits; of two, as POSIX reads `%y`: 69 to 99 are 1969 to 1999, others 20…
fn year(text: &str) -> Option<i32> {
    let digits = text.bytes().all(|byte| byte.is_ascii_digit()).then_some(text.len())?;
    let number: i32 = text.parse().ok()?;
    match digits {
        4 => Some(number),
        2 => Some(if number >= 69 { 1900 + number } else { 2000 + number }),
        _ => None,
    }
}

/// The day of a moment: what stands before `T` or a space with a time of day.
fn without_time(text: &str) -> &str {
    let cut = text.find(['T', ' ']).filter(|&at| {
        let (day, time) = (&text[..at], &text[at + 1..]);
        day.bytes().all(|byte| byte.is_ascii_digit() || b"-./".contains(&byte))
            && day.len() >= 6
            && time.bytes().next().is_some_and(|byte| byte.is_ascii_digit())
            && time.contains(':')
    });
    cut.map_or(text, |at| &text[..at])
}

/// `14 June 2031`, `14. Juni 2031`, `June 14, 2031`, `14-Jun-31`.
fn with_month_name(text: &str) -> Option<Date> {
    let parted = |letter: char| letter.is_whitespace() || matches!(letter, '.' | ',' | '-' | '/');
    let parts: Vec<&str> = text.split(parted).filter(|part| !part.is_empty()).collect();
    let [first, second, third] = parts[..] else { return None };
    let (name, number) = match first.starts_with(|letter: char| letter.is_ascii_digit()) {
        true => (second, first),
        false => (first, second.trim_end_matches("th")),
    };
    day(year(third)?, month(name)?, number.parse().ok()?)
}

fn month(name: &str) -> Option<u8> {
    const STARTS: [(&str, u8); 22] = [
        ("jan", 1),
        ("feb", 2),
        ("fev", 2),
        ("mar", 3),
        ("mrt", 3),
        ("maa", 3),
        ("apr", 4),
        ("avr", 4),
        ("abr", 4),
        ("may", 5),
        ("mai", 5),
        ("mei", 5),
        ("jun", 6),
        ("juin", 6),
        ("jul", 7),
        ("juil", 7),
        ("aug", 8),
        ("sep", 9),
        ("oct", 10),
        ("okt", 10),
        ("nov", 11),
        ("dec", 12),
    ];
    let name = super::words::folded(name);
    let known = STARTS.iter().find(|(start, _)| name.starts_with(start)).map(|(_, month)| *month);
    known.or(match name.as_str() {
        "dez" | "dezember" => Some(12),
        "aout" | "ago" | "agosto" => Some(8),
        _ => None,
    })
}

fn day(year: i32, month: u8, day: u8) -> Option<Date> {
    Date::from_calendar_date(year, Month::try_from(month).ok()?, day).ok()
}

#[cfg(test)]
mod tests {
    use super::{Column, DateOrder, Unread, read};

    #[test]
    fn days_of_all_styles_are_read() {
        let check = |text: &str, expect: &str| {
            assert_eq!(
                read(text, None).map(|date| date.to_string()),
                Ok(expect.to_owned()),
                "{text}"
            );
        };
        for text in [
            "2031-06-14",
            "2031/6/14",
            "14.06.2031",
            "14.6.31",
            "6/14/2031",
            "14/06/2031",
            "14-06-2031",
            "2031-06-14T09:30:00",
            "2031-06-14 00:00:00",
            "14 June 2031",
            "14. Juni 2031",
            "June 14, 2031",
            "14-Jun-31",
            "14 juin 2031",
            " 2031-06-14 ",
        ] {
            check(text, "2031-06-14");
        }
        check("5/5/2031", "2031-05-05");
        check("1.12.1999", "1999-12-01");
        check("1.12.70", "1970-12-01");
        check("3 Dez 2030", "2030-12-03");
        check("3 mars 2030", "2030-03-03");
        for none in [
            "",
            "2031",
            "31.02.2031",
            "14.6.",
            "2031-13-01",
            "48012",
            "32/13/2031",
            "6/14/031",
            "june",
        ] {
            assert_eq!(read(none, None), Err(Unread::NoDay), "{none}");
        }
        assert_eq!(read("4/6/2031", None), Err(Unread::Ambiguous));
    }

    #[test]
    fn the_whole_column_says_which_comes_first() {
        let check = |cells: &[&str], order: Option<DateOrder>, ambiguous: bool| {
            let mut column = Column::default();
            cells.iter().for_each(|cell| column.look(cell));
            assert_eq!((column.order(), column.is_ambiguous()), (order, ambiguous), "{cells:?}");
        };
        check(&["4/6/2031", "14/6/2031"], Some(DateOrder::DayMonth), false);
        check(&["4/6/2031", "6/14/2031", "2031-01-02", ""], Some(DateOrder::MonthDay), false);
        check(&["4/6/2031", "5/5/2031"], None, true);
        check(&["4.6.2031", "2031-06-04", "5/5/2031"], None, false);
        check(&["4/6/2031", "14/6/2031", "6/14/2031"], None, true);
        let date = read("4/6/2031", Some(DateOrder::MonthDay)).map(|date| date.to_string());
        assert_eq!(date, Ok("2031-04-06".to_owned()));
        assert_eq!(read("14/6/2031", Some(DateOrder::MonthDay)), Err(Unread::NoDay));
    }
}
