//! What is read of hourly weather, and what is told of faulty lines and gaps.

use proptest::prelude::*;

use super::*;

fn read(csv: &[u8]) -> (Weather, Vec<String>) {
    let mut findings = Findings::of(FILE);
    let mut weather = Weather::default();
    if let Some(mut reading) = WeatherReading::new(csv, &mut findings) {
        while reading.step(csv, 3, &mut findings) {}
        weather = reading.finish(&mut findings);
    }
    (weather, findings.into_problems().iter().map(ToString::to_string).collect())
}

/// What is told of lines below a full header, and the hours that were taken.
fn check(lines: &str, taken: &[&str], expected: &[&str]) {
    let csv = format!(
        "time,temp_c,rain_mm,leaf_wetness,relative_humidity,wind_ms,wind_from_deg\n{lines}"
    );
    let (weather, told) = read(csv.as_bytes());
    assert_eq!(told, expected, "{lines}");
    let hours: Vec<String> = weather.hours().iter().map(|hour| hour.at.to_string()).collect();
    assert_eq!(hours, taken, "{lines}");
}

#[test]
fn hours_are_read_with_empty_cells_unknown() {
    let (weather, told) = read(
        b"wind_ms,time,temp_c,rain_mm,leaf_wetness,relative_humidity,wind_from_deg,our own\r\n\
        2.5,2031-06-14T09:00,11.5,0,1,98,270,x\r\n\
        ,2031-06-14T10:00,,,,,,\r\n",
    );
    assert_eq!(told, [""; 0]);
    let [known, unknown] = weather.hours() else { panic!("two hours") };
    assert_eq!(
        *known,
        WeatherHour {
            at: known.at,
            temp_c: Some(11.5),
            rain_mm: Some(0.0),
            leaf_wetness: Some(1.0),
            relative_humidity: Some(98.0),
            wind_ms: Some(2.5),
            wind_from_deg: Some(270.0),
        }
    );
    assert_eq!(*unknown, WeatherHour::unknown(unknown.at));
}

#[test]
fn every_fault_is_told_with_line_and_column() {
    check(
        "2031-06-14T09:00,7,,,,,\n\
         2031-06-14T09:30,7,,,,,\n\
         2031-06-14T10:00,\"7,5\",-1,15,130,x,400\n\
         ,7,,,,,\n\
         2031-06-14T09:00,8,,,,,\n\
         2031-06-14T10:00,7\n\
         2031-06-14T10:00,-999,,,,,\n",
        &["2031-06-14T09:00"],
        &[
            "weather.csv, line 3, column time: found \"2031-06-14T09:30\", expected a full hour \
             that exists, such as 2031-06-14T09:00 or 2031-06-14T09:00+02:00",
            "weather.csv, line 4, column temp_c: found \"7,5\", expected a number, with a dot for \
             decimals",
            "weather.csv, line 4, column wind_ms: found \"x\", expected a number, with a dot for \
             decimals",
            "weather.csv, line 4, column rain_mm: found -1, expected millimetres in the hour, 0 to \
             400",
            "weather.csv, line 4, column leaf_wetness: found 15, expected a share from 0 (dry) to 1",
            "weather.csv, line 4, column relative_humidity: found 130, expected per cent, 0 to 100",
            "weather.csv, line 4, column wind_from_deg: found 400, expected degrees from north, 0 \
             to 360",
            "weather.csv, line 5, column time: found nothing, expected a full hour that exists, \
             such as 2031-06-14T09:00 or 2031-06-14T09:00+02:00",
            "weather.csv, line 6, column time: found 2031-06-14T09:00, which line 2 has, expected \
             each hour once (local standard time has no summer time)",
            "weather.csv, line 7: found 2 cells, expected 7, one for each column of the header",
            "weather.csv, line 8, column temp_c: found -999, expected degrees Celsius from -60 to \
             60",
        ],
    );
}

#[test]
fn gaps_are_told_in_order_of_time() {
    check(
        "2031-06-14T13:00,7,,,,,\n2031-06-14T09:00,7,,,,,\n2031-06-14T11:00,7,,,,,\n\
         2031-06-14T12:00,7,,,,,\n2031-06-16T00:00,7,,,,,\n",
        &[
            "2031-06-14T09:00",
            "2031-06-14T11:00",
            "2031-06-14T12:00",
            "2031-06-14T13:00",
            "2031-06-16T00:00",
        ],
        &[
            "weather.csv, line 4, column time: found no line for the hour before: \
             2031-06-14T10:00, expected one line for each hour",
            "weather.csv, line 6, column time: found no lines for the 34 hours before: \
             2031-06-14T14:00 to 2031-06-15T23:00, expected one line for each hour",
        ],
    );
}

