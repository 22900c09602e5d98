//! The map as SVG, for print and reports.

mod around;
mod inset;
mod mark;
mod measured;
mod wash;

use std::fmt::Write as _;

use language::say;
use plot::Plot;

use crate::labels::{Setting, labels};
use crate::marks::{GRAFT_SIZE, mark_radius_px};
use crate::neighbours::{NeighbourPicture, NeighbourView};
use crate::{
    Camera, Clear, Ground, HIDDEN, Ink, Look, Point, ScaleBar, Sheet, Theme, Viewport, Wash, rows,
};

pub use inset::{Inset, Link, svg_inset};
pub use measured::{MeasuredPicture, MeasuredPlace, svg_measured};

/// What is drawn.
#[derive(Clone, Copy, Debug)]
pub struct Page<'a> {
    /// The plot.
    pub plot: &'a Plot,
    /// Its ground.
    pub ground: &'a Ground,
    /// The layer.
    pub sheet: &'a Sheet,
    /// The tint of the ground under the marks.
    pub wash: Option<&'a Wash>,
    /// How it is seen; its viewport is the map's part of the page.
    pub camera: &'a Camera,
    /// Light or dark.
    pub theme: Theme,
    /// The neighbours of a chosen tree.
    pub neighbours: Option<&'a NeighbourView>,
}

impl<'a> Page<'a> {
    /// Of a layer alone: without a tint, and nobody's neighbours.
    pub fn plain(
        plot: &'a Plot,
        ground: &'a Ground,
        sheet: &'a Sheet,
        camera: &'a Camera,
        theme: Theme,
    ) -> Self {
        Self { plot, ground, sheet, wash: None, camera, theme, neighbours: None }
    }
}

/// Width of the legend's column.
const LEGEND_PX: f64 = 300.0;
/// Height of a line of the legend.
const LINE_PX: f64 = 24.0;
/// About the width of a sans serif letter in a 12 px line; print has no other measure.
const SETTING: Setting<'static> =
    Setting { line_px: 14.0, width_px: &|text| text.chars().count() as f64 * 6.7 };

/// The page as an SVG document: the map, its legend beside it.
pub fn svg(page: Page<'_>) -> String {
    svg_apart(page, "")
}

/// The same with every id behind a prefix, so that several may stand in one document.
pub fn svg_apart(page: Page<'_>, prefix: &str) -> String {
    let mut out = String::new();
    // Writing to a string cannot fail.
    let _ = write(&mut out, page, LEGEND_PX, &Inset::named(prefix, true))
        .and_then(|()| legend(&mut out, page));
    out.push_str("</svg>\n");
    out
}

/// The map alone as an SVG document, without names of trees, with north (where it is known) and
/// scale in its corners: for a screen that has a legend of its own.
pub fn svg_map(page: Page<'_>) -> String {
    let mut out = String::new();
    let _ =
        write(&mut out, page, 0.0, &Inset::named("", false)).and_then(|()| corners(&mut out, page));
    out.push_str("</svg>\n");
    out
}

/// All but the legend and the end, with so much room at the right.
fn write(out: &mut String, page: Page<'_>, room_px: f64, inset: &Inset<'_>) -> std::fmt::Result {
    let Page { camera, theme, sheet, .. } = page;
    let (width, height) = (camera.viewport.width + room_px, camera.viewport.height);
    let ink = |ink| theme.hex(ink);
    write!(
        out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {width:.0} {height:.0}\" \
         width=\"{width:.0}\" height=\"{height:.0}\" font-family=\"system-ui, sans-serif\" \
         font-size=\"14\" fill=\"{}\">\n<title>{}</title>\n<rect width=\"100%\" height=\"100%\" \
         fill=\"{}\"/>\n",
        ink(Ink::Line),
        escaped(&format!("{} — {}", page.plot.head().name, sheet.title())),
        ink(Ink::Paper),
    )?;
    map(out, page, inset)
}

