//! A copy of a plot to read without Leeward: one HTML file without a script, with the plot folder in
//! it.

mod card;
mod list;
mod rounds;

use language::{count, say};
use plot::Plot;
use proof::{Report, Verdict};
use scene::{
    Camera, Facing, Ground, Inset, Insets, Layer, MarkLink, Moment, Page, ScaleBar, Sheet, Sources,
    Theme, Viewport, escaped, mark_radius_px, pieces, svg_inset, words,
};
use walk::{Ends, Rows};

use crate::base64::base64;
use crate::html::{head, table};
use crate::report::crosses;
use rounds::Rounds;

/// What a copy is made of.
#[derive(Clone, Copy, Debug)]
pub struct ReadingCopy<'a> {
    /// The plot.
    pub plot: &'a Plot,
    /// What the ends of its rows are called.
    pub ends: &'a Ends,
    /// The judgements, one for each disease; the map shows the first. Without one it shows crosses.
    pub reports: &'a [Report],
    /// The plot folder as a zip.
    pub zip: &'a [u8],
    /// What the zip is called, with its ending.
    pub zip_name: &'a str,
}

/// Radius of a mark on the map, CSS pixels, where the plot is wide.
const RADIUS_PX: f64 = 6.5;
/// A map is at most so wide and so high, CSS pixels.
const MOST_PX: f64 = 12_000.0;

/// The copy, as a file that opens from disk: map, verdicts by cross, all trees by row, a card for
/// each, and the plot folder to be saved.
pub fn reading_copy(asked: &ReadingCopy<'_>) -> String {
    let plot = asked.plot;
    let rounds = Rounds::of(plot);
    let mut out = head(
        &say!("{plot}: a copy to read", plot = plot.head().name),
        include_str!("copy/copy.css"),
    );
    let skip = say!("To the list of all trees");
    out.push_str(&format!("<a class=\"skip\" href=\"#trees\">{skip}</a>\n<main>\n"));
    out.push_str(&format!("<h1>{}</h1>\n", escaped(&plot.head().name)));
    paragraph(&mut out, &standing_of(plot));
    folder(&mut out, asked);
    for report in asked.reports {
        verdicts(&mut out, plot, report);
    }
    map(&mut out, asked);
    list::list(&mut out, asked, &Rows::of(plot));
    out.push_str(&rounds.html(plot));
    out.push_str("</main>\n");
    card::cards(&mut out, asked, &rounds);
    out + "</body>\n</html>\n"
}

/// Up to when it was scored: the file knows no other date.
fn standing_of(plot: &Plot) -> String {
    let last = plot.standing_scores().map(|(_, score)| score.scored_on.date()).max();
    let trees = plot.trees().len();
    let trees = count!(trees, "1 tree", "{trees} trees");
    match last {
        Some(day) => {
            say!("A copy to read, with {trees} and the scores up to {day}.", day = words::day(day))
        }
        None => say!("A copy to read, with {trees} and no score yet."),
    }
}

fn folder(out: &mut String, asked: &ReadingCopy<'_>) {
    let name = escaped(asked.zip_name);
    let save = say!("save the plot folder ({name}, {size})", size = size(asked.zip.len()));
    let zip = base64(asked.zip);
    let link = format_args!(
        "<a download=\"{name}\" href=\"data:application/zip;base64,{zip}\">{save}</a>"
    );
    let told = say!(
        "To go on working with it, {link}, then in Leeward choose {button} and hand in that file. \
         What is changed there does not change this copy.",
        button = format_args!("<b>{}</b>", say!("Open a plot folder"))
    );
    out.push_str(&format!("<p>{told}</p>\n"));
}

fn size(bytes: usize) -> String {
    match bytes {
        0..1_000_000 => say!("{size} kB", size = bytes.div_ceil(1000)),
        _ => say!("{size:.1} MB", size = bytes as f64 / 1e6),
    }
}

/// How many of each verdict, and the crosses in a table.
fn verdicts(out: &mut String, plot: &Plot, report: &Report) {
    let of = words::disease(plot, &report.disease);
    out.push_str(&format!("<h2>{}</h2>\n", escaped(&plot::capital(&of))));
    for caution in words::cautions::of_disease(plot, &report.disease) {
        out.push_str(&format!("<p class=\"note\">{}</p>\n", escaped(&caution)));
    }
    for limit in &report.limits {
        paragraph(out, &words::limit(&of, limit));
    }
    let has_proven = report.trees.iter().any(|it| it.judgement.verdict == Verdict::Proven);
    if has_proven {
        out.push_str(&format!("<p class=\"note\">{}</p>\n", escaped(words::proof_is_local())));
    }
    out.push_str(&table(&crosses(report, say!("Seedlings by cross and verdict on {of}"))));
}