#[test]
fn offsets_come_to_one_clock_of_standard_time() {
    // The night in which clocks are put back: 02:00 stands twice, and is two hours.
    check(
        "2031-10-26T01:00+02:00,7,,,,,\n2031-10-26T02:00+02:00,7,,,,,\n\
         2031-10-26T02:00+01:00,7,,,,,\n2031-10-26T03:00+01:00,7,,,,,\n",
        &["2031-10-26T00:00", "2031-10-26T01:00", "2031-10-26T02:00", "2031-10-26T03:00"],
        &[],
    );
    // The same written without offsets cannot be two hours.
    check(
        "2031-10-26T02:00,7,,,,,\n2031-10-26T02:00,7,,,,,\n",
        &["2031-10-26T02:00"],
        &["weather.csv, line 3, column time: found 2031-10-26T02:00, which line 2 has, expected \
           each hour once (local standard time has no summer time)"],
    );
    check(
        "2031-06-14T08:00,7,,,,,\n2031-06-14T09:00+02:00,7,,,,,\n2031-06-14T15:30+07:30,7,,,,,\n\
         2031-06-14T15:00+07:00,7,,,,,\n",
        &["2031-06-14T09:00", "2031-06-14T10:00"],
        &[
            "weather.csv, line 2, column time: found 2031-06-14T08:00 without an offset, expected \
             a time with an offset, as line 3 has",
            "weather.csv, line 4, column time: found \"2031-06-14T15:30+07:30\", expected a full \
             hour that exists, such as 2031-06-14T09:00 or 2031-06-14T09:00+02:00",
            "weather.csv, line 5, column time: found offsets from +02:00 to +07:00, expected those \
             of one place: standard time, and at most an hour more in summer",
        ],
    );
    check(
        "2031-06-14T09:00+10:30,7,,,,,\n2031-06-14T10:00+11:00,7,,,,,\n",
        &["2031-06-14T09:00"],
        &[
            "weather.csv, line 3, column time: found 2031-06-14T10:00+11:00, expected a full hour of \
           the clock of +10:30",
        ],
    );
}

#[test]
fn columns_that_are_not_there_are_told() {
    let (_, told) = read(b"temp_c,rain_mm\n7,0\n");
    assert_eq!(
        told,
        ["weather.csv, line 1, column time: found columns \"temp_c\", \"rain_mm\", expected a \
          column time"]
    );
    let (weather, told) = read(b"time,rain_mm\n2031-06-14T09:00,0.2\n");
    assert_eq!(weather.hours().len(), 1);
    assert_eq!(
        told,
        [
            "weather.csv, line 1, column temp_c: found no temperature, expected a column temp_c \
             (without it, no infection is told)",
            "weather.csv, line 1, column leaf_wetness: found no wetness, expected a column \
             leaf_wetness or relative_humidity (without either, only rain tells of wetness)",
        ]
    );
}

/// Ten years are read whole, and steps are as short as they are asked to be.
#[test]
fn ten_years_of_hours_are_read_in_steps() {
    let mut at = HourStamp::parse("2031-01-01T00:00").expect("an hour").hour;
    let mut csv = String::from("time,temp_c,relative_humidity\n");
    for nth in 0..87_600 {
        csv.push_str(&format!("{at},{},80\n", nth % 24));
        at = at.plus(1).expect("an hour");
    }
    let mut findings = Findings::of(FILE);
    let mut reading = WeatherReading::new(csv.as_bytes(), &mut findings).expect("a table");
    let mut steps = 1;
    while reading.step(csv.as_bytes(), 1000, &mut findings) {
        steps += 1;
    }
    assert_eq!(steps, 88);
    assert_eq!(reading.finish(&mut findings).hours().len(), 87_600);
    assert!(findings.into_problems().is_empty());
}

proptest! {
    /// Hours, some of them twice or far apart, in the order of time and in any other.
    #[test]
    fn the_order_of_lines_does_not_matter(
        hours in proptest::collection::btree_map(0..2000_i32, -20..30_i32, 1..40),
        keys in proptest::collection::vec(any::<u32>(), 40),
    ) {
        let start = HourStamp::parse("2031-03-01T00:00").expect("an hour").hour;
        let lines: Vec<String> = hours
            .iter()
            .map(|(&nth, temp)| format!("{},{temp}\n", start.plus(nth).expect("an hour")))
            .collect();
        let mut shuffled: Vec<(u32, &String)> = keys.into_iter().zip(&lines).collect();
        shuffled.sort_by_key(|(key, _)| *key);
        let shuffled: String = shuffled.into_iter().map(|(_, line)| line.as_str()).collect();
        let csv = |lines: &str| format!("time,temp_c\n{lines}").into_bytes();
        let (in_order, told) = read(&csv(&lines.concat()));
        let (in_any, told_of_any) = read(&csv(&shuffled));
        prop_assert_eq!(in_order.hours().len(), hours.len());
        prop_assert_eq!(in_order, in_any);
        prop_assert_eq!(told.len(), told_of_any.len());
    }

    #[test]
    fn no_bytes_make_the_reader_panic(
        lines in "(time|temp_c|leaf_wetness|,|\n|2031-0[69]-14T0[0-9]:00|\\+0[0-9]:00|-9999-|[0-9.e+-]{1,9}|\"){0,60}",
        damage in proptest::collection::vec(any::<(proptest::sample::Index, u8)>(), 0..6),
    ) {
        let mut csv = format!("time,temp_c,rain_mm\n{lines}").into_bytes();
        for (at, byte) in damage {
            let at = at.index(csv.len());
            csv[at] = byte;
        }
        read(&csv);
    }
}
