//! Positions one by one: a receiver's own log, or a list with longitude and latitude.

use std::fmt::Write as _;

use language::say;
use plot::{Globe, Weight};

use super::cells::{self, Manner};
use super::words::folded;
use super::{
    Columns, Decimal, Encoding, Fix, Fixes, Heading, Reading, Rows, Separator, Target, decode,
    is_nmea, read_nmea,
};
use crate::findings::{Findings, quoted};
use plot::TreeField as F;

/// Positions, and what is wrong with the lines that give none.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Positions {
    /// Every sound position in order, sentences of other kinds, and what is broken.
    pub read: Fixes,
    /// The order in which places were walked, where a list names row and place itself, as
    /// [`walked`](super::walked()) reads it; else empty.
    pub places: String,
}

/// Heads of columns that say how far off a position may be, folded.
const ACCURACY: &[&str] = &[
    "accuracy",
    "accuracy m",
    "acc",
    "hacc",
    "h acc",
    "horizontal accuracy",
    "sigma",
    "sigma m",
    "error",
    "error m",
    "precision",
    "genauigkeit",
    "nauwkeurigkeit",
    "precisione",
    "exactitud",
];

/// Reads the positions of a log or a list; `file` is what problems call it.
///
/// A list has a position on each line and a header that names longitude and latitude, row and
/// place, and how accurate each is; only the first two must be there.
pub fn read_positions(file: &str, bytes: &[u8]) -> Positions {
    let text = decode(bytes, Encoding::sniff(bytes));
    if is_nmea(&text) {
        return Positions { read: read_nmea(file, &text), ..Positions::default() };
    }
    let separator = Separator::sniff(&text);
    let rows = Reading::new(text, separator).to_end();
    let heading = Heading::find(&rows);
    let columns = Columns::guess(&rows, heading);
    let mut findings = Findings::of(file.to_owned());
    let mut found = Positions::default();
    let column = |field| columns.of(Target::Field(field));
    let (Some(lon), Some(lat)) = (column(F::Lon), column(F::Lat)) else {
        let expected = say!(
            "sentences of a receiver ($GPGGA,…), or a table whose first line names longitude and \
             latitude"
        );
        findings.whole(say!("no positions"), expected);
        found.read.problems = findings.into_problems();
        return found;
    };
    let list = List {
        manner: Manner { decimal: Decimal::sniff(&rows, separator), order: None },
        lon,
        lat,
        row: column(F::Row),
        place: column(F::Place),
        accuracy: columns.heads.iter().position(|head| ACCURACY.contains(&&*folded(head))),
        rows: &rows,
    };
    let mut places = Some(Vec::new());
    for row in heading.end()..rows.len() {
        if rows.filled(row) == 0 {
            continue;
        }
        match list.fix(row) {
            Ok((fix, place)) => {
                found.read.fixes.push(fix);
                places = places.zip(place).map(|(mut places, place)| {
                    places.push(place);
                    places
                });
            }
            Err((column, found, expected)) => {
                let column = column.map(|column| columns.name(column));
                findings.push(Weight::Fault, Some(rows.line(row)), column, found, expected);
            }
        }
    }
    found.places = in_words(&places.unwrap_or_default());
    found.read.problems = findings.into_problems();
    found
}

/// A list of positions.
struct List<'a> {
    rows: &'a Rows,
    manner: Manner,
    lon: usize,
    lat: usize,
    row: Option<usize>,
    place: Option<usize>,
    accuracy: Option<usize>,
}

/// Column, what was found, what was expected.
type Wrong = (Option<usize>, String, &'static str);
/// A position, and the row and place that its line names.
type Placed = (Fix, Option<(i32, i32)>);

impl List<'_> {
    fn fix(&self, row: usize) -> Result<Placed, Wrong> {
        if let Some((found, _)) = self.rows.broken(row) {
            return Err((None, found.to_owned(), say!("a line that can be told apart into cells")));
        }
        let cell = |column: usize| self.rows.cell(row, column);
        let found = |column: usize| quoted(cell(column));
        let filled = |column: Option<usize>| column.filter(|&column| !cell(column).is_empty());
        let degrees = |column: usize,
                       read: fn(&str, Manner) -> Result<f64, &'static str>,
                       most: f64,
                       expected: &'static str| {
            let value = read(cell(column), self.manner)
                .map_err(|expected| (Some(column), found(column), expected))?;
            let sound = Some(value).filter(|value| value.abs() <= most);
            sound.ok_or_else(|| (Some(column), found(column), expected))
        };
        let lon = degrees(self.lon, cells::longitude, 180.0, say!("degrees from -180 to 180"))?;
        let lat = degrees(self.lat, cells::latitude, 90.0, say!("degrees from -90 to 90"))?;
        let of = |column: Option<usize>| match filled(column) {
            None => Ok(None),
            Some(column) => cells::whole(cell(column), self.manner)
                .map(Some)
                .map_err(|expected| (Some(column), found(column), expected)),
        };
        let place = of(self.row)?.zip(of(self.place)?);
        let sigma_m = match filled(self.accuracy) {
            None => None,
            Some(column) => {
                let metres = cells::metres(cell(column), self.manner).ok();
                let expected = say!("metres, such as 0.02");
                let sound = metres.filter(|metres| *metres >= 0.0);
                Some(sound.ok_or_else(|| (Some(column), found(column), expected))?)
            }
        };
        let fix = Fix {
            line: self.rows.line(row),
            time: String::new(),
            globe: Globe { lon, lat },
            quality: None,
            satellites: None,
            hdop: None,
            altitude_m: None,
            sigma_m,
        };
        Ok((fix, place))
    }
}

