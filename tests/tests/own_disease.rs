//! A disease that no code knows, from the bytes of a plot folder to its weather, its judgement and
//! its words: the example of docs/diseases.md.

use std::fmt::Write;

use files::{Book, FileSet, merge, open, pack, unpack};
use plot::{Edit, EditId, EditPart, Origin, Season, When};
use proof::{Options, Run};
use season::Rule;

const PAGE: &str = include_str!("../../docs/diseases.md");

/// The `plot.json` of the page.
fn example() -> &'static str {
    let from = PAGE.find("```json\n").expect("an example") + "```json\n".len();
    let text = &PAGE[from..];
    &text[..text.find("```").expect("its end")]
}

/// Ten rows of twenty trees; the lower places of each row take mildew in the first of two seasons.
/// Warm days, and rain on every third of them, in 2031.
fn folder() -> FileSet {
    let mut trees = "tree_id,row,place\n".to_owned();
    let mut scores = "score_id,tree_id,trait,value,scored_on\n".to_owned();
    for row in 1..=10 {
        for place in 1..=20 {
            let id = format!("T{row:02}{place:02}");
            writeln!(trees, "{id},{row},{place}").expect("a line");
            let value = if place <= 8 && (row + place) % 3 != 0 { 3 } else { 1 };
            for (year, value) in [(2031, value), (2032, if row < 4 { value } else { 1 })] {
                writeln!(scores, "{id}-{year},{id},mildew_shoot,{value},{year}-07-01")
                    .expect("a line");
            }
        }
    }
    let mut weather = "time,temp_c,rain_mm,relative_humidity\n".to_owned();
    for (month, days) in [(4, 30), (5, 31), (6, 30)] {
        for day in 1..=days {
            for hour in 0..24 {
                let temp_c = if month == 4 { 8 } else { 20 };
                let rain_mm = if day % 3 == 0 && hour == 6 { 2 } else { 0 };
                writeln!(weather, "2031-{month:02}-{day:02}T{hour:02}:00,{temp_c},{rain_mm},60")
                    .expect("a line");
            }
        }
    }
    let files = [
        ("plot.json", example().to_owned()),
        ("trees.csv", trees),
        ("scores.csv", scores),
        ("weather.csv", weather),
    ];
    files.map(|(name, text)| (name.to_owned(), text.into_bytes())).into()
}

fn book(files: FileSet) -> Book {
    let (book, problems) = open(files);
    assert_eq!(problems, []);
    book.expect("a plot")
}

#[test]
fn powdery_mildew_is_known_by_data_alone() {
    let book = book(folder());
    let (plot, weather) = (book.plot(), book.weather());
    let disease = plot.disease("powdery mildew").expect("the profile of the page");
    assert_eq!(disease.id, "powdery_mildew");
    assert_eq!(plot.disease("APPLE MILDEW"), Some(disease));

    // May and June are warm and rainy, April is cold; five days before the look nothing counts.
    let look = When::parse_date("2031-07-01");
    let told = season::allowed(plot, weather, "powdery mildew", Season(2031), look);
    let told = told.expect("a rule and hours");
    assert_eq!((told.rule, told.periods, told.unclear), (Rule::FavourableMonths, 2, 0));
    assert_eq!(Some(told.to), When::parse_date("2031-06-26"));
    assert_eq!(season::allowed(plot, weather, "rust", Season(2031), look), None);

    let report = Run::to_the_end(plot, "powdery mildew", &Options::default()).expect("a report");
    let fit = report.fit.as_ref().expect("enough trees took it");
    let half_m = fit.spread.kernel.reach_m(0.5);
    let grid = &disease.reach.half_distances_m;
    assert!(grid.iter().any(|half| (half - half_m).abs() < 1e-6), "{half_m} of {grid:?}");
    assert!(!grid.contains(&0.7), "the usual grid has it");
    assert!(report.trees.iter().any(|line| line.judgement.luck.is_some()));

    assert_eq!(scene::words::disease(plot, "powdery mildew"), "powdery mildew");
    let cautions = scene::words::cautions::of_disease(plot, "Powdery Mildew");
    assert!(cautions[0].contains("closed bag") && cautions[1].contains("Grafting wood"));
    let rounds = scene::words::usual_rounds(plot, &[plot.trait_ix("mildew_shoot").expect("it")]);
    assert_eq!(
        rounds,
        ["Mildewed shoots: usually rated 2–4 weeks after petal fall; when growth stops."]
    );
    assert_eq!(walk::seen_on_tools(plot), []);
}

/// The same scores with another grid come to another judgement: the profile's is used.
#[test]
fn the_grid_of_the_profile_is_what_the_judgement_tries() {
    let judged = |grid: &str| {
        let mut files = folder();
        let text = example().replace("[1.4, 2.8, 5.6, 11.2, 22.4]", grid);
        files.insert("plot.json".to_owned(), text.into_bytes());
        let report = Run::to_the_end(book(files).plot(), "powdery mildew", &Options::default());
        report.expect("a report").fit.expect("a fit").spread.kernel.reach_m(0.5)
    };
    assert!((judged("[3.3]") - 3.3).abs() < 1e-6);
    assert!((judged("[9]") - 9.0).abs() < 1e-6);
}

#[test]
fn profiles_survive_zip_merge_and_writing_anew() {
    let files = folder();
    let knows = |files: FileSet| book(files).plot().head().diseases.clone();
    let known = knows(files.clone());
    assert_eq!(known.len(), 4);
    assert_eq!(known.called("scab").map(|it| it.reach.half_distances_m.len()), Some(3));
    let packed = pack(&files, "withy-corner");
    assert_eq!(knows(unpack("plot.zip", &packed).expect("a folder")), known);
    // A folder that knows one disease less, and another.
    let mut theirs = files.clone();
    let text = example().replace("\"id\": \"scab\", \"spread\"", "\"id\": \"rust\", \"spread\"");
    theirs.insert("plot.json".to_owned(), text.into_bytes());
    for merged in [merge(&files, &theirs), merge(&theirs, &files)] {
        let merged = knows(merged.expect("one folder").files);
        assert_eq!((merged.len(), merged.called("rust").is_some()), (5, true));
        assert_eq!(merged.called("powdery mildew"), known.called("powdery mildew"));
    }
    let same = merge(&files, &files).expect("one folder").files;
    assert_eq!(same["plot.json"], files["plot.json"], "byte for byte");
    assert_eq!(book(files.clone()).to_files()["plot.json"], files["plot.json"]);
    assert_eq!(knows(files::write(book(files).plot())), known);
}

#[test]
fn profiles_survive_a_new_place_on_earth() {
    let mut book = book(folder());
    let known = book.plot().head().diseases.clone();
    let origin = Origin { lon: -30.0, lat: 45.0, row_bearing_deg: 12.0 };
    let day = When::parse("2031-06-14").expect("a day");
    let edit = Edit::new(EditId::new("e"), "Moved", day, vec![EditPart::lie(&origin)]);
    book.edit(edit).map(|_| ()).expect("an edit");
    assert_eq!(book.plot().head().origin, Some(origin));
    assert_eq!(book.plot().head().diseases, known);
    let text = String::from_utf8(book.to_files()["plot.json"].clone()).expect("text");
    let profiles = example().find("\"diseases\"").map(|from| example()[from..].trim_end());
    let kept = profiles.expect("profiles").trim_end_matches('}').trim_end();
    assert!(text.contains(kept), "byte for byte");
}
