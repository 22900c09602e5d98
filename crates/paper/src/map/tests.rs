use super::*;
use crate::testing::{book, ends, lantern, lantern_scab};

fn pages(book: &files::Book, layer: &Layer, format: Format) -> Vec<Page> {
    let plot = book.plot();
    // Of all that is drawn here only the demo plot is judged.
    let report = layer.disease(plot).map(|_| lantern_scab());
    map_pages(&MapPages { plot, ends: &ends(book), layer, report: report.as_ref(), format })
}

/// A plot of rows of so many places.
fn large(rows: i32, places: i32) -> files::Book {
    let line = |row: i32, place: i32| format!("T{row}-{place},{row},{place}\n");
    let all: String =
        (1..=rows).flat_map(|row| (1..=places).map(move |at| line(row, at))).collect();
    book(&format!("tree_id,row,place\n{all}"), "")
}

#[test]
fn the_demo_plot_is_one_page_without_colour() {
    let book = lantern();
    let pages = pages(&book, &Layer::Verdict("scab".to_owned()), Format::default());
    let [page] = &pages[..] else { panic!("{} pages", pages.len()) };
    for words in ["100 mm", ">N<", "1 : ", "proven", "infected", "road end", "Lantern Bank"] {
        assert!(page.svg.contains(words), "{words}");
    }
    let inks = page.svg.split(['"', '=']).filter(|it| it.len() == 7 && it.starts_with('#'));
    for ink in inks.filter(|it| it[1..].bytes().all(|digit| digit.is_ascii_hexdigit())) {
        assert!(ink[1..3] == ink[3..5] && ink[3..5] == ink[5..7], "{ink}");
    }
    assert!(page.svg.matches("<use ").count() > 1_100);
    assert!(!page.svg.contains("style="), "a strict policy forbids it");
}

#[test]
fn a_large_plot_has_an_overview_and_parts_on_which_every_tree_is_seen() {
    let book = large(60, 200);
    let pages = pages(&book, &Layer::Cross, Format::default());
    let of = pages.len() - 1;
    assert!(of >= 4, "{of}");
    let title = |page: &Page| {
        let (_, rest) = page.svg.split_once("<title>").expect("a title");
        rest.split('<').next().unwrap_or_default().to_owned()
    };
    assert!(title(&pages[0]).ends_with(&format!("where the {of} parts lie")));
    assert!(title(&pages[1]).contains(&format!("part 1 of {of}: rows ")), "{}", title(&pages[1]));
    let marks: usize = pages[1..].iter().map(|page| page.svg.matches("<use ").count()).sum();
    assert!((12_000..24_000).contains(&marks), "{marks}: each once, and margins that overlap");
    // The parts hold every row and every place between them.
    let told: String = pages[1..].iter().map(title).collect();
    for words in ["rows 1 to ", " to 60", "places 1 to ", " to 200"] {
        assert!(told.contains(words), "{words}: {told}");
    }
    let ids = |page: &Page| page.svg.split("clipPath id=\"").nth(1).map(|it| it[..8].to_owned());
    assert_ne!(ids(&pages[1]), ids(&pages[2]), "ids differ, since pages may share a document");
}

#[test]
fn a_scale_is_what_it_says() {
    // One row of 21 trees 0.75 m apart: 15 m.
    let book = large(1, 21);
    let pages = pages(&book, &Layer::Cross, Format::default().landscape());
    let svg = &pages[0].svg;
    let (_, ratio) = svg.split_once("1 : ").expect("a scale");
    let ratio: f64 = ratio.split('<').next().and_then(|it| it.parse().ok()).expect("a number");
    let xs: Vec<f64> = svg
        .split("<use href=")
        .skip(1)
        .filter_map(|part| part.split(" x=\"").nth(1)?.split('"').next()?.parse().ok())
        .collect();
    let px =
        xs.iter().copied().fold(f64::MIN, f64::max) - xs.iter().copied().fold(f64::MAX, f64::min);
    assert!((px / PX_PER_MM * ratio / 15_000.0 - 1.0).abs() < 0.01, "{px} px at 1 : {ratio}");
}
