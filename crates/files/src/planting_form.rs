//! A new plot as a person writes it down: a few fields and a planting list.

use language::say;
use plot::{Head, Layout, Origin, Planting, Plot, Problem, Refusal, Trait, Weight, When};
use time::Date;

use crate::findings::quoted;
use crate::{Book, built_in_diseases, planting_list, usual_traits};

/// What a person filled in, as it stands in the fields.
///
/// Numbers may have a decimal comma. Of the place on earth all three fields are filled, or none.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PlantingForm {
    /// The plot's name.
    pub name: String,
    /// Whether its trees come from a list that is brought in next: then it begins without any, and
    /// rows, places, lines and the day of planting say nothing.
    pub is_for_list: bool,
    /// How many rows.
    pub rows: String,
    /// How many places in each.
    pub places: String,
    /// Number of the first row; empty: 1.
    pub first_row: String,
    /// Number of the first place of each row; empty: 1.
    pub first_place: String,
    /// The day on which all of it was planted; empty: not known.
    pub planted_on: String,
    /// Metres between rows.
    pub row_spacing_m: String,
    /// Metres between the places of a row.
    pub place_spacing_m: String,
    /// What people call the end of the rows where place numbers begin; may be empty.
    pub low_end: String,
    /// What they call the other; may be empty.
    pub high_end: String,
    /// True bearing in which place numbers rise, degrees.
    pub row_bearing_deg: String,
    /// Longitude of the first place of the first row, degrees.
    pub lon: String,
    /// Its latitude, degrees.
    pub lat: String,
    /// What stands where, line by line.
    pub list: String,
    /// What will be scored.
    pub traits: Vec<Trait>,
}

impl PlantingForm {
    /// The plot as an open folder.
    ///
    /// # Errors
    /// Every fault of the fields and of the list; of fields, `column` is the name of the field
    /// here, of lines it says the part of the line.
    pub fn plant(&self) -> Result<Book, Vec<Problem>> {
        if self.is_for_list {
            return self.begin();
        }
        let (plan, mut faults) = self.read();
        let planted = plan.map(|plan| plan.plant());
        match planted {
            Some(Ok(plot)) if faults.is_empty() => Ok(Book::with_ends(plot, self.ends())),
            planted => {
                faults.extend(planted.and_then(Result::err).into_iter().flatten());
                faults.sort_by_key(|fault| fault.line);
                Err(faults)
            }
        }
    }

    /// The plot without a tree yet.
    fn begin(&self) -> Result<Book, Vec<Problem>> {
        let mut faults = Vec::new();
        let head = self.head(&mut faults);
        let plot = head
            .filter(|_| faults.is_empty())
            .map(|head| Plot::new(head).map_err(|refusal| faults.push(refusal)));
        match plot {
            Some(Ok(plot)) => Ok(Book::with_ends(plot, self.ends())),
            _ => Err(faults.into_iter().map(of_form).collect()),
        }
    }

    /// What comes of all that is sound so far, and the faults of lines: for a picture while a
    /// person is still writing. Name and traits may still be missing; without sound rows, places
    /// and spacings there is no plot yet.
    pub fn sketch(&self) -> (Option<Plot>, Vec<Problem>) {
        let whole = Self { name: "plan".to_owned(), traits: usual_traits(), ..self.clone() };
        let (plan, mut faults) = whole.read();
        faults.retain(|fault| fault.line.is_some());
        let Some(mut plan) = plan else { return (None, faults) };
        let mut is_first = true;
        loop {
            let told = match plan.plant() {
                Ok(plot) => return (Some(plot), faults),
                Err(told) => told,
            };
            let lines = plan.runs.len();
            plan.runs.retain(|run| !told.iter().any(|fault| fault.line == Some(run.line)));
            // What comes up only now that others are left out is no fault of the list.
            if std::mem::take(&mut is_first) {
                faults.extend(told.into_iter().filter(|fault| fault.line.is_some()));
                faults.sort_by_key(|fault| fault.line);
            }
            if plan.runs.len() == lines {
                return (None, faults);
            }
        }
    }

    /// What the ends of the rows are called, the one with place 1 first.
    pub fn ends(&self) -> [Option<&str>; 2] {
        let ends = [&self.low_end, &self.high_end].map(|name| name.trim());
        ends.map(|name| Some(name).filter(|name| !name.is_empty()))
    }

