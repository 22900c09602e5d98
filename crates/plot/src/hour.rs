//! An hour of local standard time, and the ways in which files write it.

use std::fmt;

use time::Date;

/// The Julian day of 1970-01-01, from which hours are counted.
const EPOCH_DAY: i32 = 2_440_588;

/// An hour of the plot's local standard time, named by its beginning: `2031-06-14T09:00`.
///
/// Local standard time has no summer time, so that each day has 24 hours.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct LocalHour(i32);

impl LocalHour {
    /// The hour of a day that begins at `hour` o'clock; none above 23.
    pub fn new(date: Date, hour: u8) -> Option<Self> {
        (hour < 24).then(|| Self((date.to_julian_day() - EPOCH_DAY) * 24 + i32::from(hour)))
    }

    /// The hour so many hours later (earlier: negative); none where no date has a name any more
    /// (beyond the years −9999 to 9999).
    pub fn plus(self, hours: i32) -> Option<Self> {
        let number = self.0.checked_add(hours)?;
        Date::from_julian_day(number.div_euclid(24).checked_add(EPOCH_DAY)?).ok()?;
        Some(Self(number))
    }

    /// Hours from `earlier` to this one; negative where that is the later one.
    pub fn since(self, earlier: Self) -> i32 {
        self.0 - earlier.0
    }

    /// Its day.
    pub fn date(self) -> Date {
        let day = self.0.div_euclid(24) + EPOCH_DAY;
        Date::from_julian_day(day).expect("an hour is only made of a day with a name")
    }

    /// The hour of the day, 0 to 23.
    pub fn of_day(self) -> u8 {
        self.0.rem_euclid(24) as u8
    }
}

impl fmt::Display for LocalHour {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (year, month, day) = self.date().to_calendar_date();
        write!(f, "{year:04}-{:02}-{day:02}T{:02}:00", u8::from(month), self.of_day())
    }
}

/// A full hour as a file writes it, with its offset from UTC where it has one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct HourStamp {
    /// The hour on the clock that the file's writer had.
    pub hour: LocalHour,
    /// Minutes by which that clock is ahead of UTC; none: it was local standard time.
    pub offset_min: Option<i16>,
}

impl HourStamp {
    /// Reads ISO 8601: `2031-06-14T09:00`, with or without seconds, with or without an offset
    /// (`Z`, `+02:00`); anything else, also a time between two hours, is none.
    pub fn parse(text: &str) -> Option<Self> {
        let (date, rest) = text.split_once('T')?;
        let date = (date.len() == 10).then(|| crate::When::parse_date(date))??;
        let split = rest.find(['Z', '+', '-']).unwrap_or(rest.len());
        let (clock, offset) = rest.split_at(split);
        let mut parts = clock.split(':').map(two_digits);
        let (hour, minute) = (parts.next()??, parts.next()??);
        let second = parts.next().unwrap_or(Some(0))?;
        let is_full = minute == 0 && second == 0 && parts.next().is_none();
        let hour = is_full.then(|| LocalHour::new(date, hour))??;
        Some(Self { hour, offset_min: offset_of(offset)? })
    }

    /// The same hour on a clock that is `standard_min` minutes ahead of UTC; of a stamp without
    /// offset, the hour as it stands. None: it does not begin on a full hour of that clock, or
    /// lies beyond the years with a name.
    pub fn on_clock(self, standard_min: i16) -> Option<LocalHour> {
        let Some(own_min) = self.offset_min else { return Some(self.hour) };
        let shift = i32::from(standard_min) - i32::from(own_min);
        (shift % 60 == 0).then(|| self.hour.plus(shift / 60))?
    }
}

fn two_digits(text: &str) -> Option<u8> {
    let is_number = text.len() == 2 && text.bytes().all(|byte| byte.is_ascii_digit());
    is_number.then(|| text.parse().ok())?
}

/// Minutes of `Z`, `+02:00` or nothing (`Some(None)`); none where it is neither.
fn offset_of(text: &str) -> Option<Option<i16>> {
    let ahead = match text.chars().next() {
        None => return Some(None),
        Some('Z') => return (text.len() == 1).then_some(Some(0)),
        Some('-') => -1,
        Some(_) => 1,
    };
    let (hours, minutes) = text[1..].split_once(':')?;
    let (hours, minutes) = (two_digits(hours)?, two_digits(minutes)?);
    // No clock on earth is farther from UTC than 14 hours; 18 is what RFC 3339 readers allow for.
    let is_offset = hours <= 18 && minutes < 60;
    is_offset.then_some(Some(ahead * (i16::from(hours) * 60 + i16::from(minutes))))
}

#[cfg(test)]
mod tests;
