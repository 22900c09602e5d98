//! The few things that a pen draws: a ring, a plate, words with a rim.

use scene::Point;
use web_sys::CanvasRenderingContext2d as Pen;

pub(super) fn ring(pen: &Pen, at: Point, radius: f64, width: f64, ink: &str) {
    pen.set_line_width(width);
    pen.set_stroke_style_str(ink);
    pen.begin_path();
    let _ = pen.arc(at.x, at.y, radius, 0.0, std::f64::consts::TAU);
    pen.stroke();
}

/// A plate with round ends under words.
pub(super) fn pill(pen: &Pen, at: Point, width: f64, height: f64, ink: &str, paper: &str) {
    let (half, radius) = (width.max(height) / 2.0, height / 2.0);
    let quarter = std::f64::consts::FRAC_PI_2;
    pen.begin_path();
    let _ = pen.arc(at.x + half - radius, at.y, radius, -quarter, quarter);
    let _ = pen.arc(at.x - half + radius, at.y, radius, quarter, 3.0 * quarter);
    pen.close_path();
    pen.set_fill_style_str(paper);
    pen.fill();
    pen.set_line_width(1.0);
    pen.set_stroke_style_str(ink);
    pen.stroke();
}

/// Words with a rim of paper, so that they can be read over anything.
pub(super) fn written(pen: &Pen, text: &str, at: Point, ink: &str, paper: &str) {
    pen.set_line_width(3.5);
    pen.set_stroke_style_str(paper);
    let _ = pen.stroke_text(text, at.x, at.y);
    pen.set_fill_style_str(ink);
    let _ = pen.fill_text(text, at.x, at.y);
}