    /// The numbers of the first row and the first place; 1 where a field says none.
    pub fn firsts(&self) -> (i32, i32) {
        let of = |text: &str| first(text, "").unwrap_or(1);
        (of(&self.first_row), of(&self.first_place))
    }

    /// The plan of all sound lines, where the fields are sound, and every fault of fields and of
    /// lines by themselves.
    fn read(&self) -> (Option<Planting>, Vec<Problem>) {
        let mut faults = Vec::new();
        let rows = kept(count(&self.rows, "rows"), &mut faults);
        let places = kept(count(&self.places, "places"), &mut faults);
        let planted_on = kept(day(&self.planted_on, "planted_on"), &mut faults);
        let head = self.head(&mut faults);
        faults.sort_by_key(|fault| FIELDS.iter().position(|field| *field == fault.column));
        let (runs, of_lines) = planting_list::read(&self.list);
        let is_sound = faults.is_empty();
        let faults: Vec<Problem> = faults.into_iter().map(of_form).chain(of_lines).collect();
        let plan = match (head, rows, places, planted_on) {
            (Some(head), Some(rows), Some(places), Some(planted_on)) if is_sound => {
                Some(Planting { head, rows, places, runs, planted_on })
            }
            _ => None,
        };
        (plan, faults)
    }

    /// What `plot.json` will say; none where spacings or first numbers are not sound.
    fn head(&self, faults: &mut Vec<Refusal>) -> Option<Head> {
        if self.name.trim().is_empty() {
            faults.push(Refusal::new("name", say!("nothing"), say!("the plot's name")));
        }
        let row_spacing_m = kept(spacing(&self.row_spacing_m, "row_spacing_m"), faults);
        let place_spacing_m = kept(spacing(&self.place_spacing_m, "place_spacing_m"), faults);
        let first_row = kept(first(&self.first_row, "first_row"), faults);
        let first_place = kept(first(&self.first_place, "first_place"), faults);
        let origin = self.origin(faults);
        if self.traits.is_empty() {
            let expected = say!("at least one thing to score");
            faults.push(Refusal::new("traits", say!("nothing ticked"), expected));
        }
        Some(Head {
            name: self.name.trim().to_owned(),
            layout: Layout {
                row_spacing_m: row_spacing_m?,
                place_spacing_m: place_spacing_m?,
                first_row: first_row?,
                first_place: first_place?,
            },
            origin,
            season_starts_month: 1,
            traits: self.traits.clone(),
            diseases: built_in_diseases(),
            crosses: Vec::new(),
        })
    }

    /// Where on earth the plot lies; none where nothing is said of it.
    fn origin(&self, faults: &mut Vec<Refusal>) -> Option<Origin> {
        let fields = [
            ("row_bearing_deg", &self.row_bearing_deg, 0.0, 360.0, say!("degrees from 0 to 360")),
            ("lon", &self.lon, -180.0, 180.0, say!("degrees from -180 to 180")),
            ("lat", &self.lat, -90.0, 90.0, say!("degrees from -90 to 90")),
        ];
        if fields.iter().all(|(_, text, ..)| text.trim().is_empty()) {
            return None;
        }
        let read = fields.map(|(column, text, least, most, expected)| {
            let expected = match text.trim().is_empty() {
                true => say!("{expected}, or bearing, longitude and latitude all left empty"),
                false => expected.to_owned(),
            };
            let sound = number(text).filter(|degrees| (least..=most).contains(degrees));
            if sound.is_none() {
                faults.push(Refusal::new(column, quoted(text.trim()), expected));
            }
            sound
        });
        let [row_bearing_deg, lon, lat] = read;
        Some(Origin { row_bearing_deg: row_bearing_deg?, lon: lon?, lat: lat? })
    }
}

/// The fields in the order in which their faults are told.
const FIELDS: [&str; 12] = [
    "name",
    "rows",
    "places",
    "row_spacing_m",
    "place_spacing_m",
    "first_row",
    "first_place",
    "planted_on",
    "row_bearing_deg",
    "lon",
    "lat",
    "traits",
];

fn of_form(refusal: Refusal) -> Problem {
    refusal.at(Weight::Fault, "form", None)
}

/// A day, or none where nothing is said.
fn day(text: &str, column: &'static str) -> Result<Option<Date>, Refusal> {
    let expected = say!("a day such as 2031-03-24, or nothing");
    match text.trim() {
        "" => Ok(None),
        text => When::parse_date(text)
            .map(Some)
            .ok_or_else(|| Refusal::new(column, quoted(text), expected)),
    }
}

