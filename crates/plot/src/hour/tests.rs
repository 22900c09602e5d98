//! Hours as files write them.

use proptest::prelude::*;
use time::macros::date;

use super::*;

#[test]
fn hours_are_read_with_and_without_offset() {
    let check = |text: &str, standard_min: i16, expected: Option<&str>| {
        let read = HourStamp::parse(text).and_then(|stamp| stamp.on_clock(standard_min));
        assert_eq!(read.map(|hour| hour.to_string()).as_deref(), expected, "{text}");
    };
    check("2031-06-14T09:00", 0, Some("2031-06-14T09:00"));
    check("2031-06-14T09:00:00", 0, Some("2031-06-14T09:00"));
    check("2031-06-14T09:00Z", 0, Some("2031-06-14T09:00"));
    // Summer time as a clock an hour ahead of standard time.
    check("2031-06-14T09:00:00+02:00", 60, Some("2031-06-14T08:00"));
    check("2031-06-15T00:00+02:00", 60, Some("2031-06-14T23:00"));
    check("2031-06-14T09:00+05:30", 330, Some("2031-06-14T09:00"));
    check("2031-06-14T09:00+05:30", -30, Some("2031-06-14T03:00"));
    check("2031-06-14T09:00+05:30", 0, None);
    check("2031-06-14T09:30", 0, None);
    check("2031-06-14T09:00:01", 0, None);
    check("2031-06-14", 0, None);
    check("2031-06-14 09:00", 0, None);
    check("2031-06-14T24:00", 0, None);
    check("2031-06-14T9:00", 0, None);
    check("2031-02-29T09:00", 0, None);
    check("2031-06-14T09:00+2:00", 0, None);
    check("2031-06-14T09:00+19:00", 0, None);
    check("2031-06-14T09:00Zulu", 0, None);
    check("2031-06-14T09", 0, None);
    check("é2031-06-1T09:00", 0, None);
    check("9999-12-31T23:00-01:00", 0, None);
}

proptest! {
    #[test]
    fn an_hour_written_is_the_hour_read(number in -20_000_000..20_000_000_i32) {
        let start = LocalHour::new(date!(1970 - 01 - 01), 0).expect("an hour");
        let Some(hour) = start.plus(number) else { return Ok(()) };
        prop_assert_eq!(hour.since(start), number);
        prop_assert_eq!(LocalHour::new(hour.date(), hour.of_day()), Some(hour));
        if (0..=9999).contains(&hour.date().year()) {
            let read = HourStamp::parse(&hour.to_string()).and_then(|stamp| stamp.on_clock(60));
            prop_assert_eq!(read, Some(hour));
        }
    }

    #[test]
    fn no_words_make_the_reader_panic(text in "\\PC{0,24}|[0-9TZ:+-]{0,24}", standard in any::<i16>()) {
        if let Some(stamp) = HourStamp::parse(&text) {
            let _ = stamp.on_clock(standard);
        }
    }
}
