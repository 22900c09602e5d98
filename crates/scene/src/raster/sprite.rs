//! One mark drawn once, with soft edges, and laid over pixels many times.

use super::Part;
use crate::marks::line_width;
use crate::shape::Body;
use crate::{Ink, Look, Rgb, Theme};

/// A square of premultiplied pixels.
#[derive(Clone, Debug, Default)]
pub(super) struct Sprite {
    side: usize,
    pixels: Vec<[u8; 4]>,
    /// By row: first pixel that is not empty, the stretch that hides what is below, and the end.
    spans: Vec<[u8; 4]>,
}

/// Radius below which a mark is drawn fainter instead of smaller, device pixels.
const FAINTER_BELOW: f32 = 0.75;

impl Sprite {
    /// A mark of `radius` device pixels, moved by a fraction of a pixel.
    pub(super) fn draw(
        look: Look,
        radius: f32,
        ratio: f32,
        theme: Theme,
        (dx, dy): (f32, f32),
    ) -> Self {
        let drawn = radius.max(FAINTER_BELOW);
        let strength = (radius / drawn) * (radius / drawn);
        let width = line_width(f64::from(drawn), f64::from(ratio)) as f32;
        let middle = (drawn * 1.3 + width + 1.0).ceil();
        let side = middle as usize * 2 + 1;
        let mut sprite = Self { side, pixels: Vec::with_capacity(side * side), spans: Vec::new() };
        for y in 0..side {
            for x in 0..side {
                let at = [(x as f32 - middle - dx) / drawn, (y as f32 - middle - dy) / drawn];
                sprite.pixels.push(pixel(look, at, drawn, width, strength, theme));
            }
        }
        let spans = sprite.pixels.chunks_exact(side).map(span).collect();
        Self { spans, ..sprite }
    }

    /// Pixels from its corner to its middle.
    pub(super) fn middle(&self) -> i32 {
        (self.side / 2) as i32
    }

    /// How far it reaches from its middle.
    pub(super) fn reach(&self) -> f32 {
        self.side as f32 / 2.0
    }

    /// Lays it over a part of `pixels`, whose rows are `width` long; its upper left corner at
    /// `left`, `top`.
    pub(super) fn lay(
        &self,
        pixels: &mut [[u8; 4]],
        width: usize,
        part: Part,
        left: i32,
        top: i32,
    ) {
        let side = self.side as i32;
        let inside = left >= part.x.0 && left + side <= part.x.1;
        let rows = (part.y.0 - top).clamp(0, side)..(part.y.1 - top).clamp(0, side);
        for y in rows {
            let [first, solid, solid_end, end] = self.spans[y as usize].map(usize::from);
            let from = &self.pixels[y as usize * self.side..][..self.side];
            let onto = &mut pixels[(top + y) as usize * width..][..width];
            if inside {
                let onto = &mut onto[left as usize..][..self.side];
                blend(&from[first..solid], &mut onto[first..solid]);
                onto[solid..solid_end].copy_from_slice(&from[solid..solid_end]);
                blend(&from[solid_end..end], &mut onto[solid_end..end]);
            } else {
                let cut = (part.x.0 - left).clamp(first as i32, end as i32) as usize;
                let cut_end = (part.x.1 - left).clamp(cut as i32, end as i32) as usize;
                if cut < cut_end {
                    let at = (left + cut as i32) as usize;
                    blend(&from[cut..cut_end], &mut onto[at..at + cut_end - cut]);
                }
            }
        }
    }
}

fn span(row: &[[u8; 4]]) -> [u8; 4] {
    let first = row.iter().position(|pixel| pixel[3] > 0).unwrap_or(row.len());
    let end = row.iter().rposition(|pixel| pixel[3] > 0).map_or(first, |last| last + 1);
    let solid = row[first..end].iter().position(|pixel| pixel[3] == 255);
    let solid = solid.map_or(end, |nth| first + nth);
    let solid_end = row[solid..end].iter().position(|pixel| pixel[3] < 255);
    let solid_end = solid_end.map_or(end, |nth| solid + nth);
    [first, solid, solid_end, end].map(|nth| nth.min(255) as u8)
}

/// Source over destination, the source premultiplied, the destination solid.
fn blend(from: &[[u8; 4]], onto: &mut [[u8; 4]]) {
    for (over, under) in from.iter().zip(onto) {
        let clear = 255 - u32::from(over[3]);
        for channel in 0..3 {
            // Exact division by 255 of a product of two bytes.
            let part = u32::from(under[channel]) * clear + 128;
            under[channel] = over[channel] + ((part + (part >> 8)) >> 8) as u8;
        }
    }
}

/// One pixel of a mark: `at` in radii from the mark's middle.
fn pixel(
    look: Look,
    at: [f32; 2],
    radius: f32,
    width: f32,
    strength: f32,
    theme: Theme,
) -> [u8; 4] {
    let (body, strokes) = look.shape.parts();
    let half_width = width / 2.0 / radius;
    let covered = |distance: f32| (0.5 - distance * radius).clamp(0.0, 1.0);
    let mut mixed = [0.0_f32; 4];
    let mut over = |ink: Ink, alpha: f32| {
        let alpha = alpha * strength;
        let rgb: Rgb = theme.rgb(ink);
        for (mixed, channel) in mixed.iter_mut().zip(rgb.map(f32::from).into_iter().chain([255.0]))
        {
            *mixed = channel * alpha + *mixed * (1.0 - alpha);
        }
    };
    if body != Body::None {
        let edge = body.distance(at);
        let half = matches!(body, Body::HalfCircle(_));
        over(if half && at[0] > 0.0 { Ink::Paper } else { look.fill }, covered(edge));
        over(look.line, covered(edge.abs() - half_width));
    }
    let ink = look.stroke_ink(theme);
    for stroke in strokes {
        over(ink, covered(stroke.distance(at, half_width)));
    }
    mixed.map(|channel| channel.round() as u8)
}
