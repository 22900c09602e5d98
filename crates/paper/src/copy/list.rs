//! All trees by row, each leading to its card.

use std::fmt::Write as _;

use language::say;
use plot::TreeIx;
use scene::escaped;
use walk::Rows;

use super::{ReadingCopy, card};

/// A row is shown when it is asked for.
pub(super) fn list(out: &mut String, asked: &ReadingCopy<'_>, rows: &Rows) {
    out.push_str(&format!("<h2 id=\"trees\">{}</h2>\n", say!("All trees by row")));
    for row in rows.all() {
        let places =
            row.places.iter().flat_map(|at| at.trees.iter().map(|&ix| (Some(at.number), ix)));
        group(out, asked, &say!("Row {row}", row = row.number), places);
    }
    group(out, asked, say!("Without a row"), rows.loose().iter().map(|&ix| (None, ix)));
}

fn group(
    out: &mut String,
    asked: &ReadingCopy<'_>,
    name: &str,
    trees: impl Iterator<Item = (Option<i32>, TreeIx)>,
) {
    let trees: Vec<_> = trees.collect();
    if trees.is_empty() {
        return;
    }
    // Writing to a string cannot fail.
    let _ = writeln!(out, "<details><summary>{name} ({})</summary><ul>", trees.len());
    for (place, ix) in trees {
        let place = place.map_or_else(String::new, |place| format!("{place} "));
        let (href, name) = (card::address(ix), escaped(&asked.plot.tree(ix).name()));
        let _ = writeln!(out, "<li>{place}<a href=\"{href}\">{name}</a>");
    }
    out.push_str("</ul></details>\n");
}
