//! The outlines of marks, as numbers that both the rasteriser and the SVG draw from.
//!
//! All lengths are in radii of the mark, x rightwards and y downwards from its middle.

/// The outline of a mark.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Shape {
    /// A full disc.
    Disc,
    /// An open ring.
    Ring,
    /// A disc with a dark point in it.
    Eye,
    /// A disc of which only the left half is filled.
    HalfDisc,
    /// A small disc.
    Dot,
    /// Two crossing strokes.
    Cross,
    /// The lower half of a ring.
    HalfRing,
    /// A ring of dashes.
    BrokenRing,
    /// A ring with a bar through it.
    BarredRing,
    /// A ring with one gap, at the upper right, and a point in the gap.
    GapRing,
    /// A triangle pointing up.
    Triangle,
    /// A triangle pointing down.
    Wedge,
    /// A triangle pointing up with a point in it.
    DottedTriangle,
    /// A triangle pointing down with a point in it.
    DottedWedge,
    /// A square.
    Square,
    /// A square on its corner.
    Diamond,
    /// A hexagon.
    Hexagon,
    /// A star of five points.
    Star,
    /// A thick plus.
    Plus,
}

/// What is filled, and outlined all around.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Body {
    /// A circle of a radius.
    Circle(f32),
    /// The left half is filled with the mark's ink, the right half with paper.
    HalfCircle(f32),
    /// A closed line.
    Polygon(&'static [[f32; 2]]),
    /// Nothing.
    None,
}

/// A stroke of the outline's width and ink, on top of the body.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Stroke {
    /// Part of a circle of radius `r`, from `from_deg` over `sweep_deg`, clockwise from rightwards.
    Arc { r: f32, from_deg: f32, sweep_deg: f32 },
    /// A straight line.
    Line { from: [f32; 2], to: [f32; 2] },
    /// A filled point.
    Point { at: [f32; 2], r: f32 },
}

const TRIANGLE: [[f32; 2]; 3] = [[0.0, -1.2], [1.09, 0.75], [-1.09, 0.75]];
const WEDGE: [[f32; 2]; 3] = [[0.0, 1.2], [-1.09, -0.75], [1.09, -0.75]];
const SQUARE: [[f32; 2]; 4] = [[-0.86, -0.86], [0.86, -0.86], [0.86, 0.86], [-0.86, 0.86]];
const DIAMOND: [[f32; 2]; 4] = [[0.0, -1.2], [1.2, 0.0], [0.0, 1.2], [-1.2, 0.0]];
const HEXAGON: [[f32; 2]; 6] =
    [[-0.52, -0.9], [0.52, -0.9], [1.04, 0.0], [0.52, 0.9], [-0.52, 0.9], [-1.04, 0.0]];
const STAR: [[f32; 2]; 10] = [
    [0.0, -1.25],
    [0.346, -0.476],
    [1.189, -0.386],
    [0.559, 0.182],
    [0.735, 1.011],
    [0.0, 0.588],
    [-0.735, 1.011],
    [-0.559, 0.182],
    [-1.189, -0.386],
    [-0.346, -0.476],
];
const PLUS: [[f32; 2]; 12] = [
    [-0.38, -1.05],
    [0.38, -1.05],
    [0.38, -0.38],
    [1.05, -0.38],
    [1.05, 0.38],
    [0.38, 0.38],
    [0.38, 1.05],
    [-0.38, 1.05],
    [-0.38, 0.38],
    [-1.05, 0.38],
    [-1.05, -0.38],
    [-0.38, -0.38],
];
const DASHES: [Stroke; 6] =
    [dash(0.0), dash(60.0), dash(120.0), dash(180.0), dash(240.0), dash(300.0)];

const fn dash(from_deg: f32) -> Stroke {
    Stroke::Arc { r: 0.95, from_deg, sweep_deg: 34.0 }
}

impl Shape {
    /// What it is drawn from.
    pub(crate) fn parts(self) -> (Body, &'static [Stroke]) {
        match self {
            Self::Disc | Self::Ring => (Body::Circle(1.0), &[]),
            Self::Eye => (Body::Circle(1.0), &[Stroke::Point { at: [0.0, 0.0], r: 0.36 }]),
            Self::HalfDisc => {
                (Body::HalfCircle(1.0), &[Stroke::Line { from: [0.0, -1.0], to: [0.0, 1.0] }])
            }
            Self::Dot => (Body::None, &[Stroke::Point { at: [0.0, 0.0], r: 0.6 }]),
            Self::Cross => (
                Body::None,
                &[
                    Stroke::Line { from: [-0.9, -0.9], to: [0.9, 0.9] },
                    Stroke::Line { from: [-0.9, 0.9], to: [0.9, -0.9] },
                ],
            ),
            Self::HalfRing => (
                Body::None,
                &[
                    Stroke::Arc { r: 0.95, from_deg: 0.0, sweep_deg: 180.0 },
                    Stroke::Line { from: [-0.95, 0.0], to: [0.95, 0.0] },
                ],
            ),
            Self::BrokenRing => (Body::None, &DASHES),
            Self::BarredRing => (
                Body::None,
                &[
                    Stroke::Arc { r: 0.95, from_deg: 0.0, sweep_deg: 360.0 },
                    Stroke::Line { from: [-0.67, 0.67], to: [0.67, -0.67] },
                ],
            ),
            Self::GapRing => (
                Body::None,
                &[
                    Stroke::Arc { r: 0.95, from_deg: 0.0, sweep_deg: 270.0 },
                    Stroke::Point { at: [0.67, -0.67], r: 0.2 },
                ],
            ),
            Self::Triangle => (Body::Polygon(&TRIANGLE), &[]),
            Self::Wedge => (Body::Polygon(&WEDGE), &[]),
            Self::DottedTriangle => {
                (Body::Polygon(&TRIANGLE), &[Stroke::Point { at: [0.0, 0.1], r: 0.3 }])
            }
            Self::DottedWedge => {
                (Body::Polygon(&WEDGE), &[Stroke::Point { at: [0.0, -0.1], r: 0.3 }])
            }
            Self::Square => (Body::Polygon(&SQUARE), &[]),
            Self::Diamond => (Body::Polygon(&DIAMOND), &[]),
            Self::Hexagon => (Body::Polygon(&HEXAGON), &[]),
            Self::Star => (Body::Polygon(&STAR), &[]),
            Self::Plus => (Body::Polygon(&PLUS), &[]),
        }
    }
}

