//! The scale bar: a round length that fits.

use language::say;

use crate::Camera;

/// A length in metres and how long it is on the screen.
#[derive(Clone, Debug, PartialEq)]
pub struct ScaleBar {
    /// 1, 2 or 5 times a power of ten, metres.
    pub length_m: f64,
    /// CSS pixels.
    pub length_px: f64,
    /// Its words: `20 m`, `50 cm`, `2 km`.
    pub label: String,
}

impl ScaleBar {
    /// The longest round length of at most `most_px`.
    pub fn of(camera: &Camera, most_px: f64) -> Self {
        let most_m = (most_px / camera.px_per_m).max(1e-6);
        let power = libm::pow(10.0, libm::floor(libm::log10(most_m)));
        let length_m = [10.0, 5.0, 2.0, 1.0]
            .into_iter()
            .map(|times| times * power)
            .find(|length_m| *length_m <= most_m * (1.0 + 1e-12))
            .unwrap_or(power);
        let label = if length_m >= 1000.0 {
            say!("{length:.0}\u{a0}km", length = length_m / 1000.0)
        } else if length_m >= 1.0 {
            say!("{length:.0}\u{a0}m", length = length_m)
        } else if length_m >= 0.01 {
            say!("{length:.0}\u{a0}cm", length = length_m * 100.0)
        } else {
            say!("{length:.3}\u{a0}mm", length = length_m * 1000.0)
        };
        Self { length_m, length_px: length_m * camera.px_per_m, label }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Viewport;
    use plot::Spot;

    #[test]
    fn lengths_are_round_and_fit() {
        for (px_per_m, label, length_px) in [
            (6.5, "10 m", 65.0),
            (1.0, "100 m", 100.0),
            (0.99, "100 m", 99.0),
            (1.01, "50 m", 50.5),
            (120.0, "50 cm", 60.0),
            (0.02, "5 km", 100.0),
        ] {
            let camera = Camera {
                centre: Spot { x_m: 0.0, y_m: 0.0 },
                px_per_m,
                turn_deg: 0.0,
                viewport: Viewport { width: 390.0, height: 700.0 },
            };
            let bar = ScaleBar::of(&camera, 100.0);
            assert_eq!(bar.label.replace('\u{a0}', " "), label);
            assert!((bar.length_px - length_px).abs() < 1e-9, "{bar:?}");
        }
    }
}
