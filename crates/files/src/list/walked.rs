//! Positions of a receiver given to places, in the order in which these were walked.

use std::collections::BTreeMap;

use language::say;
use plot::{Globe, Layout, NoFit, OriginFit, Plot, Problem, Refusal, Spot, Weight, fit_origin};

use super::Fix;
use crate::findings::quoted;

/// Most places of a walk.
const MOST: usize = 100_000;

/// Positions with the places where they were taken.
#[derive(Clone, Debug, PartialEq)]
pub struct Walked {
    /// Row, place and position, in walking order.
    pub places: Vec<(i32, i32, Fix)>,
}

/// Gives positions to places, such as `row 3: 1 to 40` and, on the way back, `row 4: 40 to 1`, a
/// row or a part of one on each line.
///
/// # Errors
/// Every line that is no row with places; more or fewer places than positions.
pub fn walked(fixes: &[Fix], places: &str) -> Result<Walked, Vec<Problem>> {
    let (mut all, mut faults) = (Vec::new(), Vec::new());
    for (line, text) in (1..).zip(places.lines()) {
        let text = text.trim();
        if text.is_empty() {
            continue;
        }
        match row(text) {
            Some((row, from, to)) if all.len() + from.abs_diff(to) as usize <= MOST => {
                let rising = from.min(to)..=from.max(to);
                match from <= to {
                    true => all.extend(rising.map(|place| (row, place))),
                    false => all.extend(rising.rev().map(|place| (row, place))),
                }
            }
            _ => {
                let expected =
                    say!("a row and its places in walking order, such as row 3: 1 to 40");
                let fault = Refusal::new("places", quoted(text), expected);
                faults.push(fault.at(Weight::Fault, say!("places walked"), Some(line)));
            }
        }
    }
    if faults.is_empty() && all.len() != fixes.len() {
        let found = say!(
            "{places} places for {positions} positions",
            places = all.len(),
            positions = fixes.len()
        );
        let fault = Refusal::new("places", found, say!("one position for each place"));
        faults.push(fault.at(Weight::Fault, say!("places walked"), None));
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    let given = all.into_iter().zip(fixes);
    Ok(Walked { places: given.map(|((row, place), fix)| (row, place, fix.clone())).collect() })
}

/// The likeliest order for so many positions: from the first row on, up one row and down the next;
/// empty where they do not come out even at the end of a row.
pub fn likely_walk(plot: &Plot, positions: usize) -> String {
    let mut rows: BTreeMap<i32, (i32, i32)> = BTreeMap::new();
    for tree in plot.trees() {
        if let (Some(row), Some(place)) = (tree.row(), tree.place()) {
            let ends = rows.entry(row).or_insert((place, place));
            *ends = (ends.0.min(place), ends.1.max(place));
        }
    }
    let (mut walk, mut left, mut is_up) = (String::new(), positions, true);
    for (row, (first, last)) in rows {
        let places = first.abs_diff(last) as usize + 1;
        if left < places {
            break;
        }
        let (from, to) = if is_up { (first, last) } else { (last, first) };
        walk += &format!("row {row}: {from} to {to}\n");
        (left, is_up) = (left - places, !is_up);
    }
    if left == 0 { walk } else { String::new() }
}

impl Walked {
    /// Where the plan lies by them; residuals in the order of the places.
    ///
    /// # Errors
    /// As [`fit_origin`].
    pub fn fit(&self, layout: &Layout) -> Result<OriginFit, NoFit> {
        self.fit_of(layout, |plan| plan)
    }

    /// The same of a plan whose spots are changed first.
    pub(super) fn fit_of(
        &self,
        layout: &Layout,
        change: fn(Spot) -> Spot,
    ) -> Result<OriginFit, NoFit> {
        let points: Vec<(Spot, Globe)> = self
            .places
            .iter()
            .map(|(row, place, fix)| (change(layout.spot(*row, *place)), fix.globe))
            .collect();
        fit_origin(&points)
    }
}

/// `row 3: 1 to 40`, `3: 40-1`, `row 3 place 7`: the whole numbers of the line.
fn row(text: &str) -> Option<(i32, i32, i32)> {
    let known =
        |word: &str| matches!(word.to_lowercase().as_str(), "row" | "places" | "place" | "to");
    let parted = |letter: char| letter.is_whitespace() || matches!(letter, ':' | '-' | '–' | ',');
    let mut numbers = Vec::new();
    for word in text.split(parted).filter(|word| !word.is_empty()) {
        match word.parse::<i32>() {
            Ok(number) if number >= 0 => numbers.push(number),
            _ if known(word) => {}
            _ => return None,
        }
    }
    match numbers[..] {
        [row, from, to] => Some((row, from, to)),
        [row, only] => Some((row, only, only)),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::list::read_nmea;
    use plot::Origin;

    /// What a receiver writes at these spots of a plane.
    fn log(origin: Origin, spots: &[(f64, f64)]) -> Vec<Fix> {
        let half = |degrees: f64, width: usize| {
            let whole = degrees.abs().floor();
            format!("{whole:0width$.0}{:012.9}", (degrees.abs() - whole) * 60.0)
        };
        let sentence = |&(x_m, y_m): &(f64, f64)| {
            let Globe { lon, lat } = origin.globe_from_plot(Spot { x_m, y_m });
            let body = format!("GNGGA,1,{},N,{},E,4,17,0.6,3,M,,M,,", half(lat, 2), half(lon, 3));
            format!("${body}*{:02X}\n", body.bytes().fold(0, |sum, byte| sum ^ byte))
        };
        let found = read_nmea("log", &spots.iter().map(sentence).collect::<String>());
        assert_eq!(found.problems, []);
        found.fixes
    }

    #[test]
    fn a_walk_gives_each_place_its_position_and_the_rows_their_bearing() {
        let origin = Origin { lon: 5.12, lat: 52.04, row_bearing_deg: 40.0 };
        let layout =
            Layout { row_spacing_m: 3.0, place_spacing_m: 0.75, first_row: 3, first_place: 1 };
        // Row 3 up, row 4 back; the second point of row 4 was taken two metres off.
        let mut spots: Vec<(f64, f64)> = (0..8).map(|nth| (f64::from(nth) * 0.75, 0.0)).collect();
        spots.extend((0..8).rev().map(|nth| (f64::from(nth) * 0.75, 3.0)));
        spots[9].1 += 2.0;
        let fixes = log(origin, &spots);
        let walk = walked(&fixes, "row 3: 1 to 8\n\nrow 4: 8 to 1\n").expect("a walk");
        assert_eq!((walk.places[0].0, walk.places[0].1), (3, 1));
        assert_eq!((walk.places[8].0, walk.places[8].1), (4, 8));
        let fit = walk.fit(&layout).expect("a fit");
        assert!((fit.origin.row_bearing_deg - 40.0).abs() < 0.05, "{fit:?}");
        let suspicious: Vec<usize> = (0..16).filter(|&nth| fit.suspicious[nth]).collect();
        assert_eq!(suspicious, [9]);
        assert!((fit.residuals[9].y_m - 2.0).abs() < 0.01, "{:?}", fit.residuals[9]);
        assert_eq!(walk.places[0].2.accuracy(), "RTK fixed, HDOP 0.6, 17 satellites");
    }

    #[test]
    fn the_likely_walk_goes_up_and_down_and_comes_out_even() {
        let trees = "tree_id,row,place\nA,1,1\nB,1,3\nC,2,2\nD,2,1\nE,4,9\n";
        let head = r#"{"format": "leeward-plot", "version": 1, "name": "Test",
            "layout": {"row_spacing_m": 3, "place_spacing_m": 1}}"#;
        let files = [("plot.json", head), ("trees.csv", trees)];
        let files = files.map(|(name, text)| (name.to_owned(), text.into()));
        let book = crate::open(files.into()).0.expect("a book");
        let check = |positions, expect| assert_eq!(likely_walk(book.plot(), positions), expect);
        check(5, "row 1: 1 to 3\nrow 2: 2 to 1\n");
        check(6, "row 1: 1 to 3\nrow 2: 2 to 1\nrow 4: 9 to 9\n");
        check(4, "");
        check(0, "");
        check(7, "");
    }

    #[test]
    fn what_does_not_fit_is_told() {
        let origin = Origin { lon: 5.12, lat: 52.04, row_bearing_deg: 0.0 };
        let fixes = log(origin, &[(0.0, 0.0), (1.0, 0.0)]);
        let check = |places: &str, expect: &[&str]| {
            let told: Vec<String> = walked(&fixes, places)
                .expect_err("faults")
                .iter()
                .map(ToString::to_string)
                .collect();
            assert_eq!(told, expect);
        };
        check(
            "row 3: 1 to 3",
            &[
                "places walked, column places: found 3 places for 2 positions, expected one position for each place",
            ],
        );
        check(
            "row 3: 1 to 2\nthird row\nrow 1: 1 to 2 to 3\nrow 1: 0 to 999999999",
            &[
                "places walked, line 2, column places: found \"third row\", expected a row and its places in walking order, such as row 3: 1 to 40",
                "places walked, line 3, column places: found \"row 1: 1 to 2 to 3\", expected a row and its places in walking order, such as row 3: 1 to 40",
                "places walked, line 4, column places: found \"row 1: 0 to 999999999\", expected a row and its places in walking order, such as row 3: 1 to 40",
            ],
        );
        assert!(walked(&fixes, "3: 2-1").is_ok());
        assert!(walked(&fixes, "row 3 place 1\nrow 3 place 9").is_ok());
    }
}