/// The map's part: what it defines, then tint, marks, names and row numbers, clipped.
fn map(out: &mut String, page: Page<'_>, inset: &Inset<'_>) -> std::fmt::Result {
    let Page { camera, theme, ground, sheet, .. } = page;
    let id = inset.prefix;
    write!(
        out,
        "<defs>\n<clipPath id=\"{id}map\"><rect width=\"{:.0}\" height=\"{:.0}\"/></clipPath>\n",
        camera.viewport.width, camera.viewport.height,
    )?;
    let radius = mark_radius_px(ground, camera);
    for (code, class) in sheet.classes().iter().enumerate().filter(|(_, class)| class.count > 0) {
        mark::define(out, &format!("{id}k{code}"), class.kind.look(), radius, theme)?;
        let graft = radius * f64::from(GRAFT_SIZE);
        mark::define(out, &format!("{id}g{code}"), class.kind.look(), graft, theme)?;
    }
    write!(out, "</defs>\n<g clip-path=\"url(#{id}map)\">\n")?;
    if let Some(wash) = page.wash {
        wash::cells(out, wash, camera, theme)?;
    }
    let picture = around::picture(page);
    if let Some(picture) = &picture {
        around::draw(out, page, picture)?;
    }
    marks(out, page, inset)?;
    if let Some(picture) = &picture {
        around::draw_over(out, page, picture)?;
    }
    if inset.names {
        names(out, page, picture.as_ref())?;
    }
    row_ends(out, page)?;
    out.push_str("</g>\n");
    Ok(())
}

/// North in the upper right corner, the scale in the lower left one.
fn corners(out: &mut String, page: Page<'_>) -> std::fmt::Result {
    let Page { camera, theme, .. } = page;
    let line = theme.hex(Ink::Line);
    if let Some(origin) = page.ground.origin() {
        let at = Point { x: camera.viewport.width - 24.0, y: 26.0 };
        north(out, at, camera.north_deg(origin.row_bearing_deg), &line)?;
    }
    let at = Point { x: 8.0, y: camera.viewport.height - 6.0 };
    scale(out, &ScaleBar::of(camera, camera.viewport.width / 4.0), at, line)
}

/// A scale bar with its label above, from its lower left corner.
fn scale(out: &mut String, bar: &ScaleBar, at: Point, line: String) -> std::fmt::Result {
    let Point { x, y } = at;
    writeln!(
        out,
        "<path d=\"M{x:.1} {:.1}v8h{:.1}v-8\" fill=\"none\" stroke=\"{line}\" \
         stroke-width=\"1.5\"/>",
        y - 8.0,
        bar.length_px
    )?;
    text(out, Point { x: x + bar.length_px / 2.0, y: y - 16.0 }, "middle", line, &bar.label)
}

/// The marks that come into sight.
fn marks(out: &mut String, page: Page<'_>, inset: &Inset<'_>) -> std::fmt::Result {
    let Page { camera, ground, .. } = page;
    // The widest mark is a quarter wider than an ordinary one, and has an outline.
    let reach = 2.0 * mark_radius_px(ground, camera);
    let is_seen = |at: f64, to: f64| (-reach..=to + reach).contains(&at);
    for &tree in page.sheet.order() {
        let code = page.sheet.codes()[tree.get()];
        let Point { x, y } = camera.screen_from_plot(ground.spot(tree));
        let Viewport { width, height } = camera.viewport;
        if code == HIDDEN || !is_seen(x, width) || !is_seen(y, height) {
            continue;
        }
        let size = if ground.is_graft(tree) { 'g' } else { 'k' };
        let id = inset.prefix;
        let mark = format!("<use href=\"#{id}{size}{code}\" x=\"{x:.1}\" y=\"{y:.1}\"/>");
        match inset.link {
            None => writeln!(out, "{mark}")?,
            Some(link) => inset::linked(out, link(tree), &mark)?,
        }
    }
    Ok(())
}

fn names(out: &mut String, page: Page<'_>, picture: Option<&NeighbourPicture>) -> std::fmt::Result {
    let Page { plot, ground, sheet, camera, .. } = page;
    let rows = rows::numbers(ground.rows(), camera, &Clear::default());
    let mut clear: Vec<Point> = rows.into_iter().map(|number| number.at).collect();
    clear.extend(picture.into_iter().flat_map(NeighbourPicture::keep_clear));
    for label in labels(plot, ground, sheet, camera, SETTING, &clear, &[]) {
        name(out, label.at, page.theme.hex(Ink::Line), &label.text)?;
    }
    Ok(())
}

/// Row numbers, and what the ends of the rows are called.
fn row_ends(out: &mut String, page: Page<'_>) -> std::fmt::Result {
    let (rows, clear) = (page.ground.rows(), Clear::default());
    for number in rows::numbers(rows, page.camera, &clear) {
        // At the edge of the map it stands on marks.
        if number.at_edge {
            let paper = page.theme.hex(Ink::Paper);
            write!(out, "<g stroke=\"{paper}\" stroke-width=\"5\" paint-order=\"stroke\">")?;
        }
        text(out, number.at, "middle", page.theme.hex(Ink::Faint), &number.row.to_string())?;
        out.push_str(if number.at_edge { "</g>\n" } else { "" });
    }
    for end in rows::end_names(rows, page.ground.ends(), page.camera, &clear, SETTING) {
        let Point { x, y } = end.at;
        let turn =
            format!("<g transform=\"translate({x:.1} {y:.1}) rotate({:.1})\">", end.turn_deg);
        writeln!(out, "{turn}")?;
        text(out, Point::default(), "middle", page.theme.hex(Ink::Line), &end.text)?;
        out.push_str("</g>\n");
    }
    Ok(())
}