impl Body {
    /// Signed distance of a point to the outline, negative inside.
    pub(crate) fn distance(self, at: [f32; 2]) -> f32 {
        match self {
            Self::Circle(r) | Self::HalfCircle(r) => length(at) - r,
            Self::Polygon(corners) => to_polygon(corners, at),
            Self::None => f32::MAX,
        }
    }
}

impl Stroke {
    /// Distance of a point to what is stroked, less `half_width`: negative within the stroke.
    pub(crate) fn distance(self, at: [f32; 2], half_width: f32) -> f32 {
        match self {
            Self::Point { at: middle, r } => length([at[0] - middle[0], at[1] - middle[1]]) - r,
            Self::Line { from, to } => to_segment(from, to, at) - half_width,
            Self::Arc { r, from_deg, sweep_deg } => {
                let end = |deg: f32| {
                    let angle = deg.to_radians();
                    [r * libm::cosf(angle), r * libm::sinf(angle)]
                };
                let angle_deg = libm::atan2f(at[1], at[0]).to_degrees();
                let along = (angle_deg - from_deg).rem_euclid(360.0);
                let away = if along <= sweep_deg {
                    libm::fabsf(length(at) - r)
                } else {
                    let to = |corner: [f32; 2]| length([at[0] - corner[0], at[1] - corner[1]]);
                    to(end(from_deg)).min(to(end(from_deg + sweep_deg)))
                };
                away - half_width
            }
        }
    }
}

fn length(v: [f32; 2]) -> f32 {
    (v[0] * v[0] + v[1] * v[1]).sqrt()
}

fn to_segment(from: [f32; 2], to: [f32; 2], at: [f32; 2]) -> f32 {
    let (dx, dy) = (to[0] - from[0], to[1] - from[1]);
    let (px, py) = (at[0] - from[0], at[1] - from[1]);
    let way = ((px * dx + py * dy) / (dx * dx + dy * dy)).clamp(0.0, 1.0);
    length([px - way * dx, py - way * dy])
}

fn to_polygon(corners: &[[f32; 2]], at: [f32; 2]) -> f32 {
    let mut nearest = f32::MAX;
    let mut inside = false;
    for (nth, &from) in corners.iter().enumerate() {
        let to = corners[(nth + 1) % corners.len()];
        nearest = nearest.min(to_segment(from, to, at));
        // Even–odd rule: a ray to the right crosses this side.
        if (from[1] > at[1]) != (to[1] > at[1]) {
            let crossing = from[0] + (at[1] - from[1]) / (to[1] - from[1]) * (to[0] - from[0]);
            inside ^= at[0] < crossing;
        }
    }
    if inside { -nearest } else { nearest }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn distances_are_negative_inside() {
        for shape in [Shape::Disc, Shape::Triangle, Shape::Square, Shape::Star, Shape::Plus] {
            let (body, _) = shape.parts();
            assert!(body.distance([0.0, 0.0]) < -0.2, "{shape:?}");
            assert!(body.distance([3.0, 0.0]) > 1.0, "{shape:?}");
        }
        assert!((Body::Polygon(&SQUARE).distance([2.0, 0.0]) - 1.14).abs() < 1e-6);
    }

    #[test]
    fn shapes_are_of_about_the_same_area() {
        // Counted on a fine grid; a disc has π.
        for shape in [Shape::Triangle, Shape::Wedge, Shape::Square, Shape::Diamond, Shape::Hexagon]
        {
            let (body, _) = shape.parts();
            let steps = -150..150;
            let inside =
                |nth: &(i32, i32)| body.distance([nth.0 as f32 * 0.01, nth.1 as f32 * 0.01]) < 0.0;
            let cells = steps.clone().flat_map(|x| steps.clone().map(move |y| (x, y)));
            let area = cells.filter(inside).count() as f32 * 1e-4;
            assert!((2.0..3.2).contains(&area), "{shape:?}: {area}");
        }
    }

    #[test]
    fn a_stroke_has_its_width() {
        let line = Stroke::Line { from: [-1.0, 0.0], to: [1.0, 0.0] };
        assert!((line.distance([0.0, 0.5], 0.2) - 0.3).abs() < 1e-6);
        let arc = Stroke::Arc { r: 1.0, from_deg: 0.0, sweep_deg: 90.0 };
        // y runs downwards: a quarter from the right to the bottom.
        assert!(arc.distance([0.7, 0.7], 0.1) < 0.0);
        assert!(arc.distance([0.7, -0.7], 0.1) > 0.5);
    }
}
