//! Rings of round distance around the chosen tree, and where on each its metres stand clear.

use crate::clear::ScreenBox;
use crate::labels::Setting;
use crate::neighbours::picture::Obstacles;
use crate::{Camera, Clear, Point, words};

/// A ring of one distance.
#[derive(Clone, Debug, PartialEq)]
pub struct Ring {
    /// The distance, metres.
    pub radius_m: f64,
    /// The same on the screen, CSS pixels.
    pub radius_px: f64,
    /// Its words: `2 m`.
    pub label: String,
    /// The middle of the words; none where the ring has no place for them on the screen.
    pub label_at: Option<Point>,
}

/// Least radius of the outermost ring, CSS pixels.
const LEAST_PX: f64 = 130.0;
/// Directions in which the metres may stand, degrees clockwise from rightwards, the best first.
const DIRECTIONS_DEG: [f64; 24] = [
    -45.0, -30.0, -60.0, -15.0, -75.0, 45.0, 30.0, 60.0, 15.0, 75.0, -135.0, -150.0, -120.0,
    -165.0, -105.0, 135.0, 150.0, 120.0, 165.0, 105.0, 0.0, 180.0, 90.0, -90.0,
];

/// Two to four rings around a point, as far as the farthest neighbour or as fits the screen.
pub(super) fn rings(
    camera: &Camera,
    middle: Point,
    farthest_m: f64,
    clear: &Clear,
    setting: Setting<'_>,
    obstacles: &mut Obstacles<'_>,
) -> Vec<Ring> {
    let frame = clear.frame(camera.viewport);
    let fits_px = [
        middle.x - frame.left,
        frame.right - middle.x,
        middle.y - frame.top,
        frame.bottom - middle.y,
    ];
    let fits_px = fits_px.into_iter().fold(LEAST_PX, f64::max);
    let most_px = (farthest_m * camera.px_per_m * 1.02).clamp(LEAST_PX, fits_px);
    let mut before = None;
    radii_m(most_px / camera.px_per_m)
        .map(|radius_m| {
            let radius_px = radius_m * camera.px_per_m;
            let label = words::metres(radius_m);
            let (width, height) = ((setting.width_px)(&label) + 6.0, setting.line_px);
            let at = |deg: f64| {
                let (sin, cos) = (libm::sin(deg.to_radians()), libm::cos(deg.to_radians()));
                Point { x: middle.x + radius_px * cos, y: middle.y + radius_px * sin }
            };
            let words_box = |deg: f64| ScreenBox::of_size(at(deg), width, height);
            let clear = |deg: &f64| clear.holds(camera.viewport, words_box(*deg));
            // In line with the ring within, where that costs nothing.
            let directions = before.into_iter().chain(DIRECTIONS_DEG);
            let best = directions.filter(clear).min_by_key(|deg| obstacles.cost(words_box(*deg)));
            if let Some(deg) = best {
                before = Some(deg);
                obstacles.words.push(words_box(deg));
            }
            Ring { radius_m, radius_px, label, label_at: best.map(at) }
        })
        .collect()
}

/// Two to four radii of equal steps, 1, 2 or 5 times a power of ten, none above `most_m`.
fn radii_m(most_m: f64) -> impl Iterator<Item = f64> {
    let power = libm::pow(10.0, libm::floor(libm::log10(most_m)) - 1.0);
    let steps = [1.0, 2.0, 5.0, 10.0, 20.0, 50.0].map(|times| times * power);
    // A step before this one would make five rings or more.
    let step_m = steps.into_iter().find(|step| most_m / step < 5.0).unwrap_or(most_m / 2.0);
    let count = libm::floor(most_m / step_m * (1.0 + 1e-12)) as u32;
    (1..=count).map(move |nth| f64::from(nth) * step_m)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn radii_are_round_and_two_to_four() {
        let radii = |most_m: f64| radii_m(most_m).collect::<Vec<f64>>();
        assert_eq!(radii(3.15), [1.0, 2.0, 3.0]);
        assert_eq!(radii(4.99), [1.0, 2.0, 3.0, 4.0]);
        assert_eq!(radii(5.0), [2.0, 4.0]);
        assert_eq!(radii(9.9), [2.0, 4.0, 6.0, 8.0]);
        assert_eq!(radii(10.0), [5.0, 10.0]);
        assert_eq!(radii(24.0), [5.0, 10.0, 15.0, 20.0]);
        let close = |a: f64, b: f64| assert!((a - b).abs() < 1e-12, "{a} {b}");
        close(radii(0.7)[0], 0.2);
        let mut most_m = 0.05;
        while most_m < 500.0 {
            let radii = radii(most_m);
            assert!((2..=4).contains(&radii.len()), "{most_m}: {radii:?}");
            assert!(radii.iter().all(|radius| *radius <= most_m * (1.0 + 1e-9)));
            most_m *= 1.013;
        }
    }
}
