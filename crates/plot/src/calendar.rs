//! Dates as files write them, and the season a date belongs to.

use serde::{Deserialize, Serialize};
use std::cmp::Ordering;
use std::fmt;
use time::format_description::well_known::Rfc3339;
use time::macros::format_description;
use time::{Date, Month, OffsetDateTime, Time, UtcOffset};

/// A date, or a date with time and offset, as ISO 8601 / RFC 3339 writes it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(into = "String", try_from = "String")]
pub struct When {
    date: Date,
    clock: Option<(Time, UtcOffset)>,
}

impl When {
    /// A bare date.
    pub fn on(date: Date) -> Self {
        Self { date, clock: None }
    }

    /// A date with time of day and offset from UTC.
    pub fn at(moment: OffsetDateTime) -> Self {
        Self { date: moment.date(), clock: Some((moment.time(), moment.offset())) }
    }

    /// Reads `2031-06-14` or `2031-06-14T09:31:05+02:00`; anything else is `None`.
    pub fn parse(text: &str) -> Option<Self> {
        if text.len() == 10 {
            return Self::parse_date(text).map(Self::on);
        }
        OffsetDateTime::parse(text, &Rfc3339).ok().map(Self::at)
    }

    /// Reads `2031-06-14`; anything else, also a day that does not exist, is `None`.
    pub fn parse_date(text: &str) -> Option<Date> {
        Date::parse(text, format_description!("[year]-[month]-[day]")).ok()
    }

    /// The local calendar day.
    pub fn date(self) -> Date {
        self.date
    }

    /// The moment, where it has one.
    pub fn moment(self) -> Option<OffsetDateTime> {
        let (time, offset) = self.clock?;
        Some(OffsetDateTime::new_in_offset(self.date, time, offset))
    }

    /// Order in time: by local day, then by moment where both have one. A bare date comes before
    /// every moment of its day, so that a score with a clock wins over one without.
    pub fn cmp_in_time(&self, other: &Self) -> Ordering {
        self.date.cmp(&other.date).then_with(|| match (self.clock, other.clock) {
            (Some(_), Some(_)) => self.moment().cmp(&other.moment()),
            (a, b) => a.is_some().cmp(&b.is_some()),
        })
    }
}

impl fmt::Display for When {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.clock {
            None => {
                let (year, month, day) = self.date.to_calendar_date();
                write!(f, "{year:04}-{:02}-{day:02}", u8::from(month))
            }
            Some((time, offset)) => {
                let moment = OffsetDateTime::new_in_offset(self.date, time, offset);
                f.write_str(&moment.format(&Rfc3339).map_err(|_| fmt::Error)?)
            }
        }
    }
}

impl From<When> for String {
    fn from(when: When) -> Self {
        when.to_string()
    }
}

impl TryFrom<String> for When {
    type Error = &'static str;
    fn try_from(text: String) -> Result<Self, Self::Error> {
        Self::parse(&text).ok_or("expected an ISO 8601 date, or a date and time with offset")
    }
}

/// A season, named by the calendar year in which it starts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct Season(pub i32);

impl Season {
    /// The season of `date` when seasons start on the first of `starts_month` (1 to 12).
    pub fn of(date: Date, starts_month: u8) -> Self {
        let before_start = u8::from(date.month()) < starts_month;
        Self(date.year() - i32::from(before_start))
    }

    /// Its first and its last day, when seasons start on the first of `starts_month` (1 to 12).
    pub fn days(self, starts_month: u8) -> (Date, Date) {
        let first = |year: i32| {
            let month = Month::try_from(starts_month).unwrap_or(Month::January);
            Date::from_calendar_date(year, month, 1).unwrap_or(Date::MAX)
        };
        let next = first(self.0.saturating_add(1));
        (first(self.0), next.previous_day().unwrap_or(next))
    }
}

impl fmt::Display for Season {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dates_are_read_and_written_the_same() {
        for text in
            ["2031-06-14", "2031-06-14T09:31:05+02:00", "2028-02-29", "2031-06-14T23:00:00Z"]
        {
            let when = When::parse(text).expect(text);
            assert_eq!(when.to_string(), text);
        }
    }

    #[test]
    fn dates_that_do_not_exist_are_refused() {
        for text in
            ["2031-02-29", "2031-13-01", "2031-6-14", "14.06.2031", "", "2031-06-14T25:00:00Z"]
        {
            assert_eq!(When::parse(text), None, "{text}");
        }
    }

    #[test]
    fn the_season_follows_its_first_month() {
        let day = |text| When::parse_date(text).expect("a date");
        assert_eq!(Season::of(day("2031-01-01"), 1), Season(2031));
        assert_eq!(Season::of(day("2031-06-30"), 7), Season(2030));
        assert_eq!(Season::of(day("2031-07-01"), 7), Season(2031));
        assert_eq!(Season(2031).days(1), (day("2031-01-01"), day("2031-12-31")));
        assert_eq!(Season(2031).days(7), (day("2031-07-01"), day("2032-06-30")));
    }

    #[test]
    fn a_moment_comes_after_the_bare_date_of_its_day() {
        let when = |text| When::parse(text).expect("a date");
        let (bare, early, late) =
            (when("2031-06-14"), when("2031-06-14T09:00:00+02:00"), when("2031-06-14T08:00:00Z"));
        assert_eq!(bare.cmp_in_time(&early), Ordering::Less);
        assert_eq!(early.cmp_in_time(&late), Ordering::Less);
    }
}
