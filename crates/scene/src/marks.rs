//! How large marks are drawn.

use crate::{Camera, Ground};

/// Largest radius of an ordinary mark, CSS pixels.
const MOST_PX: f64 = 13.0;
/// Radius below which a mark cannot be told any more, CSS pixels; it is drawn so large as long as
/// the ground has room for it.
const LEAST_PX: f64 = 1.4;

/// Radius of an ordinary mark, CSS pixels: a mark does not touch the next one in its row as long
/// as it can be told; farther out rows run together, and a pixel shows the mix of its trees.
pub fn mark_radius_px(ground: &Ground, camera: &Camera) -> f64 {
    let own_px = 0.42 * ground.spacing_m() * camera.px_per_m;
    let room_px = 0.34 * ground.cell_m() * camera.px_per_m;
    own_px.max(room_px.min(LEAST_PX)).min(MOST_PX)
}

/// Size of a graft's mark, 1 for the ordinary one.
pub(crate) const GRAFT_SIZE: f32 = 0.62;

/// Width of an outline around a mark of a radius, both in the same unit; `ratio` is device pixels
/// for a CSS pixel, 1 where the radius is in CSS pixels.
pub(crate) fn line_width(radius: f64, ratio: f64) -> f64 {
    (radius * 0.2).min(1.3 * ratio)
}
