use plot::TraitIx;
use walk::{Route, Rows, Way};

use super::*;
use crate::testing::{book, ends, lantern};
use crate::{Orientation, Paper};

/// A row of so many trees, and one in the next row.
fn row(trees: usize) -> String {
    let line = |nth| format!("T{nth},1,{nth},Q-{nth}\n");
    let all: String = (1..=trees).map(line).collect();
    format!("tree_id,row,place,tag\n{all}T0,2,1,<script>x</script>\n")
}

fn printed(trees: &str, scores: &str, traits: &[usize], format: Format) -> Vec<Page> {
    let book = book(trees, scores);
    let traits: Vec<TraitIx> = traits.iter().map(|&nth| TraitIx::new(nth)).collect();
    let (wish, ends) = (Wish::default(), ends(&book));
    let asked =
        FieldSheets { plot: book.plot(), ends: &ends, traits: &traits, wish: &wish, format };
    field_sheets(&asked).expect("pages")
}

#[test]
fn each_tree_of_the_walk_has_its_boxes_in_walking_order() {
    let book = lantern();
    let plot = book.plot();
    let wish = Wish { rows: Some([3, 4].into()), way: Way::Serpentine, ..Wish::default() };
    let traits = plot.traits_of_disease("scab");
    let ends = ends(&book);
    let format = Format::default();
    let asked = FieldSheets { plot, ends: &ends, traits: &traits, wish: &wish, format };
    let pages = field_sheets(&asked).expect("pages");
    let all: String = pages.iter().map(|page| page.svg.as_str()).collect();
    let stops = Route::plan(plot, &Rows::of(plot), &wish, |_| false, |_| false).stops;
    let boxes = all.matches("<rect").count();
    assert_eq!(boxes, stops.len() * (traits.len() + 1), "a box for each trait, and one for a note");
    let mut at = 0;
    for stop in stops {
        let code = format!(">{}<", short_code(plot, stop));
        at += all[at..].find(&code).unwrap_or_else(|| panic!("{code} after {at}")) + code.len();
    }
    assert!(
        all.contains(">Row 3, from the road end<") && all.contains(">Row 4, from the brook end<")
    );
}

#[test]
fn pages_are_numbered_and_each_has_heading_and_ruler() {
    for format in
        [Format::default(), Format { paper: Paper::Letter, orientation: Orientation::Landscape }]
    {
        let pages = printed(&row(70), "", &[0], format);
        let of = pages.len();
        assert!(of > 1);
        for (nth, page) in pages.iter().enumerate() {
            for words in
                ["Withy &lt;Corner&gt;", "Scorer", "Date", "Round", "Scab on leaves", "100 mm"]
            {
                assert!(page.svg.contains(words), "{words} on page {nth}");
            }
            assert!(page.svg.contains(&format!("page {} of {of}", nth + 1)));
            assert!(!page.svg.contains("<script"));
            // A row that began on an earlier page says so.
            assert_eq!(page.svg.contains("Row 1, from the road end, continued"), nth > 0);
        }
    }
}

#[test]
fn nothing_stands_below_the_page_or_in_small_type() {
    let pages = printed(&row(70), "s1,T1,shoot_blight,5,2031-06-14\n", &[0, 1], Format::default());
    for page in &pages {
        let values = |name: &str| {
            let mark = format!(" {name}=\"");
            let parts = page.svg.split(&mark).skip(1);
            parts.filter_map(|part| part.split('"').next()?.parse::<f64>().ok()).collect::<Vec<_>>()
        };
        assert!(values("font-size").iter().all(|size| *size >= 2.82), "8 pt at least");
        assert!(values("y").iter().all(|y| (5.0..=292.0).contains(y)));
        // The first `height` is the page's own.
        assert!(values("height").iter().all(|height| *height >= 7.0));
        assert!(values("width").iter().all(|width| *width >= 7.0));
    }
}

#[test]
fn what_travels_on_tools_is_told_where_it_was_seen() {
    let told = |scores: &str| printed(&row(2), scores, &[1], Format::default())[0].svg.clone();
    let clean = told("s1,T1,shoot_blight,10,2031-06-14\n");
    assert!(!clean.contains("was seen on"), "{clean}");
    let sick = told("s1,T1,shoot_blight,5,2031-06-14\n");
    assert!(sick.contains("Fire blight was seen on 1 tree of this plot. Rate clean trees first"));
    assert!(sick.contains(">5<") && sick.contains(">2031-06<"), "the last score with its month");
    assert!(sick.contains("plant-health"), "whom to ask");
}

#[test]
fn too_many_traits_and_no_tree_are_refused() {
    let book = book(&row(2), "");
    let ends = Ends::default();
    let all: Vec<TraitIx> = (0..3).map(TraitIx::new).collect();
    let check = |traits: &[TraitIx], rows: i32, column: &str| {
        let wish = Wish { rows: Some([rows].into()), ..Wish::default() };
        let format = Format::default();
        let asked = FieldSheets { plot: book.plot(), ends: &ends, traits, wish: &wish, format };
        let refusal = field_sheets(&asked).expect_err("refused");
        assert_eq!(refusal.column, column, "{refusal}");
    };
    check(&[], 1, "trait");
    check(&[all.clone(), all.clone()].concat(), 1, "trait");
    check(&all, 9, "rows");
}
