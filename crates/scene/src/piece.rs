//! A mark as paths with their paint, for whoever draws vectors: the SVG page and the legend.

use crate::marks::line_width;
use crate::shape::{Body, Stroke};
use crate::{Ink, Look, Theme};

/// One path of a mark; pieces are drawn in order.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// Path data of SVG, around (0, 0).
    pub path: String,
    /// Colour of its inside, or `none`.
    pub fill: String,
    /// Colour and width of its line.
    pub line: Option<(String, f64)>,
}

/// The pieces of a mark whose ordinary radius is `radius`.
pub fn pieces(look: Look, radius: f64, theme: Theme) -> Vec<Piece> {
    let radius = radius * f64::from(look.size);
    let width = line_width(radius, 1.0);
    let (body, strokes) = look.shape.parts();
    let outlined = |path: String, fill: Ink| Piece {
        path,
        fill: theme.hex(fill),
        line: Some((theme.hex(look.line), width)),
    };
    let mut pieces = Vec::new();
    match body {
        Body::None => {}
        Body::Circle(r) => pieces.push(outlined(circle([0.0, 0.0], r, radius), look.fill)),
        Body::HalfCircle(r) => {
            pieces.push(outlined(circle([0.0, 0.0], r, radius), Ink::Paper));
            let half = format!("{}Z", arc(r, 90.0, 180.0, radius));
            pieces.push(outlined(half, look.fill));
        }
        Body::Polygon(corners) => {
            let corners: Vec<String> = corners.iter().map(|at| point(*at, radius)).collect();
            pieces.push(outlined(format!("M{}Z", corners.join(" ")), look.fill));
        }
    }
    let ink = theme.hex(look.stroke_ink(theme));
    let drawn =
        |path: String| Piece { path, fill: "none".to_owned(), line: Some((ink.clone(), width)) };
    pieces.extend(strokes.iter().map(|stroke| match *stroke {
        Stroke::Line { from, to } => {
            drawn(format!("M{} {}", point(from, radius), point(to, radius)))
        }
        Stroke::Point { at, r } => {
            Piece { path: circle(at, r, radius), fill: ink.clone(), line: None }
        }
        Stroke::Arc { r, sweep_deg, .. } if sweep_deg >= 360.0 => {
            drawn(circle([0.0, 0.0], r, radius))
        }
        Stroke::Arc { r, from_deg, sweep_deg } => drawn(arc(r, from_deg, sweep_deg, radius)),
    }));
    pieces
}

fn circle(at: [f32; 2], r: f32, radius: f64) -> String {
    let left = point([at[0] - r, at[1]], radius);
    let r = f64::from(r) * radius;
    format!("M{left}a{r:.2} {r:.2} 0 1 0 {:.2} 0a{r:.2} {r:.2} 0 1 0 {:.2} 0Z", 2.0 * r, -2.0 * r)
}

fn arc(r: f32, from_deg: f32, sweep_deg: f32, radius: f64) -> String {
    let end = |deg: f32| {
        let angle = deg.to_radians();
        point([r * libm::cosf(angle), r * libm::sinf(angle)], radius)
    };
    let large = u8::from(sweep_deg > 180.0);
    let (from, to) = (end(from_deg), end(from_deg + sweep_deg));
    format!("M{from}A{r:.2} {r:.2} 0 {large} 1 {to}", r = f64::from(r) * radius)
}

fn point(at: [f32; 2], radius: f64) -> String {
    format!("{:.2} {:.2}", f64::from(at[0]) * radius, f64::from(at[1]) * radius)
}