/// The map, in a frame that scrolls, with its legend above.
fn map(out: &mut String, asked: &ReadingCopy<'_>) {
    let plot = asked.plot;
    let ground = Ground::of(plot).with_ends(asked.ends.clone());
    let report = asked.reports.first();
    let layer = report.map_or(Layer::Cross, |it| Layer::Verdict(it.disease.clone()));
    let sources = Sources { plot, ground: &ground, record: None, report };
    let sheet = Sheet::of(sources, &layer, &Moment::All);
    let theme = Theme::Day;
    let camera = camera(&ground);
    let page = Page::plain(plot, &ground, &sheet, &camera, theme);
    out.push_str(&format!(
        "<h2 id=\"map\">{}</h2>\n<ul class=\"legend\">\n",
        escaped(sheet.title())
    ));
    for class in sheet.legend() {
        out.push_str(
            "<li><svg width=\"18\" height=\"18\" viewBox=\"-9 -9 18 18\" aria-hidden=\"true\">",
        );
        for piece in pieces(class.kind.look(), 7.0, theme) {
            let line = piece.line.map_or_else(String::new, |(ink, width)| {
                format!(" stroke=\"{ink}\" stroke-width=\"{width:.1}\"")
            });
            out.push_str(&format!("<path d=\"{}\" fill=\"{}\"{line}/>", piece.path, piece.fill));
        }
        out.push_str(&format!("</svg> {} ({})</li>\n", escaped(&class.label), class.count));
    }
    let bar = ScaleBar::of(&camera, 200.0);
    out.push_str(&format!(
        "<li><svg width=\"{0:.0}\" height=\"10\" aria-hidden=\"true\"><path d=\"M1 2v6h{1:.1}v-6\" \
         fill=\"none\" stroke=\"#1c1b18\" stroke-width=\"1.5\"/></svg> {2}</li>\n",
        bar.length_px + 2.0,
        bar.length_px,
        bar.label
    ));
    if let Some(origin) = ground.origin() {
        out.push_str(&format!(
            "<li><svg width=\"24\" height=\"24\" viewBox=\"-12 -12 24 24\" \
             aria-hidden=\"true\"><path transform=\"rotate({:.1})\" d=\"M0 -11 5 9 0 5 -5 \
             9Z\"/></svg> {}</li>\n",
            camera.north_deg(origin.row_bearing_deg),
            say!("north")
        ));
    }
    out.push_str("</ul>\n");
    paragraph(out, say!("Tap a mark for its card; everything is in the list below, too."));
    let link =
        |tree: plot::TreeIx| MarkLink { href: card::address(tree), title: plot.tree(tree).name() };
    let Viewport { width, height } = camera.viewport;
    let frame = [0.0, 0.0, width, height];
    out.push_str(&format!(
        "<div class=\"map\" tabindex=\"0\" role=\"group\" aria-label=\"{}\">\n",
        say!("Map")
    ));
    out.push_str(&svg_inset(page, Inset { prefix: "", names: false, frame, link: Some(&link) }));
    out.push_str("</div>\n");
}

/// Marks large enough for a finger where the plot is not too large for that.
fn camera(ground: &Ground) -> Camera {
    const EDGE_PX: f64 = 44.0;
    let bounds = ground.bounds();
    let screen = Viewport { width: 1000.0, height: 1001.0 };
    let turn_deg = Facing::Upright.turn_deg(bounds, screen, ground.origin());
    let long = bounds.along_m().max(bounds.across_m()).max(1.0);
    let px_per_m = (RADIUS_PX / 0.42 / ground.spacing_m()).min(MOST_PX / long).min(60.0);
    let is_turned = (turn_deg / 90.0).rem_euclid(2.0) == 1.0;
    let (along, across) = (bounds.along_m() * px_per_m, bounds.across_m() * px_per_m);
    let (width, height) = if is_turned { (across, along) } else { (along, across) };
    let viewport =
        Viewport { width: (width + 2.0 * EDGE_PX).ceil(), height: (height + 2.0 * EDGE_PX).ceil() };
    let insets = Insets { top: EDGE_PX, right: EDGE_PX, bottom: EDGE_PX, left: EDGE_PX };
    let camera = Camera::fit(bounds, viewport, insets, turn_deg);
    debug_assert!(mark_radius_px(ground, &camera) > 0.0);
    camera
}

fn paragraph(out: &mut String, words: &str) {
    out.push_str(&format!("<p>{}</p>\n", escaped(words)));
}

#[cfg(test)]
mod tests;
