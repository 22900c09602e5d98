//! The neighbour view on the canvas: rings of distance, lines to the neighbours, their distances.

use js_sys::Array;
use scene::{Ink, NeighbourPicture, Way, mark_radius_px};
use wasm_bindgen::JsValue;
use web_sys::CanvasRenderingContext2d as Pen;

use super::super::painter::Picture;
use super::NAME_FONT;
use super::pen::{ring, written};

/// Draws what the scene has set.
pub(super) fn draw(pen: &Pen, picture: &Picture<'_>, neighbours: &NeighbourPicture) {
    let (line, faint, paper) = (
        picture.theme.hex(Ink::Line),
        picture.theme.hex(Ink::Faint),
        picture.theme.hex(Ink::Paper),
    );
    for one in &neighbours.rings {
        ring(pen, neighbours.middle, one.radius_px, 1.0, &faint);
    }
    let radius = mark_radius_px(picture.ground, &picture.camera);
    for way in &neighbours.ways {
        let stroke = way.stroke;
        draw_way(pen, way, stroke.width_px + 3.0, &[], &paper);
        draw_way(pen, way, stroke.width_px, stroke.dash, &line);
        if stroke.core_px > 0.0 {
            draw_way(pen, way, stroke.core_px, &[], &paper);
        }
        ring(pen, way.mark, radius + 2.5, 1.5, &line);
    }
    pen.set_font(NAME_FONT);
    pen.set_text_align("center");
    for one in &neighbours.rings {
        if let Some(at) = one.label_at {
            written(pen, &one.label, at, &line, &paper);
        }
    }
    for (distance, at) in &neighbours.distances {
        written(pen, distance, *at, &line, &paper);
    }
}

fn draw_way(pen: &Pen, way: &Way, width: f64, dash: &[f64], ink: &str) {
    let dash: Array = dash.iter().map(|px| JsValue::from_f64(*px)).collect();
    let _ = pen.set_line_dash(&dash);
    pen.set_line_width(width);
    pen.set_stroke_style_str(ink);
    pen.begin_path();
    pen.move_to(way.start.x, way.start.y);
    pen.quadratic_curve_to(way.bow.x, way.bow.y, way.end.x, way.end.y);
    pen.stroke();
    let _ = pen.set_line_dash(&Array::new());
}
