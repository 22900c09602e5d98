//! Lines and words over the marks: row numbers, names, the chosen tree with its neighbours, the
//! tree under the mouse.

use scene::{
    Camera, Ink, Label, NeighbourView, Point, Setting, Tells, labels as place_labels,
    mark_radius_px, row_numbers, words,
};
use web_sys::CanvasRenderingContext2d as Pen;

use super::painter::Picture;

const NAME_FONT: &str = "12px system-ui, sans-serif";
const ROW_FONT: &str = "600 13px system-ui, sans-serif";
const LOUD_FONT: &str = "600 15px system-ui, sans-serif";

/// Names that stand clear of each other, those of `before` first.
pub fn labels(pen: &Pen, picture: &Picture<'_>, before: &[Label]) -> Vec<Label> {
    pen.set_font(NAME_FONT);
    let width_px = |text: &str| pen.measure_text(text).map_or(0.0, |size| size.width());
    let setting = Setting { line_px: 14.0, width_px: &width_px };
    let rows: Vec<Point> = row_numbers(picture.ground.rows(), &picture.camera)
        .into_iter()
        .map(|number| number.at)
        .collect();
    let Picture { plot, ground, sheet, camera, .. } = picture;
    place_labels(plot, ground, sheet, camera, setting, &rows, before)
}

/// Draws everything; labels were set for the camera `labelled`.
pub fn draw(pen: &Pen, picture: &Picture<'_>, labels: &[Label], labelled: &Camera) {
    let ink = |ink| picture.theme.hex(ink);
    pen.set_text_baseline("middle");
    pen.set_line_join("round");
    pen.set_line_cap("round");

    if let Some(view) = picture.neighbours.filter(|view| Some(view.of) == picture.chosen) {
        links(pen, picture, view);
    }
    pen.set_font(ROW_FONT);
    pen.set_text_align("center");
    for number in row_numbers(picture.ground.rows(), &picture.camera) {
        written(pen, &number.row.to_string(), number.at, &ink(Ink::Line), &ink(Ink::Paper));
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

/// Lines to the neighbours, thick to those that took the disease, broken to those that tell
/// nothing, with distances where there is room. A line that would run over another neighbour bows
/// round it.
fn links(pen: &Pen, picture: &Picture<'_>, view: &NeighbourView) {
    let line = picture.theme.hex(Ink::Line);
    let paper = picture.theme.hex(Ink::Paper);
    let radius = mark_radius_px(picture.ground, &picture.camera);
    let on_screen = |tree| picture.camera.screen_from_plot(picture.ground.spot(tree));
    let from = on_screen(view.of);
    let ends: Vec<Point> = view.links.iter().map(|link| on_screen(link.tree)).collect();
    let mut written_at: Vec<Point> = Vec::new();
    let mut distances = Vec::new();
    for (nth, (link, &to)) in view.links.iter().zip(&ends).enumerate() {
        let length = from.distance(to);
        if length < radius * 2.0 {
            continue;
        }
        let others = ends.iter().enumerate().filter(|(other, _)| *other != nth);
        let blocked = others.filter(|(_, other)| lies_on(from, to, **other, radius)).count();
        let way = Way::between(from, to, radius, blocked);
        let (width, dash): (f64, &[f64]) = match link.tells {
            Tells::Infected => (3.5, &[]),
            Tells::CouldHave => (1.5, &[]),
            Tells::NoWitness => (1.5, &[5.0, 5.0]),
            Tells::Unknown => (1.5, &[0.5, 5.0]),
        };
        way.stroke(pen, width + 3.0, &[], &paper);
        way.stroke(pen, width, dash, &line);
        ring(pen, to, radius + 2.5, 1.5, &line);
        let at = way.middle();
        if length > 56.0 && written_at.iter().all(|other| other.distance(at) > 30.0) {
            written_at.push(at);
            distances.push((words::metres(link.distance_m), at));
        }
    }
    pen.set_font(NAME_FONT);
    pen.set_text_align("center");
    for (distance, at) in distances {
        written(pen, &distance, at, &line, &paper);
    }
}

/// Whether a point between two others lies so near to the line that a mark there would be hidden.
fn lies_on(from: Point, to: Point, other: Point, radius: f64) -> bool {
    let length = from.distance(to);
    let (right, down) = ((to.x - from.x) / length, (to.y - from.y) / length);
    let (dx, dy) = (other.x - from.x, other.y - from.y);
    let (along, aside) = (dx * right + dy * down, (dx * down - dy * right).abs());
    along > radius && along < length - radius && aside < radius
}

/// The way from the chosen tree to a neighbour: straight, or bowed about a point.
struct Way {
    start: Point,
    bow: Point,
    end: Point,
}

impl Way {
    /// Between the edges of two marks, bowed the more, the more marks lie on the straight line.
    fn between(from: Point, to: Point, radius: f64, blocked: usize) -> Self {
        let length = from.distance(to);
        let (right, down) = ((to.x - from.x) / length, (to.y - from.y) / length);
        let aside = if blocked == 0 { 0.0 } else { radius * (3.2 + 1.6 * blocked as f64) };
        let middle = from.midway(to);
        let bow = Point { x: middle.x + down * aside, y: middle.y - right * aside };
        let towards = |at: Point, px: f64| {
            let away = at.distance(bow).max(1.0);
            Point { x: at.x + (bow.x - at.x) * px / away, y: at.y + (bow.y - at.y) * px / away }
        };
        Self { start: towards(from, radius * 1.25 + 5.0), bow, end: towards(to, radius + 3.0) }
    }

    fn middle(&self) -> Point {
        self.start.midway(self.end).midway(self.bow)
    }

    fn stroke(&self, pen: &Pen, width: f64, dash: &[f64], ink: &str) {
        let dash: js_sys::Array =
            dash.iter().map(|px| wasm_bindgen::JsValue::from_f64(*px)).collect();
        let _ = pen.set_line_dash(&dash);
        pen.set_line_width(width);
        pen.set_stroke_style_str(ink);
        pen.begin_path();
        pen.move_to(self.start.x, self.start.y);
        pen.quadratic_curve_to(self.bow.x, self.bow.y, self.end.x, self.end.y);
        pen.stroke();
        let _ = pen.set_line_dash(&js_sys::Array::new());
    }
}

fn ring(pen: &Pen, at: Point, radius: f64, width: f64, ink: &str) {
    pen.set_line_width(width);
    pen.set_stroke_style_str(ink);
    pen.begin_path();
    let _ = pen.arc(at.x, at.y, radius, 0.0, std::f64::consts::TAU);
    pen.stroke();
}

/// Words with a rim of paper, so that they can be read over anything.
fn written(pen: &Pen, text: &str, at: Point, ink: &str, paper: &str) {
    pen.set_line_width(3.5);
    pen.set_stroke_style_str(paper);
    let _ = pen.stroke_text(text, at.x, at.y);
    pen.set_fill_style_str(ink);
    let _ = pen.fill_text(text, at.x, at.y);
}