/// Places in words: runs of a row, a line each.
fn in_words(places: &[(i32, i32)]) -> String {
    let (mut words, mut at) = (String::new(), 0);
    while at < places.len() {
        let (row, from) = places[at];
        let runs = |step: i32| {
            let next = (1..).zip(&places[at + 1..]);
            next.take_while(|&(nth, &(other, place))| other == row && place == from + step * nth)
                .count()
        };
        let (up, down) = (runs(1), runs(-1));
        let count = up.max(down);
        // Writing to a string cannot fail.
        let _ = match count {
            0 => writeln!(words, "row {row}: {from}"),
            _ => writeln!(words, "row {row}: {from} to {}", places[at + count].1),
        };
        at += count + 1;
    }
    words
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::list::Quality;
    use proptest::prelude::*;

    fn check(list: &str, expect: &[(f64, f64, Option<f64>)], places: &str, told: &[&str]) {
        let found = read_positions("list", list.as_bytes());
        let fixes: Vec<(f64, f64, Option<f64>)> = { found.read.fixes.iter() }
            .map(|fix| (fix.globe.lon, fix.globe.lat, fix.sigma_m))
            .collect();
        assert_eq!(fixes, expect, "{list}");
        assert_eq!(found.places, places, "{list}");
        let problems: Vec<String> = found.read.problems.iter().map(ToString::to_string).collect();
        assert_eq!(problems, told, "{list}");
    }

    #[test]
    fn lists_are_read_however_they_are_written() {
        let two = [(5.12, 52.04, None), (5.1201, 52.0401, None)];
        check("lat,lon\n52.04,5.12\n52.0401,5.1201\n", &two, "", &[]);
        check("Breite;Länge\n52,04 N;5,12 E\n\n52,0401 N;5,1201 E\n", &two, "", &[]);
        check(
            "row\tplace\tlon\tlat\n3\t2\t5.12\t52.04\n3\t1\t5.1201\t52.0401\n",
            &two,
            "row 3: 2 to 1\n",
            &[],
        );
        check(
            "lon,lat,accuracy (m)\n5.12,52.04,0.02\n5.1201,52.0401,\n",
            &[(5.12, 52.04, Some(0.02)), (5.1201, 52.0401, None)],
            "",
            &[],
        );
    }

    #[test]
    fn lines_that_give_no_position_are_told_by_line() {
        check(
            "lon,lat,row,place,acc\n5.12,,1,1,\n5.12,52.04,1,x,\n512,52.04,,,\n5.12,52.04,1,4,wide\n5.12,52.04,1,5,1\n",
            &[(5.12, 52.04, Some(1.0))],
            "row 1: 5\n",
            &[
                "list, line 2, column lat: found nothing, expected decimal degrees, such as 52.04",
                "list, line 3, column place: found \"x\", expected a whole number",
                "list, line 4, column lon: found \"512\", expected degrees from -180 to 180",
                "list, line 5, column acc: found \"wide\", expected metres, such as 0.02",
            ],
        );
        check(
            "5.12,52.04\n",
            &[],
            "",
            &["list: found no positions, expected sentences of a receiver ($GPGGA,…), or a table \
               whose first line names longitude and latitude"],
        );
        let log = read_positions(
            "log",
            b"$GPGGA,123519,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,*47\n$GPGGA,1*00\n",
        );
        assert_eq!(log.read.fixes.len(), 1);
        assert_eq!(log.read.fixes[0].quality, Some(Quality::Alone), "as only a log says");
        assert_eq!(log.read.problems[0].line, Some(2));
    }

    proptest! {
        #[test]
        fn no_bytes_make_it_panic(any in proptest::collection::vec(any::<u8>(), 0..120), text in "(lon|lat|row|place|[0-9]{1,4}|[,;\t\n.])*") {
            read_positions("list", &any);
            read_positions("list", text.as_bytes());
        }

        #[test]
        fn places_in_words_are_walked_again(places in proptest::collection::vec((1_i32..4, 0_i32..6), 0..20)) {
            let list: String = places.iter().map(|(row, place)| format!("{row},{place},5.12,52.04\n")).collect();
            let found = read_positions("list", format!("row,place,lon,lat\n{list}").as_bytes());
            let walk = super::super::walked(&found.read.fixes, &found.places).expect("as many");
            let again: Vec<(i32, i32)> = walk.places.iter().map(|it| (it.0, it.1)).collect();
            prop_assert_eq!(again, places);
        }
    }
}
