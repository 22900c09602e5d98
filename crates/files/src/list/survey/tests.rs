//! Known plans measured with known errors: what is fitted, what is told, what is taken.

use plot::{Edit, EditId, When};

use super::*;
use crate::list::{Fix, Quality};
use crate::{Book, FileSet, open};

const TRUTH: Origin = Origin { lon: 5.12, lat: 52.04, row_bearing_deg: 40.0 };

/// Four rows of ten places at 3 m and 0.75 m; what `plot.json` says of where it lies.
fn book(origin: &str) -> Book {
    let head = format!(
        "{{\"format\": \"leeward-plot\", \"version\": 1, \"name\": \"Test\",\n \
         \"layout\": {{\"row_spacing_m\": 3.0, \"place_spacing_m\": 0.75}}{origin}}}"
    );
    let mut trees = "tree_id,row,place,status,note\n".to_owned();
    for row in 1..=4 {
        for place in 1..=10 {
            let status = if (row, place) == (2, 3) { "empty" } else { "" };
            let note = if (row, place) == (1, 1) { "staked; position: RTK float" } else { "" };
            trees += &format!("T{row}-{place},{row},{place},{status},{note}\n");
        }
    }
    trees += "T1-2b,1,2,,\n";
    let files = FileSet::from([
        ("plot.json".to_owned(), head.into_bytes()),
        ("trees.csv".to_owned(), trees.into_bytes()),
    ]);
    open(files).0.expect("a book")
}

/// A walk through rows with errors of a fixed pattern, `side` −1 for rows to the right, and one
/// position two metres off.
fn walk(rows: i32, error_m: f64, side: f64, sigma_m: Option<f64>) -> Walked {
    let mut places = Vec::new();
    for nth in 0..rows * 10 {
        let (row, place) = (nth / 10 + 1, nth % 10 + 1);
        let error = |step: f64| ((f64::from(nth) * step).fract() - 0.5) * error_m;
        let gross = if nth == 5 { 2.0 } else { 0.0 };
        let spot = Spot {
            x_m: f64::from(place - 1) * 0.75 + error(0.618_034) + gross,
            y_m: side * f64::from(row - 1) * 3.0 + error(0.754_878),
        };
        let globe = TRUTH.globe_from_plot(spot);
        let fix = Fix {
            line: nth as u64 + 1,
            time: String::new(),
            globe,
            quality: Some(Quality::Fixed),
            satellites: None,
            hdop: None,
            altitude_m: None,
            sigma_m,
        };
        places.push((row, place, fix));
    }
    Walked { places }
}

fn taken(book: &mut Book, parts: Vec<EditPart>) {
    let day = When::parse("2031-06-14").expect("a day");
    book.edit(Edit::new(EditId::new("e"), "Positions", day, parts)).expect("taken");
}

#[test]
fn the_plan_is_laid_where_it_lies_and_trees_where_they_were_measured() {
    let mut book = book("");
    let survey = Survey::new(book.plot(), &walk(4, 0.04, 1.0, None));
    let fit = survey.fit.as_ref().expect("a fit");
    assert!((fit.origin.row_bearing_deg - 40.0).abs() < 0.2, "{fit:?}");
    assert!(!survey.is_turned_over && survey.tells_trees_apart());
    assert_eq!(survey.worst_first()[0], 5);
    assert!(
        survey.points[5].is_suspicious
            && (survey.points[5].off.expect("off").x_m - 2.0).abs() < 0.05
    );
    assert_eq!(survey.far_off(), 1);
    assert_eq!(survey.points[1].stands, Stands::Several, "two trees stand there");
    assert_eq!(survey.lies_off_m(), None);
    let (along_m, across_m) = survey.spacing_m().expect("a fit");
    assert!((along_m - 0.75).abs() < 0.01 && (across_m - 3.0).abs() < 0.03);

    let (parts, trees) = survey.stand(book.plot(), true).expect("positions");
    assert_eq!(trees, 39, "all but the place with two trees; the empty place, too");
    assert_eq!([true, false].map(|far_off_too| survey.trees(far_off_too)), [39, 38]);
    assert_eq!(
        survey.stand(book.plot(), false).map(|it| it.1),
        Some(38),
        "without the one far off"
    );
    let before = book.clone();
    taken(&mut book, parts);
    assert_eq!(book.plot().head().origin, Some(fit.origin));
    let tree = |book: &Book, id: &str| {
        let plot = book.plot();
        let tree = plot.tree(plot.tree_ix(id).expect("a tree"));
        (tree.spot(), F::Note.of(tree))
    };
    let (spot, note) = tree(&book, "T1-1");
    assert_eq!(note, "staked; position: RTK fixed");
    assert!(spot.distance_m(Spot { x_m: 0.0, y_m: 0.0 }) < 0.05, "{spot:?}");
    let (spot, _) = tree(&book, "T1-6");
    assert!(spot.distance_m(Spot { x_m: 5.75, y_m: 0.0 }) < 0.05, "{spot:?}");
    let (again, problems) = open(book.to_files());
    assert!(problems.iter().all(|one| one.weight == plot::Weight::Notice), "{problems:?}");
    assert_eq!(again.expect("a book").plot().trees(), book.plot().trees());
    let day = When::parse("2031-06-14").expect("a day");
    book.turn_over(&EditId::new("e"), EditId::new("u"), day).expect("undone");
    assert_eq!(book.plot().trees(), before.plot().trees());
    assert_eq!(book.files()["plot.json"], before.files()["plot.json"]);

    taken(&mut book_again(), vec![survey.lie().expect("a plan")]);
}

