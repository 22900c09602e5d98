use std::collections::HashSet;

use files::{FileSet, pack};

use super::*;
use crate::testing::{book, ends, judged, lantern, lantern_scab};

fn copied(book: &files::Book, reports: &[Report]) -> String {
    let zip = pack(book.files(), "plot");
    let ends = ends(book);
    reading_copy(&ReadingCopy {
        plot: book.plot(),
        ends: &ends,
        reports,
        zip: &zip,
        zip_name: "lantern.zip",
    })
}

/// What stands between the quotation marks after a mark.
fn quoted<'a>(html: &'a str, mark: &str) -> Vec<&'a str> {
    html.split(mark).skip(1).filter_map(|rest| rest.split('"').next()).collect()
}

#[test]
fn each_mark_and_each_line_leads_to_the_card_of_its_tree() {
    let book = lantern();
    let html = copied(&book, &[lantern_scab()]);
    let ids: HashSet<&str> = quoted(&html, " id=\"").into_iter().collect();
    let trees = book.plot().trees().len();
    let cards = ids.iter().filter(|id| id[1..].parse::<usize>().is_ok() && id.starts_with('t'));
    assert_eq!(cards.count(), trees);
    let links = quoted(&html, "<a href=\"#t");
    assert!(
        links
            .iter()
            .filter(|it| it.parse::<usize>().is_ok())
            .all(|it| ids.contains(format!("t{it}").as_str()))
    );
    let marks = html.matches("tabindex=\"-1\"><title>").count();
    assert!(marks > 1_100 && marks <= trees, "{marks}");
    let listed = html.matches("<li>").count();
    assert!(listed >= trees, "every tree is in the list");
    let (_, card) = html.split_once("<section id=\"t0\">").expect("a card");
    let (card, _) = card.split_once("</section>").expect("its end");
    assert!(card.contains("<h3>MB-1</h3>") && card.contains("Row 1, place 1 · "), "{card}");
    assert!(card.contains("Scab on leaves · 2029: "), "{card}");
}

#[test]
fn the_folder_comes_out_as_it_went_in() {
    let book = lantern();
    let html = copied(&book, &[]);
    let letters = quoted(&html, "href=\"data:application/zip;base64,")[0];
    let value = |letter: u8| match letter {
        b'A'..=b'Z' => u32::from(letter - b'A'),
        b'a'..=b'z' => u32::from(letter - b'a') + 26,
        b'0'..=b'9' => u32::from(letter - b'0') + 52,
        b'+' => 62,
        _ => 63,
    };
    let mut bytes = Vec::new();
    for four in letters.trim_end_matches('=').as_bytes().chunks(4) {
        let bits = four.iter().fold(0, |bits, &letter| bits << 6 | value(letter));
        let bits = bits << (6 * (4 - four.len()));
        bytes.extend_from_slice(&bits.to_be_bytes()[1..four.len()]);
    }
    let files: FileSet = files::unpack("copy", &bytes).expect("a zip");
    for (name, content) in book.files() {
        assert_eq!(files.get(&format!("plot/{name}")), Some(content), "{name}");
    }
}

#[test]
fn hostile_words_stay_words_and_nothing_can_run() {
    let hostile = "<script>alert('x')</script>";
    let book = book(
        &format!(
            "tree_id,row,place,tag,seed_parent,note\nT1,1,1,{hostile},{hostile},\"\"\"><img src=x \
             onerror=alert(1)>\"\n\"T\"\"><script>\",1,2,,,\n"
        ),
        "s1,T1,scab_leaf,1,2031-06-14\n",
    );
    let html = copied(&book, &[judged(&book, "scab")]);
    assert!(!html.contains("<script") && !html.contains("<img") && !html.contains("Withy <"));
    assert!(html.contains("&lt;script&gt;alert") && html.contains("default-src 'none'"));
    // Attributes hold no quotation mark but their own.
    assert!(html.contains("&quot;&gt;&lt;img"));
}

#[test]
fn a_plot_without_scores_or_trees_is_copied_too() {
    for trees in ["tree_id,row,place\n", "tree_id,row,place\nT1,1,1\n"] {
        let book = book(trees, "");
        let html = copied(&book, &[]);
        assert!(html.contains("no score yet") && html.ends_with("</html>\n"));
        assert!(!html.contains("NaN") && !html.contains("inf"), "{html}");
    }
}
