//! The map on paper: in grey, to scale, with legend, north and scale; over several pages where one
//! could not tell its marks.

mod legend;
mod parts;

use language::say;
use plot::Plot;
use proof::Report;
use scene::{
    Camera, Facing, Ground, Inset, Insets, Layer, Moment, Page as Picture, Record, ScaleBar, Sheet,
    Sources, Theme, Viewport, mark_radius_px, svg_inset,
};
use walk::Ends;

use crate::drawing::{Anchor, Drawing, Frame, Type, mm};
use crate::letters::wrapped;
use crate::ruler::{RULER_HEIGHT_MM, ruler};
use crate::{Format, Page};
use legend::Legend;
use parts::Part;

/// What a map is printed of.
#[derive(Clone, Copy, Debug)]
pub struct MapPages<'a> {
    /// The plot.
    pub plot: &'a Plot,
    /// What the ends of its rows are called.
    pub ends: &'a Ends,
    /// The layer, over the whole record.
    pub layer: &'a Layer,
    /// What was found out about the layer's disease.
    pub report: Option<&'a Report>,
    /// The paper.
    pub format: Format,
}

/// What is drawn on each page.
#[derive(Clone, Copy)]
struct Drawn<'a> {
    plot: &'a Plot,
    ground: &'a Ground,
    sheet: &'a Sheet,
    format: Format,
    theme: Theme,
}

/// CSS pixels for a millimetre: `scene` sets its type and marks in those.
pub(crate) const PX_PER_MM: f64 = 96.0 / 25.4;
/// Marks with a smaller radius cannot be told on paper, mm.
const LEAST_RADIUS_MM: f64 = 0.9;
/// Room around the plot for row numbers and the names of the ends, CSS pixels.
const INSET_PX: f64 = 46.0;
const EDGE_MM: f64 = 10.0;
const HEADING_MM: f64 = 13.0;
const NOTE_LINE_MM: f64 = 3.7;

/// The map: one page, or, where marks would have a radius below 0.9 mm, an overview that says where
/// each page lies, and pages on which marks have that radius.
pub fn map_pages(asked: &MapPages<'_>) -> Vec<Page> {
    let MapPages { plot, ends, layer, report, format } = *asked;
    let ground = Ground::of(plot).with_ends(ends.clone());
    let record = layer.trait_ix(plot).map(|ix| Record::of(plot, ix));
    let sources = Sources { plot, ground: &ground, record: record.as_ref(), report };
    let sheet = Sheet::of(sources, layer, &Moment::All);
    drawn(&Drawn { plot, ground: &ground, sheet: &sheet, format, theme: Theme::Grey })
}

fn drawn(asked: &Drawn<'_>) -> Vec<Page> {
    let legend = Legend::of(asked.sheet, asked.format.size_mm()[0] - 2.0 * EDGE_MM);
    let foot = Foot::of(asked, legend);
    let frame = foot.frame(asked.format);
    let whole = camera(asked, frame);
    let radius_mm = mark_radius_px(asked.ground, &whole) / PX_PER_MM;
    // Marks of a plot of one tree are as large as they get.
    if radius_mm >= LEAST_RADIUS_MM || asked.ground.is_empty() {
        return vec![page(asked, &foot, &whole, ["", "m-"], None)];
    }
    let px_per_m = LEAST_RADIUS_MM * PX_PER_MM / (0.42 * asked.ground.spacing_m());
    let parts = parts::of(asked.plot, asked.ground, &whole, px_per_m, INSET_PX);
    let of = parts.len();
    let overview = say!("where the {of} parts lie");
    let mut pages = vec![page(asked, &foot, &whole, [&overview, "m0-"], Some(&parts))];
    pages.extend(parts.iter().enumerate().map(|(nth, part)| {
        let words = say!("part {nth} of {of}: {words}", nth = nth + 1, words = part.words);
        page(asked, &foot, &part.camera, [&words, &format!("m{}-", nth + 1)], None)
    }));
    pages
}

/// Sees the whole plot in a frame, turned so that it is largest.
fn camera(asked: &Drawn<'_>, frame: Frame) -> Camera {
    let viewport = Viewport { width: frame.width * PX_PER_MM, height: frame.height * PX_PER_MM };
    let bounds = asked.ground.bounds();
    let turn_deg = Facing::Upright.turn_deg(bounds, viewport, asked.ground.origin());
    let insets = Insets { top: INSET_PX, right: INSET_PX, bottom: INSET_PX, left: INSET_PX };
    Camera::fit(bounds, viewport, insets, turn_deg)
}