fn book_again() -> Book {
    book(",\n \"origin\": {\"lon\": 5.2, \"lat\": 52.0, \"row_bearing_deg\": 1}")
}

#[test]
fn a_plot_that_lies_somewhere_keeps_its_plane() {
    let off = format!(
        ",\n \"origin\": {{\"lon\": {}, \"lat\": {}, \"row_bearing_deg\": 40}}",
        TRUTH.lon + 1e-5,
        TRUTH.lat
    );
    let mut book = book(&off);
    let survey = Survey::new(book.plot(), &walk(4, 0.0, 1.0, None));
    let lies_off_m = survey.lies_off_m().expect("it lies somewhere");
    assert!((lies_off_m - 0.686).abs() < 0.01, "{lies_off_m}");
    let origin = book.plot().head().origin;
    let (parts, _) = survey.stand(book.plot(), true).expect("positions");
    taken(&mut book, parts);
    assert_eq!(book.plot().head().origin, origin);
    let plot = book.plot();
    let spot = plot.tree(plot.tree_ix("T1-1").expect("a tree")).spot();
    let truth = origin.expect("an origin").plot_from_globe(Globe { lon: 5.12, lat: 52.04 });
    assert!(spot.distance_m(truth) < 1e-3, "{spot:?} {truth:?}");
}

#[test]
fn rows_to_the_right_are_told_and_only_positions_can_be_taken() {
    let mut book = book("");
    let survey = Survey::new(book.plot(), &walk(4, 0.04, -1.0, None));
    assert!(survey.is_turned_over && survey.lie().is_none());
    assert!(survey.points[5].is_suspicious && !survey.points[35].is_suspicious);
    let (parts, _) = survey.stand(book.plot(), true).expect("positions");
    taken(&mut book, parts);
    let plot = book.plot();
    let spot = plot.tree(plot.tree_ix("T4-10").expect("a tree")).spot();
    assert!(spot.distance_m(Spot { x_m: 6.75, y_m: -9.0 }) < 0.1, "{spot:?}");
    // One row lies either way.
    assert!(!Survey::new(book.plot(), &walk(1, 0.04, -1.0, None)).is_turned_over);
}

#[test]
fn what_cannot_tell_trees_apart_is_told() {
    let plot = book("");
    let check = |walk: &Walked, expect: bool, least_m: f64, most_m: f64| {
        let survey = Survey::new(plot.plot(), walk);
        assert_eq!(survey.tells_trees_apart(), expect);
        let error_m = survey.error_m().expect("an error");
        assert!(error_m >= least_m && error_m <= most_m, "{error_m}");
    };
    check(&walk(4, 0.04, 1.0, None), true, 0.01, 0.04);
    check(&walk(4, 2.0, 1.0, None), false, 0.8, 1.6);
    // The receiver knows of errors that all positions share.
    check(&walk(4, 0.04, 1.0, Some(1.0)), false, 1.38, 1.39);
    let two = Walked { places: walk(1, 0.0, 1.0, None).places[..2].to_vec() };
    let survey = Survey::new(plot.plot(), &two);
    assert_eq!((survey.fit.clone().err(), survey.error_m()), (Some(NoFit::TooFew), None));
    assert!(!survey.tells_trees_apart() && survey.stand(plot.plot(), true).is_none());
    assert_eq!(survey.trees(true), 0);
}
