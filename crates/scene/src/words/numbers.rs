//! Numbers, shares, distances and days as people read them.

use language::say;
use plot::{Plot, Season, When};
use proof::Estimate;
use time::Date;

/// A share from 0 to 1 as a percentage: `62 %`, `under 1 %`, `over 99 %`, `0 %`, `100 %`.
///
/// Only a share of exactly 0 or 1 is called so: a small chance is never rounded to none.
pub fn percent(share: f64) -> String {
    let rounded = (share * 100.0).round();
    if share > 0.0 && rounded < 1.0 {
        say!("under 1\u{a0}%").to_owned()
    } else if share < 1.0 && rounded > 99.0 {
        say!("over 99\u{a0}%").to_owned()
    } else {
        say!("{rounded}\u{a0}%")
    }
}

/// `62 % (35 % to 88 %)`: a share with its interval.
pub fn estimate(share: &Estimate) -> String {
    let [value, low, high] = [share.value, share.low, share.high].map(percent);
    say!("{value} ({low} to {high})")
}

/// `25 to 50 %`, `0.2 to 0.5`: a sign of percent is written once.
pub(crate) fn from_to(low: &str, high: &str) -> String {
    let sign = "\u{a0}%";
    let bare = low.strip_suffix(sign).filter(|_| high.ends_with(sign));
    say!("{low} to {high}", low = bare.unwrap_or(low))
}

/// `3 of 12`, `none of 12`, `all 12`.
pub fn share_of(some: usize, all: usize) -> String {
    match some {
        0 => say!("none of {all}"),
        _ if some == all && all > 1 => say!("all {all}"),
        _ => say!("{some} of {all}"),
    }
}

/// A distance: to the centimetre below 10 m, to the decimetre below 100 m, then whole metres.
pub fn metres(distance_m: f64) -> String {
    let digits = match distance_m {
        near if near < 10.0 => 100.0,
        middling if middling < 100.0 => 10.0,
        _ => 1.0,
    };
    say!("{metres}\u{a0}m", metres = number((distance_m * digits).round() / digits))
}

/// A number as it would be written by hand: at most three decimals, none needless.
pub fn number(value: f64) -> String {
    let text = format!("{value:.3}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    language::decimal(if text == "-0" { "0".to_owned() } else { text.to_owned() })
}

/// `14 June 2031`.
pub fn day(date: Date) -> String {
    language::day(date.year(), date.month().into(), date.day())
}

/// `20 April 2030`, `1 July 2030 to 3 July 2030`.
pub(crate) fn days(from: Date, to: Date) -> String {
    if from == to { day(from) } else { from_to(&day(from), &day(to)) }
}

/// The day of a moment.
pub fn when(moment: When) -> String {
    day(moment.date())
}

/// `2031`, or `2030/31` where seasons run over the turn of the year.
pub fn season_name(plot: &Plot, season: Season) -> String {
    if plot.head().season_starts_month == 1 {
        season.to_string()
    } else {
        format!("{season}/{:02}", (season.0 + 1).rem_euclid(100))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_small_share_is_never_none_and_a_large_one_never_all() {
        for (share, words) in [
            (0.0, "0 %"),
            (0.0004, "under 1 %"),
            (0.006, "1 %"),
            (0.62, "62 %"),
            (0.994, "99 %"),
            (0.997, "over 99 %"),
            (1.0, "100 %"),
        ] {
            assert_eq!(percent(share).replace('\u{a0}', " "), words, "{share}");
        }
    }

    #[test]
    fn shares_of() {
        assert_eq!(
            (share_of(0, 12), share_of(1, 12), share_of(12, 12), share_of(1, 1)),
            ("none of 12".into(), "1 of 12".into(), "all 12".into(), "1 of 1".into())
        );
    }

    #[test]
    fn distances_and_numbers_carry_no_needless_digit() {
        let plain = |text: String| text.replace('\u{a0}', " ");
        assert_eq!(plain(metres(0.75)), "0.75 m");
        assert_eq!(plain(metres(0.999)), "1 m");
        assert_eq!(plain(metres(2.25)), "2.25 m");
        assert_eq!(plain(metres(12.345)), "12.3 m");
        assert_eq!(plain(metres(120.4)), "120 m");
        assert_eq!(
            [number(4.0), number(0.5), number(19.6354), number(-0.0001)],
            ["4", "0.5", "19.635", "0"]
        );
    }

    #[test]
    fn days_and_seasons() {
        let date = When::parse_date("2031-06-04").unwrap();
        assert_eq!(day(date), "4 June 2031");
    }
}