/// A page: heading, map, and what is below it. The prefix keeps ids apart where several pages stand
/// in one document.
fn page(
    asked: &Drawn<'_>,
    foot: &Foot<'_>,
    camera: &Camera,
    [words, prefix]: [&str; 2],
    parts: Option<&[Part]>,
) -> Page {
    let mut drawing = Drawing::default();
    let [width, _] = asked.format.size_mm();
    let room = width - 2.0 * EDGE_MM;
    let name = Type::points(13.0).bold();
    drawing.text_within([EDGE_MM, EDGE_MM + 3.0], name, room, &asked.plot.head().name);
    let title = match words {
        "" => asked.sheet.title().to_owned(),
        words => format!("{} — {words}", asked.sheet.title()),
    };
    drawing.text_within([EDGE_MM, EDGE_MM + 9.0], Type::points(10.0), room, &title);
    let frame = foot.frame(asked.format);
    let Drawn { plot, ground, sheet, theme, .. } = *asked;
    let picture = Picture::plain(plot, ground, sheet, camera, theme);
    drawing.raw(&svg_inset(
        picture,
        Inset {
            prefix,
            names: parts.is_none(),
            frame: [frame.x, frame.y, frame.width, frame.height],
            link: None,
        },
    ));
    for (nth, part) in parts.unwrap_or_default().iter().enumerate() {
        part.outline(&mut drawing, camera, frame, nth + 1);
    }
    foot.draw(&mut drawing, asked, camera);
    drawing.page(asked.format, &format!("{}, {title}", plot.head().name))
}

/// What stands below the map: legend, notes, north, scale and ruler.
struct Foot<'a> {
    legend: Legend<'a>,
    notes: Vec<String>,
}

const SCALE_MM: f64 = 15.0;

impl<'a> Foot<'a> {
    fn of(asked: &Drawn<'a>, legend: Legend<'a>) -> Self {
        let room = asked.format.size_mm()[0] - 2.0 * EDGE_MM;
        let set = Type::points(8.5);
        let notes = asked.sheet.notes().iter();
        Self {
            legend,
            notes: notes.flat_map(|note| wrapped(note, set.size_mm, false, room)).collect(),
        }
    }

    fn height_mm(&self) -> f64 {
        let notes = self.notes.len() as f64 * NOTE_LINE_MM;
        self.legend.height_mm() + notes + SCALE_MM + RULER_HEIGHT_MM + 3.0
    }

    /// What is left for the map.
    fn frame(&self, format: Format) -> Frame {
        let [width, height] = format.size_mm();
        let y = EDGE_MM + HEADING_MM;
        Frame {
            x: EDGE_MM,
            y,
            width: width - 2.0 * EDGE_MM,
            // Many crosses make a long legend; half of a page is the map's at least.
            height: (height - y - EDGE_MM - self.height_mm()).max(height * 0.4),
        }
    }

    fn draw(&self, drawing: &mut Drawing, asked: &Drawn<'_>, camera: &Camera) {
        let frame = self.frame(asked.format);
        let [width, height] = asked.format.size_mm();
        let mut y = frame.y + frame.height + 2.0;
        self.legend.draw(drawing, [EDGE_MM, y], asked.theme, height - EDGE_MM - 27.0 - y);
        y = height - EDGE_MM - RULER_HEIGHT_MM - SCALE_MM - self.notes.len() as f64 * NOTE_LINE_MM;
        for (nth, line) in self.notes.iter().enumerate() {
            let at = [EDGE_MM, y + NOTE_LINE_MM * (nth as f64 + 0.8)];
            drawing.held(at, Type::points(8.5), width - 2.0 * EDGE_MM, line);
        }
        let y = height - EDGE_MM - RULER_HEIGHT_MM - 5.0;
        scale(drawing, camera, [EDGE_MM + 16.0, y]);
        if let Some(origin) = asked.ground.origin() {
            north(drawing, camera.north_deg(origin.row_bearing_deg), [EDGE_MM + 5.0, y - 2.0]);
        }
        ruler(drawing, [EDGE_MM, height - EDGE_MM], width - 2.0 * EDGE_MM);
    }
}

/// A length of the plot as it is on the page, and the scale in numbers.
fn scale(drawing: &mut Drawing, camera: &Camera, [x, y]: [f64; 2]) {
    let bar = ScaleBar::of(camera, 60.0 * PX_PER_MM);
    let length = bar.length_px / PX_PER_MM;
    drawing.line([x, y], [x + length, y], 0.5, "#111");
    for end in [x, x + length] {
        drawing.line([end, y - 2.5], [end, y + 0.25], 0.5, "#111");
    }
    let set = Type::points(9.0);
    drawing.text([x + length / 2.0, y - 1.6], set.anchored(Anchor::Middle), &bar.label);
    let times = 1000.0 * PX_PER_MM / camera.px_per_m;
    drawing.text([x + length + 4.0, y], set, &format!("1 : {times:.0}"));
}

/// An arrow to the north, its middle at a point.
fn north(drawing: &mut Drawing, north_deg: f64, [x, y]: [f64; 2]) {
    drawing.raw(&format!(
        "<g transform=\"translate({} {}) rotate({north_deg:.1})\"><path d=\"M0 -5 2 2.2 0 1 -2 2.2Z\"/>\
         <text y=\"6\" text-anchor=\"middle\" font-size=\"3.18\">{}</text></g>\n",
        mm(x),
        mm(y),
        say!("N"; "north, beside an arrow")
    ));
}

#[cfg(test)]
mod tests;
