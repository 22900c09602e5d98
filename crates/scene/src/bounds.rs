//! The box, along the rows and across them, in which all trees stand.

use plot::Spot;

/// A box in the plot's plane, metres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bounds {
    /// Its corner of least x and y.
    pub least: Spot,
    /// Its corner of most x and y.
    pub most: Spot,
}

impl Bounds {
    /// Around spots; a box at the origin when there is none.
    pub fn around(spots: impl IntoIterator<Item = Spot>) -> Self {
        let mut spots = spots.into_iter();
        let first = spots.next().unwrap_or(Spot { x_m: 0.0, y_m: 0.0 });
        spots.fold(Self { least: first, most: first }, |bounds, spot| Self {
            least: Spot {
                x_m: bounds.least.x_m.min(spot.x_m),
                y_m: bounds.least.y_m.min(spot.y_m),
            },
            most: Spot { x_m: bounds.most.x_m.max(spot.x_m), y_m: bounds.most.y_m.max(spot.y_m) },
        })
    }

    /// Larger by `margin_m` on each side.
    pub fn grown(self, margin_m: f64) -> Self {
        let moved = |spot: Spot, by_m: f64| Spot { x_m: spot.x_m + by_m, y_m: spot.y_m + by_m };
        Self { least: moved(self.least, -margin_m), most: moved(self.most, margin_m) }
    }

    /// Extent along the rows.
    pub fn along_m(self) -> f64 {
        self.most.x_m - self.least.x_m
    }

    /// Extent across the rows.
    pub fn across_m(self) -> f64 {
        self.most.y_m - self.least.y_m
    }

    /// Its middle.
    pub fn middle(self) -> Spot {
        Spot {
            x_m: (self.least.x_m + self.most.x_m) / 2.0,
            y_m: (self.least.y_m + self.most.y_m) / 2.0,
        }
    }

    /// The spot within it that is nearest to `spot`.
    pub fn nearest(self, spot: Spot) -> Spot {
        Spot {
            x_m: spot.x_m.clamp(self.least.x_m, self.most.x_m),
            y_m: spot.y_m.clamp(self.least.y_m, self.most.y_m),
        }
    }

    /// Its four corners.
    pub fn corners(self) -> [Spot; 4] {
        let Self { least, most } = self;
        [
            least,
            Spot { x_m: most.x_m, y_m: least.y_m },
            most,
            Spot { x_m: least.x_m, y_m: most.y_m },
        ]
    }
}