/// What was read, the fault put aside.
fn kept<T>(read: Result<T, Refusal>, faults: &mut Vec<Refusal>) -> Option<T> {
    read.map_err(|fault| faults.push(fault)).ok()
}

/// The number at which rows or places begin.
fn first(text: &str, column: &'static str) -> Result<i32, Refusal> {
    match text.trim() {
        "" => Ok(1),
        text => count(text, column),
    }
}

/// A whole number of rows or places.
fn count(text: &str, column: &'static str) -> Result<i32, Refusal> {
    match text.trim().parse() {
        Ok(number @ 1..=9999) => Ok(number),
        _ => Err(Refusal::new(column, quoted(text.trim()), say!("a whole number from 1 to 9999"))),
    }
}

fn spacing(text: &str, column: &'static str) -> Result<f64, Refusal> {
    match number(text) {
        Some(metres) if metres > 0.0 && metres <= 1000.0 => Ok(metres),
        Some(metres) => Err(Refusal::new(
            column,
            language::decimal(metres.to_string()),
            say!("metres above 0 and at most 1000"),
        )),
        None => Err(Refusal::new(column, quoted(text.trim()), say!("metres, such as 0.75"))),
    }
}

/// A number with a dot or a comma.
fn number(text: &str) -> Option<f64> {
    text.trim().replace(',', ".").parse().ok().filter(|number: &f64| number.is_finite())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn form() -> PlantingForm {
        PlantingForm {
            name: " Reed Corner ".to_owned(),
            rows: "3".to_owned(),
            places: "5".to_owned(),
            row_spacing_m: "2,5".to_owned(),
            place_spacing_m: "0.75".to_owned(),
            traits: usual_traits(),
            ..PlantingForm::default()
        }
    }

    fn check(form: PlantingForm, expect: &[&str]) {
        let told: Vec<String> =
            form.plant().expect_err("faults").iter().map(ToString::to_string).collect();
        assert_eq!(told, expect);
    }

    #[test]
    fn a_sound_form_is_a_folder_that_reads_back() {
        let form = PlantingForm {
            low_end: " road end".to_owned(),
            row_bearing_deg: "12,5".to_owned(),
            lon: "-30.1".to_owned(),
            lat: "45".to_owned(),
            list: "row 3: 2 places\nrows 1 to 2: Marl × TR-9, 2029\nplace 2: susceptible check \
                   Withy\nrow 1 place 4: empty\n"
                .to_owned(),
            ..form()
        };
        let book = form.plant().expect("a plot");
        let (back, problems) = crate::open(book.to_files());
        let back = back.expect("a book");
        assert_eq!(problems, []);
        assert_eq!(back.plot().head(), book.plot().head());
        assert_eq!(back.plot().trees(), book.plot().trees());
        assert_eq!(back.plot().trees().len(), 12);
        assert_eq!(back.row_ends(), [Some("road end".to_owned()), None]);
        let origin = Origin { lon: -30.1, lat: 45.0, row_bearing_deg: 12.5 };
        assert_eq!(back.plot().head().origin, Some(origin));
        assert_eq!(back.plot().head().layout.row_spacing_m, 2.5);
    }

    #[test]
    fn all_faults_are_told_at_once() {
        let bad = PlantingForm {
            name: String::new(),
            rows: "two".to_owned(),
            places: "0".to_owned(),
            row_spacing_m: "0".to_owned(),
            place_spacing_m: String::new(),
            lat: "91".to_owned(),
            lon: "5".to_owned(),
            list: "row 1: Marl\nrow 9: empty".to_owned(),
            traits: Vec::new(),
            ..form()
        };
        check(
            bad,
            &[
                "form, column name: found nothing, expected the plot's name",
                "form, column rows: found \"two\", expected a whole number from 1 to 9999",
                "form, column places: found \"0\", expected a whole number from 1 to 9999",
                "form, column row_spacing_m: found 0, expected metres above 0 and at most 1000",
                "form, column place_spacing_m: found nothing, expected metres, such as 0.75",
                "form, column row_bearing_deg: found nothing, expected degrees from 0 to 360, or \
                 bearing, longitude and latitude all left empty",
                "form, column lat: found \"91\", expected degrees from -90 to 90",
                "form, column traits: found nothing ticked, expected at least one thing to score",
                "planting list, line 1, column what, character 8: found \"Marl\", expected a cross \
                 such as Marl × TR-9, 2029; susceptible check, resistant check or sort with a \
                 name; guard; empty; or how many places, such as 33 places",
            ],
        );
        check(
            PlantingForm { list: "row 9: empty\nrow 1 places 4o: empty".to_owned(), ..form() },
            &[
                "planting list, line 1, column rows: found row 9, expected rows 1 to 3, the lower \
                 first",
                "planting list, line 2, column places, character 14: found \"4o\", expected a whole \
                 number from 1 to 100000",
            ],
        );
    }

    #[test]
    fn other_first_numbers_and_a_day_of_planting_are_in_every_line() {
        let form = PlantingForm {
            first_row: "7".to_owned(),
            first_place: " 101 ".to_owned(),
            planted_on: "2031-03-24".to_owned(),
            list: "row 9 place 105: empty\nrow 7: Marl × TR-9, 2029".to_owned(),
            ..form()
        };
        let book = form.plant().expect("a plot");
        let (back, problems) = crate::open(book.to_files());
        assert_eq!(problems, []);
        let plot = back.expect("a book").plot().clone();
        assert_eq!((plot.head().layout.first_row, plot.head().layout.first_place), (7, 101));
        let (first, last) = (&plot.trees()[0], &plot.trees()[14]);
        assert_eq!((first.row(), first.place(), first.spot().x_m), (Some(7), Some(101), 0.0));
        assert_eq!(form.firsts(), (7, 101));
        assert_eq!((last.row(), last.place()), (Some(9), Some(105)));
        assert_eq!(first.draft().planted_on, When::parse_date("2031-03-24"));
        assert_eq!(last.draft().planted_on, None, "nothing was planted in an empty place");
        let bad = PlantingForm {
            first_row: "0".to_owned(),
            first_place: "a".to_owned(),
            planted_on: "2031-02-30".to_owned(),
            ..form
        };
        assert_eq!(bad.firsts(), (1, 1));
        check(
            bad,
            &[
                "form, column first_row: found \"0\", expected a whole number from 1 to 9999",
                "form, column first_place: found \"a\", expected a whole number from 1 to 9999",
                "form, column planted_on: found \"2031-02-30\", expected a day such as 2031-03-24, or nothing",
            ],
        );
    }

    #[test]
    fn a_plot_for_a_list_begins_without_trees() {
        let begun = PlantingForm {
            is_for_list: true,
            rows: String::new(),
            places: "x".to_owned(),
            list: "row".to_owned(),
            first_row: "3".to_owned(),
            ..form()
        };
        let book = begun.plant().expect("a plot");
        assert_eq!((book.plot().trees().len(), book.plot().head().layout.first_row), (0, 3));
        let (back, problems) = crate::open(book.to_files());
        assert_eq!((back.map(|book| book.plot().trees().len()), problems), (Some(0), Vec::new()));
        check(
            PlantingForm { name: " ".to_owned(), row_spacing_m: "-1".to_owned(), ..begun },
            &[
                "form, column name: found nothing, expected the plot's name",
                "form, column row_spacing_m: found -1, expected metres above 0 and at most 1000",
            ],
        );
    }

    #[test]
    fn a_sketch_leaves_out_what_is_wrong() {
        let check = |list: &str, expect: Option<(usize, usize)>, faulty: &[u64]| {
            let form = PlantingForm {
                name: String::new(),
                traits: Vec::new(),
                list: list.to_owned(),
                ..form()
            };
            let (plot, faults) = form.sketch();
            let empty = |tree: &&plot::Tree| tree.status() == plot::Status::Empty;
            let found =
                plot.map(|plot| (plot.trees().len(), plot.trees().iter().filter(empty).count()));
            assert_eq!(found, expect, "{list}");
            let lines: Vec<u64> = faults.iter().filter_map(|fault| fault.line).collect();
            assert_eq!(lines, faulty, "{list}");
            assert!(form.plant().is_err(), "it has no name");
        };
        check("", Some((15, 0)), &[]);
        check("row 1 place 2: empty\nrow 9: empty\nrow", Some((15, 1)), &[2, 3]);
        // The second line loses all its places to the first, and has them without it.
        check("row 1: empty\nrow 1: Marl × TR-9\nrow 2: 4 places", Some((14, 5)), &[2]);
        check("row 2: 999 places\nrow 3: 99999 places", None, &[]);
        let unsound = PlantingForm { rows: String::new(), list: "row".to_owned(), ..form() };
        let (plot, faults) = unsound.sketch();
        assert!(plot.is_none());
        assert_eq!(faults.len(), 1);
    }
}