fn legend(out: &mut String, page: Page<'_>) -> std::fmt::Result {
    let Page { camera, theme, sheet, .. } = page;
    let left = camera.viewport.width + 20.0;
    let line = theme.hex(Ink::Line);
    let mut y = heading(out, Point { x: left, y: 28.0 }, &line, sheet.title())?;
    for class in sheet.legend() {
        let at = Point { x: left, y };
        entry(out, at, theme, class.kind.look(), [&class.label, &class.count.to_string()])?;
        y += LINE_PX;
    }
    if let Some(wash) = page.wash {
        y = heading(out, Point { x: left, y: y + 12.0 }, &line, wash.title())?;
        for shade in wash.legend() {
            let at = Point { x: left, y };
            entry(out, at, theme, shade.look(), [&shade.label, &shade.area()])?;
            y += LINE_PX;
        }
    }
    if let Some(view) = page.neighbours {
        y = around::legend(out, page, view, left, y + 12.0)?;
    }
    if let Some(origin) = page.ground.origin() {
        north(
            out,
            Point { x: left + 12.0, y: y + 24.0 },
            camera.north_deg(origin.row_bearing_deg),
            &line,
        )?;
    }
    let bar = ScaleBar::of(camera, 160.0);
    scale(out, &bar, Point { x: left + 50.0, y: y + 32.0 }, line)
}

/// A heading of the legend; gives where its first line goes.
fn heading(out: &mut String, at: Point, line: &str, words: &str) -> Result<f64, std::fmt::Error> {
    let mut y = at.y;
    for part in wrapped(words, 36) {
        text(out, Point { x: at.x, y }, "start", line.to_owned(), &part)?;
        y += 20.0;
    }
    Ok(y + 10.0)
}

/// A line of the legend: its mark, its words, how much there is of it.
fn entry(
    out: &mut String,
    at: Point,
    theme: Theme,
    look: Look,
    [label, amount]: [&str; 2],
) -> std::fmt::Result {
    writeln!(out, "<g transform=\"translate({:.1} {:.1})\">", at.x + 9.0, at.y)?;
    mark::draw(out, look, 7.5, theme)?;
    out.push_str("</g>\n");
    let line = theme.hex(Ink::Line);
    text(out, Point { x: at.x + 26.0, y: at.y }, "start", line.clone(), label)?;
    text(out, Point { x: at.x + LEGEND_PX - 40.0, y: at.y }, "end", line, amount)
}

fn north(out: &mut String, at: Point, north_deg: f64, line: &str) -> std::fmt::Result {
    writeln!(
        out,
        "<g transform=\"translate({:.1} {:.1}) rotate({north_deg:.1})\"><path \
         d=\"M0 -16 6 6 0 2 -6 6Z\" fill=\"{line}\"/><text y=\"20\" text-anchor=\"middle\" \
         font-size=\"12\">{}</text></g>",
        at.x,
        at.y,
        escaped(say!("N"; "point of the compass"))
    )
}

fn text(out: &mut String, at: Point, anchor: &str, fill: String, words: &str) -> std::fmt::Result {
    writeln!(
        out,
        "<text x=\"{:.1}\" y=\"{:.1}\" text-anchor=\"{anchor}\" dominant-baseline=\"central\" \
         fill=\"{fill}\">{}</text>",
        at.x,
        at.y,
        escaped(words)
    )
}

fn name(out: &mut String, at: Point, fill: String, words: &str) -> std::fmt::Result {
    out.push_str("<g font-size=\"12\">");
    text(out, at, "start", fill, words)?;
    out.push_str("</g>\n");
    Ok(())
}

/// Lines of at most so many letters, broken at spaces.
fn wrapped(words: &str, most: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in words.split(' ') {
        match lines.last_mut() {
            Some(line) if line.chars().count() + 1 + word.chars().count() <= most => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}

/// Text that is safe within SVG and HTML, also as the value of an attribute in quotation marks.
/// Control characters, which XML forbids, become a blank.
pub fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\t' | '\n' | '\u{fffe}' | '\u{ffff}' => out.push(' '),
            other if other.is_control() => out.push(' '),
            other => out.push(other),
        }
    }
    out
}
