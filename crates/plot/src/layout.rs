//! The planting grid and positions in metres.

use language::say;
use serde::{Deserialize, Serialize};

use crate::Refusal;

/// A position in the plot's own plane, in metres; finite by construction within a plot.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Spot {
    /// Along the row, in the direction in which places rise.
    pub x_m: f64,
    /// Across the rows, 90° to the left of `x_m`.
    pub y_m: f64,
}

impl Spot {
    /// Distance in metres, `sqrt(dx² + dy²)` (the same on every target).
    pub fn distance_m(self, other: Self) -> f64 {
        let (dx, dy) = (self.x_m - other.x_m, self.y_m - other.y_m);
        (dx * dx + dy * dy).sqrt()
    }

    /// The same to the millimetre, and 0 without a sign: finer than any tape or receiver tells.
    pub fn to_mm(self) -> Self {
        let round = |metres: f64| (metres * 1000.0).round() / 1000.0 + 0.0;
        Self { x_m: round(self.x_m), y_m: round(self.y_m) }
    }
}

/// The planting grid: spacing in metres and the numbers at which rows and places begin.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Layout {
    /// Distance between neighbouring rows.
    pub row_spacing_m: f64,
    /// Distance between neighbouring places of a row.
    pub place_spacing_m: f64,
    /// Number of the row at y = 0.
    #[serde(default = "one")]
    pub first_row: i32,
    /// Number of the place at x = 0.
    #[serde(default = "one")]
    pub first_place: i32,
}

fn one() -> i32 {
    1
}

impl Layout {
    /// Where a place of a row lies.
    pub fn spot(&self, row: i32, place: i32) -> Spot {
        let steps = |number: i32, first: i32| (i64::from(number) - i64::from(first)) as f64;
        Spot {
            x_m: steps(place, self.first_place) * self.place_spacing_m,
            y_m: steps(row, self.first_row) * self.row_spacing_m,
        }
    }

    /// # Errors
    /// A spacing that is not a finite number of metres above zero and at most 1000.
    pub(crate) fn check(&self) -> Result<(), Refusal> {
        for (field, spacing_m) in [
            ("layout.row_spacing_m", self.row_spacing_m),
            ("layout.place_spacing_m", self.place_spacing_m),
        ] {
            if !(spacing_m > 0.0 && spacing_m <= 1000.0) {
                return Err(Refusal::new(
                    field,
                    spacing_m.to_string(),
                    say!("metres above 0 and at most 1000"),
                ));
            }
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_run_along_x_and_rows_along_y() {
        let layout =
            Layout { row_spacing_m: 3.0, place_spacing_m: 0.75, first_row: 1, first_place: 1 };
        assert_eq!(layout.spot(1, 1), Spot { x_m: 0.0, y_m: 0.0 });
        assert_eq!(layout.spot(3, 5), Spot { x_m: 3.0, y_m: 6.0 });
        assert_eq!(layout.spot(0, -1), Spot { x_m: -1.5, y_m: -3.0 });
    }

    #[test]
    fn a_spot_to_the_millimetre_has_no_sign_of_nothing() {
        let spot = Spot { x_m: 1.234_56, y_m: -0.000_4 }.to_mm();
        assert_eq!((spot.x_m.to_string(), spot.y_m.to_string()), ("1.235".into(), "0".into()));
    }
}
