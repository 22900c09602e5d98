//! Lines and words over the marks: row numbers, what the ends of the rows are called, names, the
//! chosen tree with its neighbours, the tree under the mouse.

mod around;
mod pen;

use scene::{
    Camera, EndName, Ink, Label, NeighbourPicture, Point, RowNumber, Setting, end_names,
    labels as place_labels, mark_radius_px, neighbour_picture, row_numbers,
};
use web_sys::CanvasRenderingContext2d as Pen;

use super::painter::Picture;
use pen::{pill, ring, written};

/// Height of a line of words, CSS pixels.
const LINE_PX: f64 = 14.0;
const NAME_FONT: &str = "12px system-ui, sans-serif";
const ROW_FONT: &str = "600 13px system-ui, sans-serif";
const LOUD_FONT: &str = "600 15px system-ui, sans-serif";

/// What stands where over the marks, names aside.
pub struct Plan {
    rows: Vec<RowNumber>,
    ends: Vec<EndName>,
    neighbours: Option<NeighbourPicture>,
}

impl Plan {
    /// For a picture; the pen measures words.
    pub fn of(pen: &Pen, picture: &Picture<'_>) -> Self {
        let Picture { ground, camera, clear, .. } = picture;
        let width_px = width_px(pen);
        let setting = Setting { line_px: LINE_PX, width_px: &width_px };
        let view = picture.neighbours.filter(|view| Some(view.of) == picture.chosen);
        pen.set_font(NAME_FONT);
        let neighbours = view.map(|view| neighbour_picture(view, ground, camera, clear, setting));
        pen.set_font(ROW_FONT);
        Self {
            rows: row_numbers(ground.rows(), camera, clear),
            ends: end_names(ground.rows(), ground.ends(), camera, clear, setting),
            neighbours,
        }
    }

    /// Points that names keep clear of.
    fn taken(&self) -> Vec<Point> {
        let rows = self.rows.iter().map(|number| number.at);
        let neighbours = self.neighbours.iter().flat_map(NeighbourPicture::keep_clear);
        rows.chain(neighbours).collect()
    }
}

/// How wide the pen would write a text, CSS pixels.
fn width_px(pen: &Pen) -> impl Fn(&str) -> f64 {
    |text| pen.measure_text(text).map_or(0.0, |size| size.width())
}

/// Names that stand clear of each other and of the plan, those of `before` first.
pub fn labels(pen: &Pen, picture: &Picture<'_>, plan: &Plan, before: &[Label]) -> Vec<Label> {
    pen.set_font(NAME_FONT);
    let width_px = width_px(pen);
    let setting = Setting { line_px: LINE_PX, width_px: &width_px };
    let Picture { plot, ground, sheet, camera, .. } = picture;
    place_labels(plot, ground, sheet, camera, setting, &plan.taken(), before)
}

/// Draws everything; labels were set for the camera `labelled`.
pub fn draw(pen: &Pen, picture: &Picture<'_>, plan: &Plan, labels: &[Label], labelled: &Camera) {
    let ink = |ink| picture.theme.hex(ink);
    pen.set_text_baseline("middle");
    pen.set_line_join("round");
    pen.set_line_cap("round");

    if let Some(neighbours) = &plan.neighbours {
        around::draw(pen, picture, neighbours);
    }
    pen.set_font(NAME_FONT);
    pen.set_text_align("left");
    let loud = [picture.chosen, picture.hovered];
    for label in labels.iter().filter(|label| !loud.contains(&Some(label.tree))) {
        let spot = picture.ground.spot(label.tree);
        let (then, now) = (labelled.screen_from_plot(spot), picture.camera.screen_from_plot(spot));
        let at = Point { x: label.at.x + now.x - then.x, y: label.at.y + now.y - then.y };
        written(pen, &label.text, at, &ink(Ink::Line), &ink(Ink::Paper));
    }
    row_ends(pen, picture, plan);
    if let Some(tree) = picture.chosen {
        let at = picture.camera.screen_from_plot(picture.ground.spot(tree));
        let radius = mark_radius_px(picture.ground, &picture.camera) * 1.25 + 4.0;
        ring(pen, at, radius, 5.0, &ink(Ink::Paper));
        ring(pen, at, radius, 2.5, &ink(Ink::Line));
        name(pen, picture, tree, at, radius);
    }
    if let Some(tree) = picture.hovered.filter(|tree| Some(*tree) != picture.chosen) {
        let at = picture.camera.screen_from_plot(picture.ground.spot(tree));
        let radius = mark_radius_px(picture.ground, &picture.camera) + 3.0;
        ring(pen, at, radius, 1.5, &ink(Ink::Line));
        name(pen, picture, tree, at, radius);
    }
}

/// Row numbers, on a plate where they lie over their row, and the names of the ends.
fn row_ends(pen: &Pen, picture: &Picture<'_>, plan: &Plan) {
    let (line, faint, paper) = (
        picture.theme.hex(Ink::Line),
        picture.theme.hex(Ink::Faint),
        picture.theme.hex(Ink::Paper),
    );
    pen.set_font(ROW_FONT);
    pen.set_text_align("center");
    for number in &plan.rows {
        let text = number.row.to_string();
        if number.at_edge {
            pill(pen, number.at, text.len() as f64 * 8.0 + 8.0, 19.0, &faint, &paper);
        }
        written(pen, &text, number.at, &line, &paper);
    }
    for end in &plan.ends {
        pen.save();
        let _ = pen.translate(end.at.x, end.at.y);
        let _ = pen.rotate(end.turn_deg.to_radians());
        written(pen, &end.text, Point::default(), &line, &paper);
        pen.restore();
    }
}

/// The tree's name in large letters, above it or, at the upper edge, below.
fn name(pen: &Pen, picture: &Picture<'_>, tree: plot::TreeIx, at: Point, radius: f64) {
    let text = picture.plot.tree(tree).tag().unwrap_or(picture.plot.tree(tree).id().as_str());
    pen.set_font(LOUD_FONT);
    pen.set_text_align("center");
    let away = radius + 13.0;
    let y = if at.y - away < 10.0 { at.y + away } else { at.y - away };
    let (line, paper) = (picture.theme.hex(Ink::Line), picture.theme.hex(Ink::Paper));
    written(pen, text, Point { x: at.x, y }, &line, &paper);
}
